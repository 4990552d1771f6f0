/**
 * What would help a date, computed by running the season again with one thing changed, on the same futures. All remedies
 * are tried on a few futures, then the best on many; what does not help by more than chance is not told.
 */
import { addDays } from '#lib/base'
import type { Help, HelpsAnswer, SeasonRefused } from '../words.ts'
import { type AskedOptions, type Planned, SEASON_SEED } from './planned.ts'
import { changesOf } from './promise.ts'
import { type Attempt, attemptsFor } from './remedies.ts'
import { chanceIn, differenceOf, type Trial, tryOut } from './trial.ts'

/** Futures of the first trial of each remedy, and of the second of the best. */
const SIFTED_ON = 150
const TRIED_ON = 600
/** Remedies that get a second trial, and at most so many are told. */
const SECOND_MAX = 8
/** A chance from which a date need not be moved. */
const GOOD_CHANCE = 0.8
/** Less gain than this is none. */
const LEAST_GAIN = 0.01

export interface HelpsOptions extends AskedOptions {
  readonly onAnswer?: (answer: HelpsAnswer) => void
}

/** The remedies of one date, the best first. */
export function helps(
  planned: Planned,
  { dueId }: { readonly dueId: string },
  options: HelpsOptions,
): HelpsAnswer | SeasonRefused {
  const { records, season, aims, order } = planned
  const { model } = season
  const aim = aims.dates.find((one) => one.dueId === dueId)
  if (!aim) return { refused: records.due.has(dueId) ? 'nothing-left' : 'unknown' }
  const { seq, seed = SEASON_SEED, isCancelled, onAnswer } = options
  const others = aims.dates.filter((one) => !one.isAsked && one.dueId !== dueId)
  const looked = Int32Array.from([aim.piece, ...others.map(({ piece }) => piece)])
  const watched = others.map((one, index) => ({ ...one, index: index + 1, pieceId: model.pieceIds[one.piece] ?? '' }))
  const run = (futures: number) => ({ seed, futures, ...(isCancelled ? { isCancelled } : {}) })
  const before = tryOut(model, order, looked, run(TRIED_ON))
  if (before.futures === 0) return { refused: 'stopped' }
  const attempts = attemptsFor(planned, aim.piece)
  const found = new Map<Attempt, Help>()
  let tried = 0

  const told = (): HelpsAnswer => ({
    kind: 'helps',
    seq,
    dueId,
    chance: chanceIn(before, 0, aim.day),
    futures: before.futures,
    helps: [...laterDate(), ...found.values()]
      .filter(({ gain, gainError }) => gain >= LEAST_GAIN && gain > 2 * gainError)
      .sort((a, b) => b.gain - a.gain)
      .slice(0, SECOND_MAX),
    tried,
    remedies: attempts.length,
  })

  const attempt = (one: Attempt, futures: number) => {
    const after = tryOut(one.model, one.order, looked, run(futures))
    if (after.futures < futures) return
    const { gain, gainError } = differenceOf(before, after, 0, aim.day)
    found.set(one, {
      remedy: one.remedy,
      chance: chanceIn(after, 0, aim.day),
      gain,
      gainError,
      others: changesOf(before, after, watched),
    })
    onAnswer?.(told())
  }

  /** The date itself, moved to where the chance is good: no other season is needed for that. */
  function laterDate(): readonly Help[] {
    const day = goodDay(before, aim?.day ?? 0, model.days)
    if (day === null) return []
    const { gain, gainError } = differenceOf(before, before, 0, aim?.day ?? 0, day)
    return [
      {
        remedy: { kind: 'date', date: addDays(model.from, day) },
        chance: chanceIn(before, 0, day),
        gain,
        gainError,
        others: [],
      },
    ]
  }

  for (const one of attempts) {
    if (isCancelled?.() === true) return told()
    attempt(one, SIFTED_ON)
    tried++
  }
  const best = attempts
    .toSorted((a, b) => (found.get(b)?.gain ?? -1) - (found.get(a)?.gain ?? -1))
    .slice(0, SECOND_MAX)
    .filter((one) => (found.get(one)?.gain ?? 0) > 0)
  for (const one of attempts) if (!best.includes(one)) found.delete(one)
  for (const one of best) {
    if (isCancelled?.() === true) return told()
    attempt(one, TRIED_ON)
  }
  return told()
}

/** The first day after the date on which the chance is good; null when it is good already, or never in the season. */
function goodDay(before: Trial, day: number, days: number): number | null {
  if (chanceIn(before, 0, day) >= GOOD_CHANCE) return null
  for (let later = Math.max(0, day + 1); later < days; later++)
    if (chanceIn(before, 0, later) >= GOOD_CHANCE) return later
  return null
}
