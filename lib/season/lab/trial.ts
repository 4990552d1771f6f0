/**
 * Trying something out: the days on which some pieces are ready in the futures of one order of one season. Two trials
 * of the same seed share their chance, so a difference is taken future by future and most of the noise goes away.
 */
import { at, atDouble } from '#lib/base'
import { keyOf } from './chance.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import { runFuture } from './run.ts'
import { createRunner } from './runner.ts'

/** Days on which each of the looked-at pieces is ready in each future; -1: not within the season. */
export interface Trial {
  readonly pieces: Int32Array
  /** `futures * pieces.length` days. */
  readonly days: Int32Array
  /** Futures run so far. */
  futures: number
}

/** A trial of at most `futures` futures, looking at some pieces; it ends each future when all of them are ready. */
export function tryOut(
  model: LabModel,
  order: Order,
  pieces: Int32Array,
  {
    seed,
    futures,
    isCancelled,
  }: { readonly seed: number; readonly futures: number; readonly isCancelled?: () => boolean },
): Trial {
  const runner = createRunner(model, order)
  const until = new Int32Array(model.pieceIds.length)
  for (const piece of pieces) until[piece] = 1
  const trial = { pieces, days: new Int32Array(futures * pieces.length), futures: 0 }
  while (trial.futures < futures && isCancelled?.() !== true) {
    runFuture(model, order, runner, { key: keyOf(seed, trial.futures) }, null, until)
    for (let i = 0; i < pieces.length; i++) {
      trial.days[trial.futures * pieces.length + i] = at(runner.finishDay, at(pieces, i))
    }
    trial.futures++
  }
  return trial
}

/** Whether the piece at `index` is ready by the day in a future. */
function isReady(trial: Trial, index: number, future: number, day: number): boolean {
  const ready = at(trial.days, future * trial.pieces.length + index)
  return ready >= 0 && ready <= day
}

/** Share of futures in which the piece at `index` is ready by the day. */
export function chanceIn(trial: Trial, index: number, day: number): number {
  let ready = 0
  for (let future = 0; future < trial.futures; future++) if (isReady(trial, index, future, day)) ready++
  return ready / Math.max(1, trial.futures)
}

/** Chance after less chance before, future by future, and its standard error. */
export function differenceOf(before: Trial, after: Trial, index: number, day: number, dayAfter = day) {
  const futures = Math.min(before.futures, after.futures)
  let sum = 0
  let squares = 0
  for (let future = 0; future < futures; future++) {
    const change = Number(isReady(after, index, future, dayAfter)) - Number(isReady(before, index, future, day))
    sum += change
    squares += change * change
  }
  const mean = sum / Math.max(1, futures)
  const variance = squares / Math.max(1, futures) - mean * mean
  return { gain: mean, gainError: Math.sqrt(Math.max(0, variance) / Math.max(1, futures)), futures }
}

/** How well dates are kept, 0 to 1 each: on the day or before counts whole, late less the later it is. */
export function scoreOf(trial: Trial, index: number, day: number): number {
  let sum = 0
  for (let future = 0; future < trial.futures; future++) {
    const ready = at(trial.days, future * trial.pieces.length + index)
    if (ready < 0) continue
    sum += ready <= day ? 1 : LATE_WORTH * Math.exp((day - ready) / LATE_DAYS)
  }
  return sum / Math.max(1, trial.futures)
}

/** A day late is worth this much of being ready, and a third of that after this many days more. */
const LATE_WORTH = 0.4
const LATE_DAYS = 28

/** Sum of some weights times scores. */
export const weighed = (weights: Float64Array, scores: readonly number[]): number =>
  scores.reduce((sum, score, i) => sum + atDouble(weights, i) * score, 0)
