/**
 * From a problem to a line-up: compile, search, and the way back from tables to ids. Nothing here looks at a clock;
 * who calls turns seconds into steps and may cancel.
 */
import { priceDay } from '../bound/day.ts'
import type { Problem, Solution } from '../problem.ts'
import { compile } from './compile.ts'
import type { Model } from './model.ts'
import { type Snapshot, search } from './search.ts'
import { type Settle, settleDay } from './settle.ts'
import { toSolution } from './solution.ts'

export type { Settle } from './settle.ts'

export interface SolveOptions {
  readonly seed?: number
  /** How many changes the search may try; equal steps and seed give equal line-ups. */
  readonly steps?: number
  readonly restarts?: number
  /** Share of the scale of a turn's options at which the search starts. */
  readonly heat?: number
  /** Told each better line-up as it is found. */
  readonly onBetter?: (solution: Solution, stepsDone: number) => void
  /** Asked now and then; true ends the search, and the best so far is the answer. */
  readonly isCancelled?: () => boolean
  /** Asked about small days that parting leaves open. */
  readonly settle?: Settle
}

const HEAT = 1

/** The bound's prices get about a quarter of the time: one of their rounds costs what so many steps do. */
const STEPS_PER_ROUND = 600

/** Days of at most so many turns are settled, if there are steps enough: a share of the steps goes to the first search, to each further one, to parts. */
const SETTLED_TURNS = 60
const FIRST_SHARE = 0.2
const FURTHER_SHARE = 0.12
const STEPS_PER_PART = 40_000

export const DEFAULT_SEED = 20_261_125

/** Steps that suit a problem's size: under a second for a lab of 26 people on the slowest machine we know. */
export function stepsFor(problem: Problem): number {
  return Math.min(2_000_000, 150_000 + problem.people.length * problem.shifts.length * 3_000)
}

/** Many short rounds from the best find more optima than few long ones; below this many steps a turn they find less. */
const STEPS_PER_TURN = 350

function restartsFor(model: Model, steps: number): number {
  return Math.max(3, Math.round(steps / (STEPS_PER_TURN * Math.max(1, model.persons * model.shifts))))
}

/** The best line-up found within the budget. The problem must be free of findings (see judgeProblem). */
export function solve(problem: Problem, options: SolveOptions = {}): Solution {
  const model = compile(problem)
  const { onBetter, isCancelled } = options
  const seed = options.seed ?? DEFAULT_SEED
  const heat = options.heat ?? HEAT
  const first = search(model, { seed, steps: 0, restarts: 1, heat })
  const { score: target, unmet } = toSolution(model, first)
  const steps = options.steps ?? stepsFor(problem)
  const rounds = Math.max(30, Math.min(400, Math.ceil(steps / STEPS_PER_ROUND)))
  // The search never gives up a must that the first line-up keeps.
  const keepsMusts = unmet.length === 0
  const { bound, reduced } = priceDay(model, {
    ...{ target, keepsMusts, rounds },
    ...(isCancelled === undefined ? {} : { isCancelled }),
  })
  const turns = model.persons * model.shifts
  const isSmall = keepsMusts && turns <= SETTLED_TURNS && steps >= STEPS_PER_TURN * turns
  const own = isSmall ? Math.ceil(steps * FIRST_SHARE) : steps
  const tell = (snapshot: Snapshot, most: number, done: number) =>
    onBetter?.(withBound(toSolution(model, snapshot), most), done)
  const cancel = isCancelled === undefined ? {} : { isCancelled }
  const best = search(model, {
    seed,
    steps: own,
    restarts: options.restarts ?? restartsFor(model, own),
    heat,
    reduced,
    onBetter: (snapshot, done) => tell(snapshot, bound, done),
    ...cancel,
  })
  const found = toSolution(model, best)
  if (!isSmall || found.score >= bound || isCancelled?.() === true) return withBound(found, bound)
  const further = Math.ceil(steps * FURTHER_SHARE)
  const settled = settleDay(model, best, {
    ...{ seed, heat, reduced, steps: further, parts: Math.ceil(steps / STEPS_PER_PART) },
    restarts: options.restarts ?? restartsFor(model, further),
    onBetter: (snapshot, most) => tell(snapshot, Math.min(most, bound), steps),
    ...(options.settle === undefined ? {} : { settle: options.settle }),
    ...cancel,
  })
  return withBound(toSolution(model, settled.best), Math.min(bound, settled.bound))
}

/** The solution with what is known of better ones. Whether an unkept must could be kept is not the bound's to say. */
function withBound(solution: Solution, bound: number): Solution {
  return { ...solution, bound, isProven: solution.unmet.length === 0 && solution.score === bound }
}
