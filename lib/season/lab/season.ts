/**
 * The way of one season: records -> tables -> an order of pieces -> futures -> answer. Everything is decided by the
 * records, the options and the seed; what may end it early (`isCancelled`) and how often it tells (`isWanted`) come from
 * outside, so that this stays free of clocks.
 */
import type { SeasonAnswer } from '../words.ts'
import { answerOf, hoursOfPieces } from './answer.ts'
import { keyOf } from './chance.ts'
import { emptyLoad, watch } from './load.ts'
import { type AskedOptions, type Planned, SEASON_SEED } from './planned.ts'
import { runFuture } from './run.ts'
import { createRunner } from './runner.ts'
import { count, emptyTally, runFutures } from './tally.ts'

export interface PlayOptions extends AskedOptions {
  /** Asked between futures; true has the answer so far told. */
  readonly isWanted?: () => boolean
  readonly onAnswer?: (answer: SeasonAnswer) => void
}

/** A chance of one half is then known to 1.6 in a hundred. */
const FUTURES = 1000
/** Futures that are watched for load and reasons. */
const WATCHED = 100
/** Futures between two looks at the clock and the stop. */
const BATCH = 20

/** Plays the season; the last answer is returned, those before it are told. */
export function playSeason(planned: Planned, options: PlayOptions): SeasonAnswer {
  const { seq, seed = SEASON_SEED, futures = FUTURES, isCancelled, isWanted, onAnswer } = options
  const { season, aims, order } = planned
  const { model } = season
  const runner = createRunner(model, order)
  const hours = hoursOfPieces(model, seed, WATCHED)
  const tally = emptyTally(model)
  const load = emptyLoad(model, aims)
  const counted = { season, aims, order, runner, tally, load, hours }
  const isOver = () => isCancelled?.() === true
  const watched = Math.min(WATCHED, futures)
  while (tally.futures < watched && !(isOver() && tally.futures > 0)) {
    runFuture(model, order, runner, { key: keyOf(seed, tally.futures) }, watch(model, order, runner, load))
    count(tally, runner)
  }
  while (tally.futures < futures && !isOver()) {
    if (isWanted?.()) onAnswer?.(answerOf(counted, { seq, seed, isWhole: false }))
    const to = Math.min(futures, tally.futures + BATCH)
    runFutures({ model, order, runner }, tally, { seed, from: tally.futures, to })
  }
  return answerOf(counted, { seq, seed, isWhole: tally.futures === futures })
}
