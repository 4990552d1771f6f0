/**
 * Annealing whose single step is a small exact search: a job must leave its machine, and a handful of machines are
 * dealt anew as well as can be within what the temperature allows. It is the idea of ejection chains (Yagiura, Ibaraki
 * & Glover 2004, INFORMS J. Comput. 16:133-151) with the chain found by bounded depth-first search instead of guessed
 * link by link, which for a few machines is quick: with room priced, hardly any branch survives.
 *
 * A job without a place stands "nowhere", a machine of its own whose price rises while anybody stands there. So every
 * state is an assignment, and what has no room yet is placed by the same steps that improve.
 */
import { at, atDouble, seededRandom } from '#lib/base'
import type { AssignProblem } from './assign.ts'
import { capacityPrices } from './bound/knapsacks.ts'
import { exchangeOn, reducedCosts, SET_MAX } from './exchange.ts'

export interface AssignSearchOptions {
  readonly seed: number
  /** Nodes of the small searches, and as many for setting each one up as DEAL_STEPS; about 20 million a second. */
  readonly steps: number
  /** Nothing better than this exists: the search ends there. */
  readonly bound: number
  readonly isCancelled?: (() => boolean) | undefined
}

/** What setting up a re-deal costs, in nodes. */
const DEAL_STEPS = 150
/** Nodes one re-deal may take. Long searches of a few sets gain less than short ones of many: 300 to 5 000 were tried. */
const NODES_MAX = 1_000
/** What standing nowhere costs above the cheapest machine at first, in mean costs of a job, and how fast it rises. */
const NOWHERE = 0.3
const NOWHERE_RISE = 1.5
/** Anneals in one search, each of twice the last one's length: one that is cut short has a good answer all the same. */
const ROUNDS = 2
/** Temperature at the start and the end of an anneal, in shares of the mean cost of a job. */
const HOT = 0.03
const COLD = 0.014
/** A job's new machine is one of so many cheapest. */
const NEAR = 8
/** Draws for one more machine of a set before any machine is taken. */
const TRIES_MAX = 40
/** Machines dealt anew: fewer after a search that was cut short, more after those that were not. */
const SET_LEAST = 2
const SET_LESS = 0.15
const SET_MORE = 0.02
/** Deals between two looks at the cancel flag and the price of nowhere. */
const LOOK_EVERY = 64

/** Best assignment met, as a machine for each job; null when some job never found room. The instance minimises. */
export function searchAssign(problem: AssignProblem, options: AssignSearchOptions): Int32Array | null {
  const random = seededRandom(options.seed)
  const price = capacityPrices(problem, 2000)
  const wide = withNowhere(problem)
  const prices = Float64Array.from({ length: wide.machines }, (_, i) => (i < problem.machines ? atDouble(price, i) : 0))
  const reduced = reducedCosts(wide, prices)
  const order = cheapestFirst(problem, reduced)
  const redeal = exchangeOn(wide, prices, reduced, NODES_MAX)
  const { machines: M, jobs: N } = problem
  const near = Math.min(M, NEAR)
  const scale = meanCost(problem, order)
  const wish = { chosen: new Int32Array(SET_MAX + 1), count: 0, forced: 0, allowance: 0 }

  let best: Int32Array | null = null
  let bestCost = Number.POSITIVE_INFINITY
  const unit = options.steps / (2 ** ROUNDS - 1)
  for (let round = 0; round < ROUNDS && bestCost > options.bound; round++) {
    if (!anneal(unit * 2 ** round)) break
  }
  return best

  /** One cooling over so many steps from a fresh start; false when it was cancelled. */
  function anneal(steps: number): boolean {
    let toll = NOWHERE * scale
    priceNowhere(toll)
    const machine = greedyStart(wide, reduced, order)
    let homeless = countOn(machine, M)
    let now = costOf(wide, machine)
    note()
    let size: number = SET_LEAST
    let deals = 0
    for (let done = 0; done < steps; ) {
      const heat = HOT * (COLD / HOT) ** (done / steps) * scale
      const job = homeless > 0 && random.below(2) === 0 ? anyOn(machine, M, random.below(homeless)) : random.below(N)
      drawSet(machine, job, Math.floor(size + random.unit()))
      const isForRoom = at(machine, job) === M
      wish.forced = job
      // The draw comes first: what the temperature allows is then a bound, and the search need not look beyond it.
      wish.allowance = Math.floor(-heat * Math.log(1 - random.unit()))
      const { change, nodes } = redeal(machine, wish)
      done += nodes + DEAL_STEPS
      if (change !== null) {
        now += change
        if (homeless > 0) homeless = countOn(machine, M)
        note()
        if (bestCost <= options.bound) return true
      }
      if (!isForRoom) {
        size += nodes >= NODES_MAX ? -SET_LESS : SET_MORE
        size = Math.max(SET_LEAST, Math.min(SET_MAX - 2, size))
      }
      if (++deals % LOOK_EVERY === 0) {
        if (options.isCancelled?.() === true) return false
        if (homeless > 0) {
          toll *= NOWHERE_RISE
          priceNowhere(toll)
          now = costOf(wide, machine)
        }
      }
    }
    return true

    function note(): void {
      if (homeless > 0 || now >= bestCost) return
      bestCost = now
      best = Int32Array.from(machine)
    }
  }

  /** Nowhere costs so much more than each job's cheapest machine; costs stay whole numbers. */
  function priceNowhere(toll: number): void {
    for (let j = 0; j < N; j++) {
      const cheapest = Math.ceil(atDouble(reduced, at(order, j * M) * N + j) + Math.min(toll, 1e6))
      wide.cost[M * N + j] = cheapest
      reduced[M * N + j] = cheapest
    }
  }

  /** The job's own machine, one near to it, and on along the chain: machines near to jobs of those drawn already. */
  function drawSet(machine: Int32Array, job: number, size: number): void {
    const { chosen } = wish
    const own = at(machine, job)
    chosen[0] = own
    wish.count = 1
    const wanted = Math.min(size, M) + (own === M ? 1 : 0)
    let link = job
    for (let tries = 0; wish.count < wanted; tries++) {
      // Chains may close before the set is full; then any machine will do.
      const i = tries < TRIES_MAX ? at(order, link * M + random.below(near)) : random.below(M)
      if (chosen.subarray(0, wish.count).includes(i)) continue
      chosen[wish.count++] = i
      for (let draws = 0; draws < TRIES_MAX; draws++) {
        link = random.below(N)
        if (at(machine, link) === i) break
      }
    }
  }
}

/** One more machine, without a need for room; what it costs is set later. */
function withNowhere(problem: AssignProblem): AssignProblem {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  const wider = (table: Int32Array, length: number): Int32Array => {
    const made = new Int32Array(length)
    made.set(table)
    return made
  }
  return {
    ...problem,
    machines: M + 1,
    cost: wider(cost, (M + 1) * N),
    use: wider(use, (M + 1) * N),
    capacity: wider(capacity, M + 1),
  }
}

/** Machines of each job, cheapest first with room priced. */
function cheapestFirst({ machines: M, jobs: N }: AssignProblem, reduced: Float64Array): Int32Array {
  const order = new Int32Array(N * M)
  for (let j = 0; j < N; j++) {
    const value = (i: number) => atDouble(reduced, i * N + j)
    order.set(
      Array.from({ length: M }, (_, i) => i).sort((a, b) => value(a) - value(b) || a - b),
      j * M,
    )
  }
  return order
}

/** Jobs with most to lose first, each to its cheapest machine that still has room, else nowhere. */
function greedyStart(wide: AssignProblem, reduced: Float64Array, order: Int32Array): Int32Array {
  const { jobs: N, use } = wide
  const M = wide.machines - 1
  const room = Int32Array.from(wide.capacity)
  const machine = new Int32Array(N).fill(M)
  const regret = (j: number) =>
    atDouble(reduced, at(order, j * M + Math.min(1, M - 1)) * N + j) - atDouble(reduced, at(order, j * M) * N + j)
  const sorted = Array.from({ length: N }, (_, j) => j).sort((a, b) => regret(b) - regret(a) || a - b)
  for (const j of sorted) {
    for (let k = 0; k < M; k++) {
      const i = at(order, j * M + k)
      const left = at(room, i) - at(use, i * N + j)
      if (left < 0) continue
      room[i] = left
      machine[j] = i
      break
    }
  }
  return machine
}

/** Mean size of a job's cost on its cheapest machine: what temperatures are measured in. */
function meanCost({ machines: M, jobs: N, cost }: AssignProblem, order: Int32Array): number {
  let sum = 0
  for (let j = 0; j < N; j++) sum += Math.abs(at(cost, at(order, j * M) * N + j))
  return Math.max(1, sum / N)
}

function costOf({ jobs: N, cost }: AssignProblem, machine: Int32Array): number {
  return machine.reduce((sum, i, j) => sum + at(cost, i * N + j), 0)
}

function countOn(machine: Int32Array, i: number): number {
  return machine.reduce((sum, own) => sum + Number(own === i), 0)
}

/** The nth job on a machine. */
function anyOn(machine: Int32Array, i: number, nth: number): number {
  let left = nth
  return machine.findIndex((own) => own === i && left-- === 0)
}
