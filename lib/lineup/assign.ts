/**
 * Generalised assignment: every job to one machine, each machine within its capacity, least cost in all. It is the
 * bare core of the day (who does what, within limits) in the form in which instances with known optima are
 * published, so the search's way of working can be measured against something nobody here wrote.
 *
 * Annealing over small exact searches (assign-search.ts); the bound comes from knapsacks.
 */
import { at } from '#lib/base'
import { searchAssign } from './assign-search.ts'
import { knapsackBound } from './bound/knapsacks.ts'

export interface AssignProblem {
  readonly sense: 'min' | 'max'
  readonly machines: number
  readonly jobs: number
  /** By machine × jobs + job. */
  readonly cost: Int32Array
  readonly use: Int32Array
  readonly capacity: Int32Array
}

export interface AssignAnswer {
  /** Machine of each job; null when no feasible assignment was met. */
  readonly machine: readonly number[] | null
  readonly objective: number | null
  /** No assignment is better than this. */
  readonly bound: number
  readonly steps: number
}

export interface AssignOptions {
  readonly seed: number
  /** Nodes of the small searches; about 20 million a second. */
  readonly steps: number
  /** Rounds of the bound's subgradient. */
  readonly rounds?: number
  readonly isCancelled?: () => boolean
}

/** Reads the OR-Library layout: machines and jobs, costs, uses, capacities, all in one run of whole numbers. */
export function parseAssign(text: string, sense: 'min' | 'max'): AssignProblem {
  const numbers = text.split(/\s+/).filter((word) => word !== '')
  const words = numbers.map(Number)
  if (words.some((word) => !Number.isInteger(word))) throw new RangeError('expected whole numbers only')
  const [machines = 0, jobs = 0] = words
  const cells = machines * jobs
  const wanted = 2 + 2 * cells + machines
  if (machines < 1 || jobs < 1 || words.length < wanted) {
    throw new RangeError(`expected ${wanted} numbers for ${machines} machines and ${jobs} jobs, got ${words.length}`)
  }
  return {
    sense,
    machines,
    jobs,
    cost: Int32Array.from(words.slice(2, 2 + cells)),
    use: Int32Array.from(words.slice(2 + cells, 2 + 2 * cells)),
    capacity: Int32Array.from(words.slice(2 + 2 * cells, wanted)),
  }
}

/** Cost of an assignment, or null when it is not one: the checker's count. */
export function appraiseAssign(problem: AssignProblem, machine: readonly number[]): number | null {
  if (machine.length !== problem.jobs) return null
  const used = new Int32Array(problem.machines)
  let cost = 0
  for (let job = 0; job < problem.jobs; job++) {
    const its = machine[job] ?? -1
    if (!Number.isInteger(its) || its < 0 || its >= problem.machines) return null
    used[its] = at(used, its) + at(problem.use, its * problem.jobs + job)
    cost += at(problem.cost, its * problem.jobs + job)
  }
  return used.every((amount, its) => amount <= at(problem.capacity, its)) ? cost : null
}

/** Searches and bounds; deterministic by seed and steps. */
export function solveAssign(problem: AssignProblem, options: AssignOptions): AssignAnswer {
  const sign = problem.sense === 'min' ? 1 : -1
  const cost = Int32Array.from(problem.cost, (value) => sign * value)
  const minimising: AssignProblem = { ...problem, sense: 'min', cost }
  // Costs are whole numbers, so the bound may be rounded up to one.
  const bound = Math.ceil(knapsackBound(minimising, options.rounds ?? 400) - 1e-6)
  const { seed, steps, isCancelled } = options
  const best = searchAssign(minimising, { seed, steps, bound, isCancelled })
  const machine = best === null ? null : Array.from(best)
  return {
    machine,
    objective: machine === null ? null : appraiseAssign(problem, machine),
    bound: sign * bound,
    steps: options.steps,
  }
}
