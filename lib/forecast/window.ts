// When a piece will be ready: hours left over hours a week, both uncertain, counted on from today over the days on
// which the lab is closed. A window is the span from 10 to 90 in a hundred; a chance is the share before a date.
import { addDays, daysBetween } from '#lib/base'
import type { RecordOf, Records } from '#lib/words'
import { pieceLeft } from './left.ts'
import type { Pace, WeeklyHours } from './pace.ts'
import { chanceBelow, quantileOf, ratioOf, type Spread } from './spread.ts'

export interface FinishWindow {
  readonly p10: string
  readonly p50: string
  readonly p90: string
  /** Hours of work left. */
  readonly leftH: { readonly p10: number; readonly p50: number; readonly p90: number }
  /** Hours a week it is expected to get, and from what that is known. */
  readonly weeklyH: number
  readonly basis: WeeklyHours['basis']
  /** True while nobody has seen what is inside: the window is wide. */
  readonly isUnseen: boolean
}

/** ready: nothing left to do. open: a window. unknown: no steps, or no pace to go by. */
export type Forecast =
  | { readonly state: 'ready' }
  | { readonly state: 'unknown' }
  | { readonly state: 'open'; readonly window: FinishWindow }

/** Beyond this nobody plans; a date shown is never later. */
const DAYS_MAX = 3650

/** The finish window of a piece as of `today`. */
export function finishWindow(records: Records, pieceId: string, today: string, pace: Pace): Forecast {
  const found = outlook(records, pieceId, pace)
  if (found === 'ready' || found === 'unknown') return { state: found }
  const { left, weekly, weeks, isUnseen } = found
  const dayAt = (probability: number) => dateAfter(records, today, quantileOf(weeks, probability) * 7)
  const hoursAt = (probability: number) => quantileOf(left, probability)
  return {
    state: 'open',
    window: {
      p10: dayAt(0.1),
      p50: dayAt(0.5),
      p90: dayAt(0.9),
      leftH: { p10: hoursAt(0.1), p50: hoursAt(0.5), p90: hoursAt(0.9) },
      weeklyH: weekly.hours.median,
      basis: weekly.basis,
      isUnseen,
    },
  }
}

/** Probability that a piece is ready on a date; null when it cannot be told. The date itself still counts. */
export function chanceBy(records: Records, pieceId: string, date: string, today: string, pace: Pace): number | null {
  const found = outlook(records, pieceId, pace)
  if (found === 'ready') return 1
  if (found === 'unknown') return null
  const days = daysBetween(today, date) + 1 - closedBetween(records, today, date)
  return days <= 0 ? 0 : chanceBelow(found.weeks, days / 7)
}

/** The chance of each accepted date, by its id. */
export function chancesOf(records: Records, today: string, pace: Pace): ReadonlyMap<string, number> {
  const chances = new Map<string, number>()
  for (const due of records.due.values()) {
    if (due.state !== 'accepted') continue
    const chance = chanceBy(records, due.pieceId, due.date, today, pace)
    if (chance !== null) chances.set(due.id, chance)
  }
  return chances
}

interface Outlook {
  readonly left: Spread
  readonly weekly: WeeklyHours
  readonly weeks: Spread
  readonly isUnseen: boolean
}

function outlook(records: Records, pieceId: string, pace: Pace): Outlook | 'ready' | 'unknown' {
  const steps: RecordOf<'step'>[] = []
  for (const step of records.step.values()) if (step.pieceId === pieceId) steps.push(step)
  if (steps.length === 0) return 'unknown'
  if (steps.every(({ state }) => state === 'done' || state === 'dropped')) return 'ready'
  const isUnseen = stageOf(records, pieceId) === 'sealed'
  const left = pieceLeft(steps, pace.outlook)
  const weekly = pace.weeklyOf(pieceId)
  if (left === null || weekly === null) return 'unknown'
  return { left, weekly, weeks: ratioOf(left, weekly.hours), isUnseen }
}

const stageOf = (records: Records, pieceId: string): string | undefined =>
  records.specimen.get(pieceId)?.stage ?? records.jacket.get(pieceId)?.state

/** The date after so many days of a week's usual work; closed dates of the lab do not count. */
function dateAfter(records: Records, today: string, days: number): string {
  const wanted = Math.min(DAYS_MAX, Math.ceil(days))
  const closed = new Set(records.lab.get('lab')?.closed)
  let date = today
  let gone = 0
  // The last day of work is the day it is ready: a piece with an hour left is ready today.
  for (let i = 1; gone < wanted - 1 && i < DAYS_MAX; i++) {
    date = addDays(today, i)
    if (!closed.has(date)) gone++
  }
  return date
}

function closedBetween(records: Records, from: string, to: string): number {
  return records.lab.get('lab')?.closed.filter((date) => date > from && date <= to).length ?? 0
}
