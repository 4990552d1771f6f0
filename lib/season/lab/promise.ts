/**
 * May we promise? A date for a piece, as if it were accepted: the piece goes to where the date puts it, and all that is
 * then ready later is told. Both seasons are run on the same futures.
 */
import { at, daysBetween } from '#lib/base'
import type { ChanceChange, PromiseAnswer, SeasonRefused } from '../words.ts'
import type { Aims } from './aims.ts'
import { errorOf, whenOf } from './answer.ts'
import { orderOf } from './order.ts'
import { moved } from './plan.ts'
import { type AskedOptions, type Planned, SEASON_SEED } from './planned.ts'
import { emptyTally, type Tally } from './tally.ts'
import { chanceIn, differenceOf, type Trial, tryOut } from './trial.ts'

/** Futures of each side of a promise. */
const FUTURES = 600

/** The answer for a date of a piece. */
export function promise(
  planned: Planned,
  { pieceId, date }: { readonly pieceId: string; readonly date: string },
  options: AskedOptions,
): PromiseAnswer | SeasonRefused {
  const { records, season, aims, order } = planned
  const { model } = season
  const piece = model.pieceIds.indexOf(pieceId)
  if (piece < 0) {
    const isKnown = records.specimen.has(pieceId) || records.jacket.has(pieceId)
    return { refused: isKnown ? 'nothing-left' : 'unknown' }
  }
  const day = daysBetween(model.from, date)
  const others = aims.dates.filter((aim) => !aim.isAsked && aim.piece !== piece)
  const looked = Int32Array.from([piece, ...others.map((aim) => aim.piece)])
  const { seq, seed = SEASON_SEED, futures = FUTURES, isCancelled } = options
  const run = { seed, futures, ...(isCancelled ? { isCancelled } : {}) }
  const before = tryOut(model, order, looked, run)
  const after = tryOut(model, orderOf(model, withDate(order.pieces, aims, piece, day)), looked, run)
  if (before.futures === 0 || after.futures === 0) return { refused: 'stopped' }
  const chance = chanceIn(after, 0, day)
  return {
    kind: 'promise',
    seq,
    pieceId,
    date,
    futures: after.futures,
    chanceNow: chanceIn(before, 0, day),
    chance,
    chanceError: errorOf(chance, after.futures),
    ...whenOf(model.from, tallyOf(after, model.days), 0),
    others: changesOf(
      before,
      after,
      others.map((aim, index) => ({ ...aim, index: index + 1, pieceId: model.pieceIds[aim.piece] ?? '' })),
    ),
  }

  function tallyOf(trial: Trial, days: number): Tally {
    const tally = { ...emptyTally({ ...model, pieceIds: [pieceId] }), futures: trial.futures }
    for (let future = 0; future < trial.futures; future++) {
      const ready = at(trial.days, future * trial.pieces.length)
      const bin = ready < 0 ? days : ready
      tally.finish[bin] = at(tally.finish, bin) + 1
    }
    return tally
  }
}

/** The order with the piece where a date puts it: before the first piece whose own date is later, or that has none. */
function withDate(pieces: Int32Array, aims: Aims, piece: number, day: number): Int32Array {
  const dayOf = new Map<number, number>()
  for (const aim of aims.dates.toReversed()) if (!aim.isAsked) dayOf.set(aim.piece, aim.day)
  dayOf.delete(piece)
  const from = pieces.indexOf(piece)
  const others = pieces.filter((other) => other !== piece)
  const to = others.findIndex((other) => (dayOf.get(other) ?? Number.POSITIVE_INFINITY) > day)
  return moved(pieces, from, to < 0 ? others.length : to)
}

interface Looked {
  readonly index: number
  readonly dueId: string
  readonly pieceId: string
  readonly day: number
}

/** Dates whose chance changes by more than chance itself would; most lost first. */
export function changesOf(before: Trial, after: Trial, looked: readonly Looked[]): readonly ChanceChange[] {
  return looked
    .flatMap(({ index, dueId, pieceId, day }) => {
      const { gain, gainError } = differenceOf(before, after, index, day)
      if (Math.abs(gain) < LEAST_CHANGE || Math.abs(gain) < 2 * gainError) return []
      return [{ dueId, pieceId, before: chanceIn(before, index, day), after: chanceIn(after, index, day) }]
    })
    .sort((a, b) => a.after - a.before - (b.after - b.before) || (a.dueId < b.dueId ? -1 : 1))
}

/** Less than one in a hundred is not worth a word. */
const LEAST_CHANGE = 0.01
