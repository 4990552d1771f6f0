'use client'
// One dated piece: what it is, why it stands where it stands, its finish window against its date, its chance; and for
// the manager the answer to a request, the date moved, met or dropped.
import Link from 'next/link'
import { useState } from 'react'
import { dayNumber } from '#lib/base'
import type { DueRow } from '#lib/views'
import type { Records } from '#lib/words'
import { useWho } from '../_board/index.ts'
import { Button, FieldNumber, Notice } from '../_parts/controls/index.ts'
import { AxisRules, ChanceDots, FinishWindow, type Scale } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayChance, sayDate, sayDueKind, sayHours, sayWindow } from '../_text/index.ts'
import { tagDate } from '../floor/words.ts'
import { MoveDateDialog } from './move-date-dialog.tsx'

type DueItemProps = {
  readonly records: Records
  readonly row: DueRow
  readonly scale: Scale
  readonly axisWidth: number
  readonly left: number
  readonly today: string
}

/** The row. */
export function DueItem({ records, row, scale, axisWidth, left, today }: DueItemProps) {
  const { due } = row
  const asker = records.person.get(due.by)?.name
  const isWide = left > 0
  return (
    <li className={`border-b border-line ${isWide ? 'flex items-center' : 'pt-1 pb-2'}`}>
      <div className="flex min-w-0 flex-none gap-3 py-2" ref={(node) => setBasis(node, left)}>
        <Stone seed={due.pieceId} stage={row.stage} size={54} lengthM={row.lengthM} widthM={row.widthM} />
        <div className={`min-w-0 flex-1 ${isWide ? 'pr-3' : ''}`}>
          {isWide ? null : (
            <div className="float-right pb-1 pl-3 text-right">
              <Chance row={row} size="row" />
            </div>
          )}
          <Link href={`/sheet/${due.pieceId}`} className="underline-offset-4 hover:underline">
            <FieldNumber className="text-say">{row.number}</FieldNumber>{' '}
            <span className="named text-say">{row.name}</span>
          </Link>
          <p className="flex items-center gap-1.5 text-small text-wash">
            <Mark name={row.isAtRisk ? 'undercut' : 'plumb'} size={18} />
            {sayDueKind(due.kind)}, {sayDate(due.date, 'short')}
            {due.isHard ? '' : ', may move'}
          </p>
          {due.note === '' ? null : <p className="text-small text-wash">{capital(due.note)}</p>}
          <p className="text-small text-umber">{whyOf(row)}</p>
          {due.state === 'asked' ? <p className="text-small text-umber">Asked by {asker ?? 'somebody'}.</p> : null}
        </div>
      </div>
      <div className="min-w-0">
        <Window row={row} scale={scale} width={axisWidth} height={isWide ? 106 : 76} today={today} />
      </div>
      <div className={isWide ? 'w-52 flex-none pl-5' : ''}>
        {isWide ? <Chance row={row} size="page" /> : null}
        <Acts row={row} today={today} />
      </div>
    </li>
  )
}

function Chance({ row, size }: { readonly row: DueRow; readonly size: 'row' | 'page' }) {
  if (row.chance === null) return <span className="text-small text-umber">cannot be told yet</span>
  return <ChanceDots outOfTen={Math.round(row.chance * 10)} size={size} />
}

/** Widths that follow the axis are set by CSSOM, see due-screen. */
function setBasis(node: HTMLElement | null, left: number): void {
  node?.style.setProperty('width', left > 0 ? `${left}px` : 'auto')
}

/** What drives the risk, in one line. */
function whyOf({ forecast, drive }: DueRow): string {
  if (forecast.state === 'ready') return 'Every step is done.'
  if (forecast.state === 'unknown' || drive === null) return 'No steps yet, so nothing can be counted.'
  const pace = `about ${sayHours(drive.leftH)} left, ${sayHours(drive.weeklyH)} a week.`
  return drive.isUnseen ? `Not opened yet, so the window is wide: ${pace}` : capital(pace)
}

function Window(props: {
  readonly row: DueRow
  readonly scale: Scale
  readonly width: number
  readonly height: number
  readonly today: string
}) {
  const { row, scale, width, height, today } = props
  const { due, forecast } = row
  const dueWord = `due ${tagDate(due.date)}`
  if (forecast.state !== 'open') {
    const words = forecast.state === 'ready' ? 'Ready.' : 'No window yet.'
    return (
      <svg
        className="block"
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`${words} ${dueWord}`}
      >
        <title>{`${words} ${dueWord}`}</title>
        <AxisRules scale={scale} height={height} todayDay={dayNumber(today)} />
        <text className="fill-umber" x={12} y={height / 2 + 4} fontSize={14}>
          {words} {dueWord}
        </text>
      </svg>
    )
  }
  const { p10, p50, p90 } = forecast.window
  return (
    <FinishWindow
      scale={scale}
      width={width}
      height={height}
      todayDay={dayNumber(today)}
      lowDay={dayNumber(p10)}
      medianDay={dayNumber(p50)}
      highDay={dayNumber(p90)}
      lowWord={tagDate(p10)}
      highWord={tagDate(p90)}
      dueDay={dayNumber(due.date)}
      dueWord={dueWord}
      label={`Ready ${sayWindow(p10, p90)}, median ${sayDate(p50, 'short')}; ${dueWord}${row.chance === null ? '' : `, ${sayChance(row.chance)}`}.`}
    />
  )
}

/** What the manager may do with a date, and whoever waits may follow. */
function Acts({ row, today }: { readonly row: DueRow; readonly today: string }) {
  const role = useWho()?.role
  const { attempt, problem } = useTry()
  const [isMoving, setMoving] = useState(false)
  if (role !== 'manager') return null
  const { due } = row
  return (
    <>
      <div className="-ml-2 flex flex-wrap gap-x-1">
        {due.state === 'asked' ? (
          <>
            <Button mark="tick" onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: true })}>
              Accept
            </Button>
            <Button onClick={() => attempt({ kind: 'answerDue', dueId: due.id, accept: false })}>Decline</Button>
          </>
        ) : (
          <>
            <Button kind="quiet" onClick={() => setMoving(true)} aria-label={`Move the date of ${row.number}`}>
              Move
            </Button>
            <Button
              kind="quiet"
              onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'met' })}
              aria-label={`${row.number}: date met`}
            >
              Met
            </Button>
            <Button
              kind="quiet"
              onClick={() => attempt({ kind: 'endDue', dueId: due.id, state: 'dropped' })}
              aria-label={`Drop the date of ${row.number}`}
            >
              Drop
            </Button>
          </>
        )}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <MoveDateDialog row={row} today={today} isOpen={isMoving} onClose={() => setMoving(false)} />
    </>
  )
}
