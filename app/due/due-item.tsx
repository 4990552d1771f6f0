'use client'
// One dated piece: what it is, why it stands where it stands, its finish window against its date, its chance and how
// that has drifted; another date tried; what would help; and for the manager what may be done with the date.
import Link from 'next/link'
import { useState } from 'react'
import type { SeasonAnswer } from '#lib/season'
import { chanceAt, type DueRow } from '#lib/views'
import type { Records } from '#lib/words'
import { useWho } from '../_board/index.ts'
import { Button, FieldNumber } from '../_parts/controls/index.ts'
import { ChanceDots, type Scale } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { capital, sayChance, sayDate, sayDay, sayDueKind, sayHours, tenthsOf } from '../_text/index.ts'
import { sayWhy } from '../season/say.ts'
import { DueActs } from './due-acts.tsx'
import { DueWindow } from './due-window.tsx'
import { Helps } from './helps.tsx'
import { PromiseLine } from './promise-line.tsx'
import { TriedDate } from './tried-date.tsx'

type DueItemProps = {
  readonly records: Records
  readonly row: DueRow
  readonly season: SeasonAnswer | null
  readonly scale: Scale
  readonly axisWidth: number
  readonly left: number
  readonly today: string
}

/** The row. */
export function DueItem({ records, row, season, scale, axisWidth, left, today }: DueItemProps) {
  const { due, outlook } = row
  const role = useWho()?.role
  const [tried, setTried] = useState<string | null>(null)
  const [isHelped, setHelped] = useState(false)
  const isWide = left > 0
  const chanceOf = (date: string) => (outlook === null || season === null ? null : chanceAt(outlook, season.from, date))
  const mayAsk = role === 'manager' || role === 'preparator'
  return (
    <li className="border-b border-line">
      <div className={isWide ? 'flex items-center pt-2' : 'pt-1 pb-2'}>
        <div className="flex min-w-0 flex-none gap-3 py-2" ref={(node) => setBasis(node, left)}>
          <Stone seed={due.pieceId} stage={row.stage} size={54} lengthM={row.lengthM} widthM={row.widthM} />
          <div className={`min-w-0 flex-1 ${isWide ? 'pr-3' : ''}`}>
            {isWide ? null : (
              <div className="float-right pb-1 pl-3 text-right">
                <Chance row={row} size="row" today={today} />
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
            <p className="text-small text-umber">{whyOf(row, records)}</p>
            {due.state === 'asked' ? (
              <p className="text-small text-umber">Asked by {records.person.get(due.by)?.name ?? 'somebody'}.</p>
            ) : null}
          </div>
        </div>
        <div className="min-w-0">
          <DueWindow
            {...{ row, scale, today, tried, chanceOf }}
            width={axisWidth}
            height={isWide ? 106 : 76}
            onTry={outlook === null ? undefined : setTried}
          />
        </div>
        <div className={isWide ? 'w-52 flex-none pl-5' : ''}>
          {isWide ? <Chance row={row} size="page" today={today} /> : null}
          <DueActs row={row} today={today} />
        </div>
      </div>
      {due.state === 'asked' && mayAsk ? (
        <div className="pb-1" ref={(node) => setInset(node, left)}>
          <p className="text-small text-umber">If it is promised:</p>
          <PromiseLine pieceId={due.pieceId} date={due.date} today={today} />
        </div>
      ) : null}
      {outlook === null ? null : (
        <div className="no-print flex flex-wrap gap-x-2 pb-1" ref={(node) => setInset(node, left)}>
          {mayAsk && !isEasy(row) ? (
            <Button
              kind="quiet"
              aria-expanded={isHelped}
              aria-label={`What would help ${row.number}?`}
              onClick={() => setHelped(!isHelped)}
            >
              What would help?
            </Button>
          ) : null}
          <Button
            kind="quiet"
            aria-expanded={tried !== null}
            aria-label={`Try another date for ${row.number}`}
            onClick={() => setTried(tried === null ? due.date : null)}
          >
            Try another date
          </Button>
        </div>
      )}
      <div ref={(node) => setInset(node, left)}>
        {tried === null ? null : (
          <TriedDate
            row={row}
            date={tried}
            chance={chanceOf(tried)}
            today={today}
            isManager={role === 'manager'}
            onTry={setTried}
          />
        )}
        {isHelped ? <Helps dueId={due.id} number={row.number} records={records} /> : null}
      </div>
    </li>
  )
}

function Chance({ row, size, today }: { readonly row: DueRow; readonly size: 'row' | 'page'; readonly today: string }) {
  const { chance, before } = row
  if (chance === null) return <span className="text-small text-umber">cannot be told yet</span>
  return (
    <>
      <ChanceDots outOfTen={tenthsOf(chance)} size={size} />
      {row.due.state === 'asked' ? <p className="text-small text-umber">while it is not promised</p> : null}
      {before === null ? null : <p className="text-small text-umber">{driftOf(before, chance, today)}</p>}
    </>
  )
}

/** How the chance has moved since it was last noted. */
function driftOf(before: NonNullable<DueRow['before']>, chance: number, today: string): string {
  const when = sayDay(before.on, today)
  const tenths = tenthsOf(chance) - tenthsOf(before.chance)
  if (tenths === 0) return `the same on ${when}`
  return `${tenths > 0 ? 'up' : 'down'} from ${sayChance(before.chance)} on ${when}`
}

/** Widths that follow the axis are set by CSSOM, see due-screen. */
function setBasis(node: HTMLElement | null, left: number): void {
  node?.style.setProperty('width', left > 0 ? `${left}px` : 'auto')
}

/** What belongs to the window stands under it. */
function setInset(node: HTMLElement | null, left: number): void {
  node?.style.setProperty('margin-left', left > 0 ? `${left}px` : '0')
}

/** Nothing needs to be asked about a date that is as good as sure. */
const isEasy = ({ chance }: DueRow): boolean => chance !== null && tenthsOf(chance) === 10

/** What drives the risk, in one line. */
function whyOf(row: DueRow, records: Records): string {
  if (row.state === 'ready') return 'Every step is done.'
  if (row.state === 'unknown' || row.leftH === null) return 'No steps yet, so nothing can be counted.'
  const left = `about ${sayHours(row.leftH)} left`
  const amount = row.weeklyH === null ? `${left}.` : `${left}, ${sayHours(row.weeklyH)} a week.`
  const unseen = row.isUnseen ? `Not opened yet, so the window is wide: ${amount}` : capital(amount)
  const why = row.outlook === null || isEasy(row) ? '' : sayWhy(row.outlook.reasons, records)
  return why === '' ? unseen : `${unseen} ${why}`
}
