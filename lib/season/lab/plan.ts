/**
 * The order of the season's plan: the first order, improved by a seeded search over the dated pieces. Every candidate
 * is judged on the same few futures by how well it keeps dates, hard before soft; what was found is taken only if it
 * also holds on other futures than those it was found on. Budgets are counted in candidates, so a seed always gives the
 * same plan; time may only end it early.
 */
import { at, seededRandom } from '#lib/base'
import type { Aims } from './aims.ts'
import type { LabModel } from './model.ts'
import { type Order, orderOf } from './order.ts'
import { firstOrder } from './priority.ts'
import { scoreOf, tryOut, weighed } from './trial.ts'

export interface PlanOptions {
  readonly seed: number
  /** Orders tried. */
  readonly candidates?: number
  readonly isCancelled?: () => boolean
}

const CANDIDATES = 60
/** Futures each candidate is judged on, and those on which the best must hold. */
const JUDGED_ON = 16
const PROVED_ON = 64
/** Those futures are drawn from other seeds than the season's, so that no plan is praised on what it was made for. */
const SEARCH_SEED = 0x5ea50
const PROOF_SEED = 0xb00f

/** The order of pieces to work by. */
export function planOrder(model: LabModel, aims: Aims, options: PlanOptions): Order {
  const first = firstOrder(model, aims)
  const accepted = aims.dates.filter(({ isAsked }) => !isAsked)
  const dated = [...new Set(accepted.map(({ piece }) => piece))]
  const { seed, candidates = CANDIDATES, isCancelled } = options
  if (dated.length < 2 || candidates === 0) return orderOf(model, first)
  const pieces = Int32Array.from(accepted, ({ piece }) => piece)
  const weights = Float64Array.from(accepted, ({ weight }) => weight)
  const judge = (order: Int32Array, ofSeed: number, futures: number): number => {
    const trial = tryOut(model, orderOf(model, order), pieces, { seed: ofSeed, futures })
    return weighed(
      weights,
      accepted.map(({ day }, index) => scoreOf(trial, index, day)),
    )
  }
  const random = seededRandom(seed)
  // Dated pieces come first in the first order, so only its head is searched.
  const head = first.slice(0, dated.length)
  const rest = first.subarray(dated.length)
  const whole = (top: Int32Array) => {
    const order = new Int32Array(first.length)
    order.set(top)
    order.set(rest, top.length)
    return order
  }
  let best: Int32Array = head
  let bestScore = judge(first, SEARCH_SEED, JUDGED_ON)
  const most = weights.reduce((sum, weight) => sum + weight, 0)
  for (let tried = 0; tried < candidates; tried++) {
    if (bestScore >= most - 1e-9 || isCancelled?.() === true) break
    const candidate = moved(best, random.below(head.length), random.below(head.length))
    const score = judge(whole(candidate), SEARCH_SEED, JUDGED_ON)
    if (score <= bestScore) continue
    best = candidate
    bestScore = score
  }
  if (best === head) return orderOf(model, first)
  const found = whole(best)
  const holds = judge(found, PROOF_SEED, PROVED_ON) > judge(first, PROOF_SEED, PROVED_ON)
  return orderOf(model, holds ? found : first)
}

/** A list with the entry at `from` taken out and put in at `to`. */
export function moved(list: Int32Array, from: number, to: number): Int32Array {
  const entry = at(list, from)
  const others = list.filter((_, index) => index !== from)
  const next = new Int32Array(list.length)
  next.set(others.subarray(0, to))
  next[to] = entry
  next.set(others.subarray(to), to + 1)
  return next
}
