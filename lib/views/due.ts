// Dated pieces on one axis of days, most at risk first, and the requests that wait for an answer. Windows and chances
// are the season's futures where these have been counted; until then, a quick count from hours left and pace.
import { dayNumber, daysBetween } from '#lib/base'
import { chanceBy, type Forecast, finishWindow, type Pace, paceOf } from '#lib/forecast'
import type { Band, DateOutlook, SeasonAnswer, SeasonWindow } from '#lib/season'
import type { RecordOf, Records, Stage } from '#lib/words'
import { isOf, lastNotes } from './chances.ts'
import { pieceTag } from './floor-day.ts'
import { lastDayOf } from './season.ts'

/** A finish window; an end that lies after all that was looked at stands at the last day and is named in `beyond`. */
export type DueWindow = {
  readonly p10: string
  readonly p50: string
  readonly p90: string
  readonly beyond: readonly ('p10' | 'p50' | 'p90')[]
}

export type DueRow = {
  readonly due: RecordOf<'due'>
  readonly number: string
  readonly name: string
  readonly stage: Stage
  readonly lengthM: number
  readonly widthM: number
  /** ready: nothing left to do. open: a window. unknown: no steps, or nothing to go by. */
  readonly state: 'ready' | 'open' | 'unknown'
  readonly window: DueWindow | null
  /** Probability to be ready by the date; null when it cannot be told. */
  readonly chance: number | null
  readonly isAtRisk: boolean
  readonly watchers: number
  /** Hours left, of hands. */
  readonly leftH: number | null
  /** Hours a week it has been getting; null where futures were counted, which plan instead. */
  readonly weeklyH: number | null
  readonly isUnseen: boolean
  /** What the season knows of this date; null until it is counted. */
  readonly outlook: DateOutlook | null
  /** Its chance when last noted, at least five days ago and for the same date. */
  readonly before: { readonly chance: number; readonly on: string } | null
}

export type DueBoard = {
  readonly rows: readonly DueRow[]
  readonly asked: readonly DueRow[]
  readonly atRisk: number
  /** The stretch of days that holds today, every window and every date, with air at both ends. */
  readonly days: { readonly from: number; readonly to: number }
}

export type DueOptions = {
  /** Just the dates of these pieces (a researcher's own). */
  readonly only?: ReadonlySet<string> | null
  readonly season?: SeasonAnswer | null
}

/** The dates as of a day. */
export function dueBoard(records: Records, today: string, { only = null, season = null }: DueOptions = {}): DueBoard {
  const pace = paceOf(records, today)
  const outlooks = new Map(season?.dates.map((one) => [one.dueId, one]))
  const before = lastNotes(records, (on) => daysBetween(on, today) >= DRIFT_DAYS)
  const rows: DueRow[] = []
  const asked: DueRow[] = []
  for (const due of records.due.values()) {
    if (only !== null && !only.has(due.pieceId)) continue
    if (due.state !== 'accepted' && due.state !== 'asked') continue
    const outlook = outlooks.get(due.id)
    const counted = outlook && isOf(outlook, due) ? countedWay(outlook, season) : null
    const row = rowOfDue(
      records,
      due,
      today,
      counted ?? quickWay(records, due, today, pace),
      before.get(due.id) ?? null,
    )
    if (row) (due.state === 'accepted' ? rows : asked).push(row)
  }
  rows.sort(
    (a, b) => (a.chance ?? 0.5) - (b.chance ?? 0.5) || order(a.due.date, b.due.date) || order(a.due.id, b.due.id),
  )
  asked.sort((a, b) => order(a.due.date, b.due.date) || order(a.due.id, b.due.id))
  return { rows, asked, atRisk: rows.filter((row) => row.isAtRisk).length, days: daysOf([...rows, ...asked], today) }
}

/** What is known of any piece, dated or not: the season's window where it is counted, else the quick one. */
export type PieceForecast =
  | { readonly state: 'ready' }
  | { readonly state: 'unknown' }
  | { readonly state: 'open'; readonly window: DueWindow; readonly leftH: Band; readonly isUnseen: boolean }

/** The season's word on a piece, or the quick forecast until it is there. */
export function pieceForecast(season: SeasonAnswer | null, pieceId: string, quick: Forecast): PieceForecast {
  if (quick.state === 'ready') return { state: 'ready' }
  const isUnseen = quick.state === 'open' && quick.window.isUnseen
  const counted = season?.pieces.find((piece) => piece.pieceId === pieceId)
  if (season && counted)
    return { state: 'open', window: endsOf(counted.window, season), leftH: counted.leftH, isUnseen }
  if (quick.state === 'unknown') return { state: 'unknown' }
  const { p10, p50, p90, leftH } = quick.window
  return { state: 'open', window: { p10, p50, p90, beyond: [] }, leftH, isUnseen }
}

/**
 * Chance to be ready on a date one is thinking of, read off the season's weekly curve; straight between its points.
 * Null after the season's end.
 */
export function chanceAt({ curve }: Pick<DateOutlook, 'curve'>, from: string, date: string): number | null {
  const weeks = (daysBetween(from, date) + 1) / 7
  if (weeks <= 0) return 0
  if (weeks > curve.length) return null
  const before = Math.floor(weeks)
  const low = before === 0 ? 0 : (curve[before - 1] ?? 0)
  const high = curve[before] ?? low
  return low + (high - low) * (weeks - before)
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

type Way = Pick<DueRow, 'state' | 'window' | 'chance' | 'leftH' | 'weeklyH' | 'isUnseen' | 'outlook'>

function countedWay(outlook: DateOutlook, season: SeasonAnswer | null): Way | null {
  if (season === null) return null
  return {
    state: 'open',
    window: endsOf(outlook.window, season),
    chance: outlook.chance,
    leftH: outlook.leftH.p50,
    weeklyH: null,
    isUnseen: outlook.isUnseen,
    outlook,
  }
}

/** Ends that lie beyond the season stand at its last day. */
function endsOf({ p10, p50, p90 }: SeasonWindow, season: SeasonAnswer): DueWindow {
  const last = lastDayOf(season)
  const ends = { p10, p50, p90 }
  const beyond = (['p10', 'p50', 'p90'] as const).filter((end) => ends[end] === null)
  return { p10: p10 ?? last, p50: p50 ?? last, p90: p90 ?? last, beyond }
}

function quickWay(records: Records, due: RecordOf<'due'>, today: string, pace: Pace): Way {
  const forecast = finishWindow(records, due.pieceId, today, pace)
  const quick = forecast.state === 'open' ? forecast.window : null
  return {
    state: forecast.state,
    window: quick && { p10: quick.p10, p50: quick.p50, p90: quick.p90, beyond: [] },
    chance: chanceBy(records, due.pieceId, due.date, today, pace),
    leftH: quick?.leftH.p50 ?? null,
    weeklyH: quick?.weeklyH ?? null,
    isUnseen: quick?.isUnseen ?? false,
    outlook: null,
  }
}

function rowOfDue(
  records: Records,
  due: RecordOf<'due'>,
  today: string,
  way: Way,
  before: RecordOf<'outlook'> | null,
): DueRow | null {
  const tag = pieceTag(records, due.pieceId, today, new Map())
  if (!tag) return null
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
    ...way,
    isAtRisk: way.chance !== null && Math.round(way.chance * 10) < below,
    watchers,
    // Futures are noted; a quick count beside them would tell a drift that there is not.
    before: way.outlook !== null && before?.date === due.date ? { chance: before.chance, on: before.on } : null,
  }
}

/** A note younger than this says nothing of a drift. */
const DRIFT_DAYS = 5

/** One hopeless window must not squeeze all others: the axis ends this long after the last date, at the latest. */
const DAYS_AFTER_LAST = 150

function daysOf(rows: readonly DueRow[], today: string): DueBoard['days'] {
  const now = dayNumber(today)
  let from = now - 7
  let to = now + 60
  let last = now + 60
  for (const { due, window: span } of rows) {
    from = Math.min(from, dayNumber(due.date) - 7)
    to = Math.max(to, dayNumber(due.date) + 14)
    last = Math.max(last, dayNumber(due.date))
    if (span !== null) to = Math.max(to, dayNumber(span.p90) + 14)
  }
  return { from: Math.max(from, now - 60), to: Math.min(to, last + DAYS_AFTER_LAST) }
}
