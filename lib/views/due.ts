// Dated pieces on one axis of days, most at risk first, and the requests that wait for an answer.
import { dayNumber } from '#lib/base'
import { chanceBy, type Forecast, finishWindow, type Pace, paceOf } from '#lib/forecast'
import type { RecordOf, Records, Stage } from '#lib/words'
import { pieceTag } from './floor-day.ts'

export type DueRow = {
  readonly due: RecordOf<'due'>
  readonly number: string
  readonly name: string
  readonly stage: Stage
  readonly lengthM: number
  readonly widthM: number
  readonly forecast: Forecast
  /** Probability to be ready by the date; null when it cannot be told. */
  readonly chance: number | null
  readonly isAtRisk: boolean
  readonly watchers: number
  /** What drives it: hours left against hours a week, and whether anybody has seen inside. */
  readonly drive: { readonly leftH: number; readonly weeklyH: number; readonly isUnseen: boolean } | null
}

export type DueBoard = {
  readonly rows: readonly DueRow[]
  readonly asked: readonly DueRow[]
  readonly atRisk: number
  /** The stretch of days that holds today, every window and every date, with air at both ends. */
  readonly days: { readonly from: number; readonly to: number }
}

/** The dates as of a day. With `only`, just those of these pieces (a researcher's own). */
export function dueBoard(records: Records, today: string, only: ReadonlySet<string> | null = null): DueBoard {
  const pace = paceOf(records, today)
  const rows: DueRow[] = []
  const asked: DueRow[] = []
  for (const due of records.due.values()) {
    if (only !== null && !only.has(due.pieceId)) continue
    if (due.state !== 'accepted' && due.state !== 'asked') continue
    const row = rowOfDue(records, due, today, pace)
    if (row) (due.state === 'accepted' ? rows : asked).push(row)
  }
  rows.sort(
    (a, b) => (a.chance ?? 0.5) - (b.chance ?? 0.5) || order(a.due.date, b.due.date) || order(a.due.id, b.due.id),
  )
  asked.sort((a, b) => order(a.due.date, b.due.date) || order(a.due.id, b.due.id))
  return { rows, asked, atRisk: rows.filter((row) => row.isAtRisk).length, days: daysOf([...rows, ...asked], today) }
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

function rowOfDue(records: Records, due: RecordOf<'due'>, today: string, pace: Pace): DueRow | null {
  const tag = pieceTag(records, due.pieceId, today, new Map())
  if (!tag) return null
  const forecast = finishWindow(records, due.pieceId, today, pace)
  const chance = chanceBy(records, due.pieceId, due.date, today, pace)
  const below = records.lab.get('lab')?.riskBelowTenths ?? 7
  let watchers = 0
  for (const watch of records.watch.values()) if (watch.pieceId === due.pieceId) watchers++
  return {
    due,
    number: tag.number,
    name: tag.name,
    stage: tag.stage,
    lengthM: tag.lengthM,
    widthM: tag.widthM,
    forecast,
    chance,
    isAtRisk: chance !== null && Math.round(chance * 10) < below,
    watchers,
    drive:
      forecast.state === 'open'
        ? {
            leftH: forecast.window.leftH.p50,
            weeklyH: forecast.window.weeklyH,
            isUnseen: forecast.window.isUnseen,
          }
        : null,
  }
}

/** One hopeless window must not squeeze all others: the axis ends this long after the last date, at the latest. */
const DAYS_AFTER_LAST = 150

function daysOf(rows: readonly DueRow[], today: string): DueBoard['days'] {
  const now = dayNumber(today)
  let from = now - 7
  let to = now + 60
  let last = now + 60
  for (const { due, forecast } of rows) {
    from = Math.min(from, dayNumber(due.date) - 7)
    to = Math.max(to, dayNumber(due.date) + 14)
    last = Math.max(last, dayNumber(due.date))
    if (forecast.state === 'open') to = Math.max(to, dayNumber(forecast.window.p90) + 14)
  }
  return { from: Math.max(from, now - 60), to: Math.min(to, last + DAYS_AFTER_LAST) }
}
