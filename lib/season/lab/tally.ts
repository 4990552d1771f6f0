/**
 * What many futures say together: for each piece on how many of them it was ready on each day. The tables stay the same
 * size however many futures are run, and two tallies of different futures add up to the tally of both.
 */
import { add, at } from '#lib/base'
import { keyOf } from './chance.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import { runFuture } from './run.ts'
import type { Runner } from './runner.ts'

export interface Tally {
  readonly days: number
  /** Futures counted. */
  futures: number
  /** `days + 1` counts a piece: ready on each day, and in the last one not within the season. */
  readonly finish: Int32Array
  /** Begun in each week, and in the last not within the season: `weeks + 1` counts a piece. */
  readonly begin: Int32Array
}

export function emptyTally(model: LabModel): Tally {
  const pieces = model.pieceIds.length
  return {
    days: model.days,
    futures: 0,
    finish: new Int32Array(pieces * (model.days + 1)),
    begin: new Int32Array(pieces * (model.days / 7 + 1)),
  }
}

/** Counts what the runner holds after a future. */
export function count(tally: Tally, { finishDay, beginDay }: Runner): void {
  const { days, finish, begin } = tally
  const weeks = days / 7
  for (let piece = 0; piece < finishDay.length; piece++) {
    const day = at(finishDay, piece)
    add(finish, piece * (days + 1) + (day < 0 ? days : day), 1)
    const first = at(beginDay, piece)
    add(begin, piece * (weeks + 1) + (first < 0 ? weeks : Math.floor(first / 7)), 1)
  }
  tally.futures++
}

/** Runs the futures `from` up to `to` (not included) of a seed and counts them. */
export function runFutures(
  { model, order, runner }: { readonly model: LabModel; readonly order: Order; readonly runner: Runner },
  tally: Tally,
  { seed, from, to }: { readonly seed: number; readonly from: number; readonly to: number },
): void {
  for (let future = from; future < to; future++) {
    runFuture(model, order, runner, { key: keyOf(seed, future) })
    count(tally, runner)
  }
}

/** Futures in which a piece is ready on a day or before. */
export function readyBy(tally: Tally, piece: number, day: number): number {
  let sum = 0
  const start = piece * (tally.days + 1)
  const last = Math.min(day, tally.days - 1)
  for (let i = 0; i <= last; i++) sum += at(tally.finish, start + i)
  return sum
}

/** Share of futures in which a piece is ready on a day or before; a day before the season is past. */
export function chanceBy(tally: Tally, piece: number, day: number): number {
  return day < 0 ? 0 : readyBy(tally, piece, day) / Math.max(1, tally.futures)
}

/** The first day on which a piece is ready in that share of futures; null: not within the season. */
export function readyDay(tally: Tally, piece: number, share: number): number | null {
  const wanted = share * tally.futures
  let sum = 0
  for (let day = 0; day < tally.days; day++) {
    sum += at(tally.finish, piece * (tally.days + 1) + day)
    if (sum >= wanted && sum > 0) return day
  }
  return null
}
