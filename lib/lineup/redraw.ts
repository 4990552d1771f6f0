/**
 * Redraw: somebody did not come, a tool broke, a clock moved. Of all line-ups whose loss against the best is small
 * enough, the one in which the fewest people's day changes. What is begun or held is in the problem as a must.
 *
 * The search runs at several prices for a changed person, from "hardly anybody" to "nothing matters but marks", and
 * keeps the best line-up it meets for each number of changed people; the answer is read off that ladder.
 */
import { type Difference, diff } from './diff.ts'
import type { Problem, Solution } from './problem.ts'
import { compile } from './solve/compile.ts'
import { DEFAULT_SEED, toSolution } from './solve/index.ts'
import { MUST_MARKS } from './solve/model.ts'
import { type Snapshot, search } from './solve/search.ts'
import { anchorOf, startOf } from './solve/start.ts'

export interface RedrawOptions {
  readonly seed?: number
  readonly steps?: number
  /** Marks that may be lost for the sake of fewer changes, in thousandths of the best score. */
  readonly lossPerMille?: number
  readonly isCancelled?: () => boolean
}

export interface Redrawn {
  readonly solution: Solution
  readonly changes: readonly Difference[]
  readonly changedPeople: number
  /** The best score met with at most this many changed people. */
  readonly ladder: readonly { readonly changed: number; readonly score: number }[]
  readonly bestScore: number
}

/** Prices of one changed person, in shares of the scale of a turn; tried in this order. */
const PRICES = [8, 0.05, 2, 1.2, 0.7, 0.4, 0.25, 1.6, 0.9, 0.5, 0.15]

/** Draws the day again from `problem.posted`, changing as few people as the allowed loss permits. */
export function redraw(problem: Problem, options: RedrawOptions = {}): Redrawn {
  const model = compile(problem)
  const seed = options.seed ?? DEFAULT_SEED
  const lossPerMille = options.lossPerMille ?? 10
  const each = Math.ceil((options.steps ?? stepsOf(model.persons * model.shifts)) / PRICES.length)
  const found = new Map<number, Snapshot>()
  const start = startOf(model, problem.posted)
  const scale = meanWorth(model.value)
  PRICES.forEach((price, round) => {
    search(model, {
      seed: seed + round,
      steps: each,
      restarts: 1,
      heat: 0.25,
      start: round < 2 ? start : (chosenOf(found, lossPerMille) ?? start),
      anchor: anchorOf(model, problem.posted, Math.round(price * scale)),
      ladder: found,
      ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
    })
  })
  const rungs = [...found].sort(([a], [b]) => a - b)
  const best = rungs.reduce((most, [, snapshot]) => Math.max(most, snapshot.worth), 0)
  const bestSnapshot = rungs.find(([, snapshot]) => snapshot.worth === best)?.[1] ?? start
  const bestSolution = toSolution(model, bestSnapshot)
  const chosen = chosenOf(found, lossPerMille) ?? bestSnapshot
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
  return { solution, changes, changedPeople, ladder, bestScore: bestSolution.score }
}

/** Small labs have the time for certainty; large ones want an answer within the blink of a drag. */
function stepsOf(turns: number): number {
  return turns <= 40 ? 150_000 : 60_000
}

/** The rung with the fewest changed people whose loss is allowed: what the answer would be now. */
function chosenOf(found: ReadonlyMap<number, Snapshot>, lossPerMille: number): Snapshot | undefined {
  let best = 0
  for (const snapshot of found.values()) best = Math.max(best, snapshot.worth)
  const allowed = ((best % MUST_MARKS) * lossPerMille) / 1000
  const rungs = [...found].sort(([a], [b]) => a - b)
  return rungs.find(([, snapshot]) => snapshot.worth >= best - allowed)?.[1]
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
