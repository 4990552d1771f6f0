/**
 * Generalised assignment: every job to one machine, each machine within its capacity, least cost in all. It is the
 * bare core of the day (who does what, within limits) in the form in which instances with known optima are
 * published, so the search's way of working can be measured against something nobody here wrote.
 *
 * Annealing as for the day, with two differences that the narrow capacities ask for: a machine may be overfull at a
 * price that rises while nothing feasible is met and falls while it is, and the bound comes from knapsacks.
 */
import { at, atDouble, seededRandom } from '#lib/base'
import { capacityPrices, type KnapsackBound, knapsackBound } from './bound/knapsacks.ts'
import { exchangeOn } from './exchange.ts'

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
  readonly steps: number
  readonly restarts?: number
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

/** Re-deals after each round of annealing: one for so many steps, which takes about as long, up to a most. */
const STEPS_PER_DEAL = 700
const DEALS_MAX = 600

/** Starting temperatures of the rounds, in shares of the scale: most polish, some roam. */
const HEATS = [0.2, 0.05, 0.1, 0.1, 0.4, 0.2] as const

/** Steps between two looks at temperature, price and cancel flag. */
const STRIDE = 1024

/** Searches and bounds; deterministic by seed and steps. */
export function solveAssign(problem: AssignProblem, options: AssignOptions): AssignAnswer {
  const sign = problem.sense === 'min' ? 1 : -1
  const cost = Int32Array.from(problem.cost, (value) => sign * value)
  const dual = knapsackBound({ ...problem, cost }, options.rounds ?? 400)
  const best = anneal({ ...problem, cost }, options, { ...dual, bound: Math.ceil(dual.bound - 1e-6) })
  const machine = best === null ? null : Array.from(best)
  return {
    machine,
    objective: machine === null ? null : appraiseAssign(problem, machine),
    bound: sign * Math.ceil(dual.bound - 1e-6),
    steps: options.steps,
  }
}

function anneal(problem: AssignProblem, options: AssignOptions, dual: KnapsackBound): Int32Array | null {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  const random = seededRandom(options.seed)
  const machine = new Int32Array(N)
  const used = new Int32Array(M)
  const value = capacityPrices(problem, 600)
  const price = new Float64Array(M)
  const { order, spread } = machinesByReducedCost(problem, value)
  const near = Math.min(M, NEAR)
  const exchange = exchangeOn(problem, value, random)
  let best: Int32Array | null = null
  let bestCost = Number.POSITIVE_INFINITY
  const { starts } = dual
  const restarts = options.restarts ?? 12
  const each = Math.ceil(options.steps / restarts)
  for (let round = 0; round < restarts; round++) {
    // Every other round polishes the best so far, the others begin at what the knapsacks would choose.
    const start =
      round % 2 === 1 && best !== null ? best : starts[starts.length - 1 - ((round >> 1) % Math.max(1, starts.length))]
    used.fill(0)
    for (let j = 0; j < N; j++) {
      machine[j] = start === undefined ? at(order, j * M) : at(start, j)
      used[at(machine, j)] = at(used, at(machine, j)) + at(use, at(machine, j) * N + j)
    }
    for (let i = 0; i < M; i++) price[i] = Math.max(0.05, atDouble(value, i) * 3)
    const hottest = Math.max(0.3, spread * (HEATS[round % HEATS.length] ?? 0.1))
    const coldest = Math.min(hottest, 0.15)
    const cooling = (coldest / hottest) ** (STRIDE / each)
    let temperature = hottest
    let now = costOf(cost, machine, N)
    for (let step = 0; step < each; step++) {
      if (step % STRIDE === 0) {
        if (step > 0) temperature *= cooling
        for (let i = 0; i < M; i++) {
          const isFull = at(used, i) > at(capacity, i)
          price[i] = Math.min(spread * 20, Math.max(0.01, atDouble(price, i) * (isFull ? 1.1 : 0.97)))
        }
        if (options.isCancelled?.() === true) return best
      }
      const a = random.below(N)
      const from = at(machine, a)
      if (random.below(3) === 0) {
        const to = at(order, a * M + random.below(near))
        if (to === from) continue
        const delta = at(cost, to * N + a) - at(cost, from * N + a)
        const usedFrom = at(used, from) - at(use, from * N + a)
        const usedTo = at(used, to) + at(use, to * N + a)
        if (!accepts(delta + excess(from, usedFrom) + excess(to, usedTo), temperature)) continue
        machine[a] = to
        used[from] = usedFrom
        used[to] = usedTo
        now += delta
      } else {
        const b = random.below(N)
        const to = at(machine, b)
        if (to === from) continue
        const delta = at(cost, to * N + a) - at(cost, from * N + a) + at(cost, from * N + b) - at(cost, to * N + b)
        const usedFrom = at(used, from) - at(use, from * N + a) + at(use, from * N + b)
        const usedTo = at(used, to) + at(use, to * N + a) - at(use, to * N + b)
        if (!accepts(delta + excess(from, usedFrom) + excess(to, usedTo), temperature)) continue
        machine[a] = to
        machine[b] = from
        used[from] = usedFrom
        used[to] = usedTo
        now += delta
      }
      if (now < bestCost && used.every((amount, i) => amount <= at(capacity, i))) {
        bestCost = now
        best = Int32Array.from(machine)
      }
    }
    if (best !== null) bestCost -= redealAll(best)
    if (bestCost <= dual.bound) break
  }
  return best

  /** Many re-deals of a few machines each; sets grow as gains become rare. */
  function redealAll(held: Int32Array): number {
    let gained = 0
    const deals = Math.min(DEALS_MAX, Math.ceil(each / STEPS_PER_DEAL))
    for (let deal = 0; deal < deals; deal++) {
      if (options.isCancelled?.() === true) break
      gained += exchange.redeal(held, exchange.draw(setSize()))
    }
    return gained
  }

  /** A third to four fifths of the machines: large sets are cut short by the node limit, and still gain most. */
  function setSize(): number {
    const least = Math.min(M, Math.max(2, Math.round(M * 0.3)))
    return Math.min(M, 16, least + random.below(1 + Math.round(M * 0.5)))
  }

  function excess(i: number, after: number): number {
    const most = at(capacity, i)
    return atDouble(price, i) * (Math.max(0, after - most) - Math.max(0, at(used, i) - most))
  }

  function accepts(delta: number, temperature: number): boolean {
    return delta <= 0 || random.unit() < Math.exp(-delta / temperature)
  }
}

/** How many machines a job tries: those whose cost, with the room it takes priced, is least. */
const NEAR = 8

/** Machines of each job, cheapest first with room priced, and the mean distance of the second to the first. */
function machinesByReducedCost(
  { machines: M, jobs: N, cost, use }: AssignProblem,
  price: Float64Array,
): { readonly order: Int32Array; readonly spread: number } {
  const order = new Int32Array(N * M)
  let sum = 0
  for (let j = 0; j < N; j++) {
    const reduced = (i: number): number => at(cost, i * N + j) + atDouble(price, i) * at(use, i * N + j)
    const own = Array.from({ length: M }, (_, i) => i).sort((a, b) => reduced(a) - reduced(b) || a - b)
    order.set(own, j * M)
    sum += reduced(own[Math.min(2, M - 1)] ?? 0) - reduced(own[0] ?? 0)
  }
  return { order, spread: Math.max(1, sum / N) }
}

function costOf(cost: Int32Array, machine: Int32Array, jobs: number): number {
  return machine.reduce((sum, i, j) => sum + at(cost, i * jobs + j), 0)
}
