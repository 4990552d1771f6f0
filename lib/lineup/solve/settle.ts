/**
 * Days small enough to be settled: what no better line-up can have is left out, the search goes on among what is left,
 * and in the end it is shown that nothing better exists, by parts or by a general solver on the equations of the rest.
 */
import { at, atDouble } from '#lib/base'
import { unmetMusts } from '../appraise.ts'
import { equationsOf, turnsOf } from '../bound/equations.ts'
import { fieldOf } from '../bound/field.ts'
import { onlyOf } from '../bound/only.ts'
import { closeIn, narrowed, proveRest } from '../bound/proof.ts'
import { rowsOf } from '../bound/rows.ts'
import { type Model, MUST_MARKS } from './model.ts'
import { type Snapshot, search } from './search.ts'
import { toSolution } from './solution.ts'

/** A general solver's word on equations in the LP text format; null when it did not come to an end. */
export type Settle = (equations: string) => Settled | null

interface Settled {
  /** The most marks; null when no line-up satisfies the equations. */
  readonly best: number | null
  readonly isOn: (column: string) => boolean
}

/** A general solver is only asked about rests of at most so many crew entries. */
const ASKED_MAX = 400
/** Rounds of leaving out and searching on; each begins where a better line-up was found. */
const ROUNDS_MAX = 4

export interface SettleOptions {
  readonly seed: number
  /** Steps of each further search, and parts looked at before the general solver is asked. */
  readonly steps: number
  readonly restarts: number
  readonly parts: number
  readonly heat: number
  readonly reduced: Float64Array
  readonly settle?: Settle
  readonly onBetter?: (snapshot: Snapshot, bound: number) => void
  readonly isCancelled?: () => boolean
}

/** The best line-up found from `start` on, and the marks that no line-up exceeds. */
export function settleDay(
  model: Model,
  start: Snapshot,
  options: SettleOptions,
): { readonly best: Snapshot; readonly bound: number } {
  const { seed, steps, restarts, heat, reduced, settle, isCancelled } = options
  const { score: begun, unmet } = toSolution(model, start)
  const keepsMusts = unmet.length === 0
  const cancel = isCancelled === undefined ? {} : { isCancelled }
  let best = start
  let rest = closeIn(model, { score: begun, keepsMusts })
  for (let round = 0; round < ROUNDS_MAX && rest.field !== null && isCancelled?.() !== true; round++) {
    const few = narrowed(model, rest)
    const its = Float64Array.from(few.kept, (o) => atDouble(reduced, o))
    const found = search(few.model, { seed: seed + round, steps, restarts, heat, reduced: its, start: best })
    const { score } = toSolution(model, found)
    if (score <= rest.score) break
    best = found
    options.onBetter?.(best, rest.bound)
    rest = closeIn(model, { score, keepsMusts, former: rest })
  }
  const bound = proveRest(model, rest, { parts: options.parts, ...cancel })
  const { field, score } = rest
  const isAsked = bound > score && field !== null && field.crewTurn.length <= ASKED_MAX && isCancelled?.() !== true
  const settled = isAsked ? settle?.(equationsOf(field, rowsOf(model), score + 1)) : null
  if (!settled || field === null) return { best, bound }
  if (settled.best === null) return { best, bound: score }
  const better = snapshotOf(model, turnsOf(field, settled.isOn), keepsMusts)
  const isBetter = better !== null && toSolution(model, better).score > score
  return { best: isBetter ? better : best, bound: Math.min(bound, Math.round(settled.best)) }
}

/** A line-up given by job and place, with mentors; null when it breaks a rule or leaves a must unkept. */
function snapshotOf(
  model: Model,
  { job, place }: { readonly job: Int32Array; readonly place: Int32Array },
  keepsMusts: boolean,
): Snapshot | null {
  const { shifts: S } = model
  const groupPlace = new Map<number, number>()
  job.forEach((its, turn) => {
    if (its >= 0) groupPlace.set(at(model.jobPiece, its) * S + (turn % S), at(place, turn))
  })
  const only = onlyOf(
    fieldOf(model, {
      mayDo: (turn, its) => at(job, turn) === its,
      mayStand: (piece, shift, where) => groupPlace.get(piece * S + shift) === where,
    }),
  )
  if (only === null) return null
  if (keepsMusts && unmetMusts(model.problem, only.lineUp).length > 0) return null
  const mentor = new Int32Array(model.persons * S).fill(-1)
  for (const turn of only.lineUp) {
    if (turn.mentor === null) continue
    const index = model.personIds.indexOf(turn.person) * S + model.shiftIds.indexOf(turn.shift)
    mentor[index] = model.personIds.indexOf(turn.mentor)
  }
  const worth = only.score + (keepsMusts ? model.musts.length * MUST_MARKS : 0)
  return { job, place, mentor, worth }
}
