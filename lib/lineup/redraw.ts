/**
 * Redraw: somebody did not come, a tool broke, a clock moved. Of all line-ups whose loss against the best is small
 * enough, the one in which the fewest people's day changes. What is begun or held is in the problem as a must.
 *
 * The search runs at several prices for a changed person, from "hardly anybody" to "nothing matters but marks", and
 * keeps the best line-up it meets for each number of changed people; the answer is read off that ladder. Then every way
 * of changing fewer people is gone through, as long as that takes no longer than the search did.
 */
import { at } from '#lib/base'
import { priceDay } from './bound/day.ts'
import { type Difference, diff } from './diff.ts'
import type { Problem, Solution } from './problem.ts'
import { compile } from './solve/compile.ts'
import { fewest } from './solve/fewest.ts'
import { guideOf } from './solve/guide.ts'
import { DEFAULT_SEED } from './solve/index.ts'
import { type Model, MUST_MARKS } from './solve/model.ts'
import { type Snapshot, search } from './solve/search.ts'
import { type Settle, settleDay } from './solve/settle.ts'
import { toSolution } from './solve/solution.ts'
import { anchorOf, startOf } from './solve/start.ts'
import type { Anchor } from './solve/state.ts'

export interface RedrawOptions {
  readonly seed?: number
  readonly steps?: number
  /** Marks that may be lost for the sake of fewer changes, in thousandths of the best score. */
  readonly lossPerMille?: number
  readonly isCancelled?: () => boolean
  /** Asked what a small day is worth at most: the loss is measured against it. */
  readonly settle?: Settle
}

export interface Redrawn {
  readonly solution: Solution
  readonly changes: readonly Difference[]
  readonly changedPeople: number
  /** The best score met with at most this many changed people. */
  readonly ladder: readonly { readonly changed: number; readonly score: number }[]
  readonly bestScore: number
  /** Whether every way of changing fewer people was gone through and loses more. */
  readonly isFewest: boolean
}

/** Prices of one changed person, in shares of the scale of a turn; tried in this order. */
const PRICES = [8, 0.05, 2, 1.2, 0.7, 0.4, 0.25, 1.6, 0.9, 0.5, 0.15]

/** Draws the day again from `problem.posted`, changing as few people as the allowed loss permits. */
export function redraw(problem: Problem, options: RedrawOptions = {}): Redrawn {
  const model = compile(problem)
  const seed = options.seed ?? DEFAULT_SEED
  const lossPerMille = options.lossPerMille ?? 10
  const isSmall = model.persons * model.shifts <= SMALL
  const steps = options.steps ?? (isSmall ? 150_000 : 24_000)
  const cancel = options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }
  const found = new Map<number, Snapshot>()
  const start = startOf(model, problem.posted)
  const scale = meanWorth(model.value)
  const rounds = Math.round(steps / (isSmall ? STEPS_PER_ROUND.small : STEPS_PER_ROUND.large))
  const { reduced } = priceDay(model, { target: start.worth % MUST_MARKS, rounds, ...cancel })
  const guide = guideOf(model, reduced)
  // What the best could be has to be known first: the allowed loss is measured against it.
  const common = { restarts: 1, guide, ladder: found, ...cancel }
  const free = { ...common, seed, steps, restarts: isSmall ? Math.ceil(steps / 8000) : 2, heat: isSmall ? 1 : 0.3 }
  const freely = anchorOf(model, problem.posted, 0)
  const first = search(model, { ...free, start, anchor: freely })
  if (isSmall && options.isCancelled?.() !== true) {
    // Begun from the posted day the search may stay near it.
    const { best } = settleDay(model, first, {
      ...{ seed, reduced, steps: Math.ceil(steps / 8), restarts: 3, heat: 1, parts: 0 },
      ...(options.settle === undefined ? {} : { settle: options.settle }),
      ...cancel,
    })
    const changed = changedIn(best, freely, model)
    if (best.worth > (found.get(changed)?.worth ?? 0)) found.set(changed, best)
  }
  for (const [round, price] of PRICES.entries()) {
    if (chosenOf(found, lossPerMille)?.changed === 0) break
    search(model, {
      ...common,
      seed: seed + round,
      steps: Math.ceil(steps / PRICES.length),
      heat: 0.25,
      start: round < 2 ? start : (chosenOf(found, lossPerMille)?.snapshot ?? start),
      anchor: anchorOf(model, problem.posted, Math.round(price * scale)),
    })
  }
  const isFewest = provenFewest(model, found, { problem, lossPerMille, nodes: Math.round(steps / 2), ...cancel })
  const rungs = [...found].sort(([a], [b]) => a - b)
  const best = bestOf(found)
  const bestSnapshot = rungs.find(([, snapshot]) => snapshot.worth === best)?.[1] ?? start
  const bestSolution = toSolution(model, bestSnapshot)
  const chosen = chosenOf(found, lossPerMille)?.snapshot ?? bestSnapshot
  const solution = toSolution(model, chosen)
  const changes = diff(problem, problem.posted, solution.lineUp)
  const ladder: { changed: number; score: number }[] = []
  for (const [changed, snapshot] of rungs) {
    const { score, unmet } = toSolution(model, snapshot)
    if (unmet.length === bestSolution.unmet.length && score > (ladder.at(-1)?.score ?? -1))
      ladder.push({ changed, score })
  }
  const changedPeople = new Set(
    changes.filter((change) => change.isPresent && change.code !== 'mentor').map((change) => change.person),
  ).size
  return { solution, changes, changedPeople, ladder, bestScore: bestSolution.score, isFewest }
}

/** Turns of a day up to which there is time for certainty; larger labs want an answer within the blink of a drag. */
const SMALL = 40

/** Steps for each round of the prices: they only order the options here, and a round costs the more the larger the lab. */
const STEPS_PER_ROUND = { small: 1000, large: 1600 }

/** Looks for a line-up with fewer changed people until there is none; false when that was not settled in time. */
function provenFewest(
  model: Model,
  found: Map<number, Snapshot>,
  options: {
    readonly problem: Problem
    readonly lossPerMille: number
    readonly nodes: number
    readonly isCancelled?: () => boolean
  },
): boolean {
  const { problem, lossPerMille, ...rest } = options
  const anchor = anchorOf(model, problem.posted, 0)
  for (;;) {
    const chosen = chosenOf(found, lossPerMille)
    if (chosen === undefined) return false
    if (chosen.changed === 0) return true
    const least = bestOf(found) - allowedOf(found, lossPerMille)
    const { snapshot, isComplete } = fewest(model, { ...rest, anchor, least, people: chosen.changed - 1 })
    if (snapshot === null) return isComplete
    found.set(changedIn(snapshot, anchor, model), snapshot)
  }
}

/** How many people's day in a line-up is not as posted. */
function changedIn(snapshot: Snapshot, anchor: Anchor, model: Model): number {
  const changed = new Set<number>()
  snapshot.job.forEach((job, turn) => {
    if (job !== at(anchor.job, turn) || at(snapshot.place, turn) !== at(anchor.place, turn))
      changed.add(Math.floor(turn / model.shifts))
  })
  return changed.size
}

const bestOf = (found: ReadonlyMap<number, Snapshot>): number =>
  [...found.values()].reduce((most, { worth }) => Math.max(most, worth), 0)

/** Marks that may be lost against the best: whole ones, and never a must. */
const allowedOf = (found: ReadonlyMap<number, Snapshot>, lossPerMille: number): number =>
  Math.floor(((bestOf(found) % MUST_MARKS) * lossPerMille) / 1000)

/** The rung with the fewest changed people whose loss is allowed: what the answer would be now. */
function chosenOf(
  found: ReadonlyMap<number, Snapshot>,
  lossPerMille: number,
): { readonly changed: number; readonly snapshot: Snapshot } | undefined {
  const least = bestOf(found) - allowedOf(found, lossPerMille)
  const rung = [...found].sort(([a], [b]) => a - b).find(([, snapshot]) => snapshot.worth >= least)
  return rung && { changed: rung[0], snapshot: rung[1] }
}

function meanWorth(values: Int32Array): number {
  let sum = 0
  let count = 1
  for (const value of values) {
    if (value < 0) continue
    sum += value
    count++
  }
  return Math.max(100, sum / count)
}
