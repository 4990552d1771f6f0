'use client'
// Dated specimens, most at risk first, each with its finish window against its date on one time axis; requests that
// wait for the manager; and for everybody the question "may we promise?" as a date one asks for.
import Link from 'next/link'
import { useDeferredValue, useMemo, useState } from 'react'
import { dayNumber } from '#lib/base'
import type { SeasonAnswer } from '#lib/season'
import { type DueBoard, dueBoard } from '#lib/views'
import type { Records } from '#lib/words'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import {
  Button,
  buttonClass,
  Check,
  Notice,
  PageHeading,
  RowsComing,
  SectionHeading,
  useWidth,
} from '../_parts/controls/index.ts'
import { box, hatch, KeyItem, type Scale, TimeAxis } from '../_parts/figures/index.ts'
import { grouped, sayDate } from '../_text/index.ts'
import { count, few } from '../floor/words.ts'
import { useSeason } from '../season/use-season.ts'
import { AskDateDialog } from './ask-date-dialog.tsx'
import { DueItem } from './due-item.tsx'

/** The screen. */
export function DueScreen() {
  const who = useWho()
  const role = who?.role
  const records = useBoard((board) => board)
  const now = useNow(60_000)
  const settled = useDeferredValue(records)
  const [isOwn, setOwn] = useState<boolean | null>(null)
  const [isAsking, setAsking] = useState(false)
  const watched = useMemo(() => followedBy(settled, who?.personId ?? ''), [settled, who])
  // A researcher comes for the specimens they wait for; everybody else for the lab's.
  const onlyOwn = isOwn ?? (who?.role === 'researcher' && watched.size > 0)
  const { season, isCounting } = useSeason()
  const board = useMemo(
    () => (now.ms === 0 ? null : dueBoard(settled, now.date, { only: onlyOwn ? watched : null, season })),
    [settled, now.date, now.ms, onlyOwn, watched, season],
  )
  if (!records.lab.has('lab') || board === null)
    return (
      <div className="margin-page py-4">
        <h1 className="heading text-page">Due</h1>
        <RowsComing count={6} />
      </div>
    )
  const total = board.rows.length
  const title =
    total === 0
      ? 'No dates'
      : `${count(total)} dated ${total === 1 ? 'piece' : 'pieces'}, ${board.atRisk === 0 ? 'none at risk' : `${few(board.atRisk)} at risk`}`
  return (
    <div className="margin-page pb-10">
      <PageHeading
        title={title}
        actions={
          who === null || who.role === 'volunteer' || who.role === 'wall' ? undefined : (
            <Button mark="plumb" onClick={() => setAsking(true)}>
              {who.role === 'manager' ? 'Set a date' : 'Ask for a date'}
            </Button>
          )
        }
      />
      <div className="flex flex-wrap items-center justify-between gap-x-6 gap-y-2 pb-2">
        {watched.size > 0 ? <Check label="Only what I follow" isOn={onlyOwn} onToggle={setOwn} /> : <span />}
        <Key />
      </div>
      <DueRows records={records} board={board} season={season} today={now.date} onlyOwn={onlyOwn} />
      <p className="pt-4 text-small text-umber" role="status">
        {sayBasis(season, isCounting)}
      </p>
      <p className="pt-2">
        {role === 'manager' || role === 'preparator' ? (
          <Link href="/season" className={buttonClass('line')}>
            The season: what runs short, which jackets to open
          </Link>
        ) : null}{' '}
        {role === 'manager' || role === 'preparator' ? (
          <Link href="/due/hindsight" className={buttonClass('quiet')}>
            How good the forecasts were
          </Link>
        ) : null}
      </p>
      <AskDateDialog isOpen={isAsking} onClose={() => setAsking(false)} today={now.date} />
    </div>
  )
}

/** What one watches and what one has asked a date for: an answer must be seen where it was asked. */
function followedBy(records: Records, personId: string): ReadonlySet<string> {
  const watched = [...records.watch.values()].filter((one) => one.personId === personId)
  const asked = [...records.due.values()].filter((one) => one.by === personId && one.state === 'asked')
  return new Set([...watched, ...asked].map((one) => one.pieceId))
}

/** What the windows rest on. */
function sayBasis(season: SeasonAnswer | null, isCounting: boolean): string {
  if (season === null)
    return `Windows and chances are a quick count from hours left and the hours a week pieces have been getting${isCounting ? '; the season is being played out' : ''}. They are estimates, not promises.`
  return `Windows and chances come from ${grouped(season.futures)} ways the next ${season.weeks} weeks may go, with everybody's pattern, skills, places and air${season.isWhole ? '' : '; a newer count is under way'}. They are estimates, not promises.`
}

type DueRowsProps = {
  readonly records: Records
  readonly board: DueBoard
  readonly season: SeasonAnswer | null
  readonly today: string
  readonly onlyOwn: boolean
}

/** Requests and dates under one axis. */
function DueRows({ records, board, season, today, onlyOwn }: DueRowsProps) {
  const [frame, width] = useWidth<HTMLDivElement>(900)
  const isWide = width >= 860
  const left = isWide ? Math.max(340, Math.min(430, width * 0.31)) : 0
  const axisWidth = isWide ? width - left - 208 : width
  const scale: Scale = { ...board.days, left: 10, right: axisWidth - 10 }
  const shared = { records, season, scale, axisWidth, left, today }
  return (
    <div ref={frame} className="measured">
      {board.rows.length + board.asked.length === 0 ? (
        <Notice kind="empty">
          {onlyOwn
            ? 'Nothing you follow has a date.'
            : 'Nothing has a date. Whoever waits for a piece can ask for one.'}
        </Notice>
      ) : (
        <div className={isWide ? 'flex' : ''}>
          <span className={isWide ? 'flex-none' : 'hidden'} ref={(node) => setWidthOf(node, left)} />
          <TimeAxis
            scale={scale}
            width={axisWidth}
            todayDay={dayNumber(today)}
            monthWord={(date) => monthWord(date, today)}
          />
        </div>
      )}
      <ol aria-label="Dates, most at risk first">
        {board.rows.map((row) => (
          <DueItem key={row.due.id} row={row} {...shared} />
        ))}
      </ol>
      {board.asked.length === 0 ? null : (
        <section className="pt-8">
          <SectionHeading title="Asked for" aside="not promised" />
          <ol aria-label="Dates asked for">
            {board.asked.map((row) => (
              <DueItem key={row.due.id} row={row} {...shared} />
            ))}
          </ol>
        </section>
      )}
    </div>
  )
}

/** Widths that follow the axis are set by CSSOM: the page's policy forbids style attributes in what is served. */
function setWidthOf(node: HTMLElement | null, width: number): void {
  node?.style.setProperty('width', `${width}px`)
}

function monthWord(date: string, today: string): string {
  const word = sayDate(date, 'short').replace(/^\d+ /, '').split(' ')[0]?.slice(0, 3) ?? ''
  return date.slice(5, 7) === '01' && date.slice(0, 4) !== today.slice(0, 4) ? `${word} ${date.slice(0, 4)}` : word
}

function Key() {
  return (
    <ul className="flex flex-wrap gap-x-5 gap-y-1 text-small">
      <li>
        <KeyItem
          figure={
            <svg width={30} height={16} viewBox="0 0 30 16" aria-hidden="true">
              <path className="fill-rock stroke-ink" d="M1 8Q15 -4 29 8Q15 20 1 8Z" strokeWidth={1} />
            </svg>
          }
        >
          finish window, 10 to 90 %
        </KeyItem>
      </li>
      <li>
        <KeyItem
          figure={
            <svg width={8} height={18} viewBox="0 0 8 18" aria-hidden="true">
              <path className="stroke-ink" d="M4 0V18" strokeWidth={3} />
            </svg>
          }
        >
          median
        </KeyItem>
      </li>
      <li>
        <KeyItem
          figure={
            <svg width={24} height={16} viewBox="0 0 24 16" aria-hidden="true">
              <path className="stroke-ink" d={hatch(box(1, 1, 22, 14), 4.4)} strokeWidth={1} />
            </svg>
          }
        >
          past its date
        </KeyItem>
      </li>
    </ul>
  )
}
