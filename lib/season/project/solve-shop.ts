/**
 * Job shops: tabu search that swaps neighbours on one machine along a longest way (van Laarhoven, Aarts & Lenstra 1992),
 * each swap judged by the two ways through the swapped pair (Taillard 1994) before one is made and all heads and tails are
 * counted anew. When nothing better comes for long, it begins again near the best.
 */
import { at, type Random, seededRandom } from '#lib/base'
import { boundOf } from './bound.ts'
import type { Budget } from './climb.ts'
import { type JobShop, toFollowers } from './project.ts'

export interface ShopAnswer {
  /** By operation, job by job. */
  readonly start: readonly number[]
  readonly length: number
  readonly bound: number
  readonly schedules: number
}

/** Swaps without a better schedule before the search begins again near the best. */
const PATIENCE = 6000
/** Entries of the tabu table, a power of two; arcs that share one forbid each other, which does no harm. */
const TABU = 1 << 18

export function solveShop(shop: JobShop, budget: Budget): ShopAnswer {
  const random = seededRandom(budget.seed)
  const state = beginShop(shop)
  const { count } = state
  const bound = shopBound(shop)
  const best = { length: retime(state), start: state.head.slice(), next: state.next.slice(), prev: state.prev.slice() }
  const tabu = new Int32Array(TABU)
  const slot = (u: number, v: number): number => Math.imul(u * count + v, 0x9e3779b1) >>> 14
  let schedules = 2
  let since = 0
  let patience = PATIENCE
  for (let step = 1; schedules < budget.schedules && best.length > bound && count > 0; step++) {
    if (step % 64 === 0 && budget.isCancelled?.() === true) break
    if (since++ > patience) {
      state.next.set(best.next)
      state.prev.set(best.prev)
      retime(state)
      schedules += 2
      for (let kick = 3 + random.below(10); kick > 0; kick--) {
        const pair = anyPair(state, random)
        if (pair < 0) break
        swapTimed(state, pair)
        schedules += 2
      }
      tabu.fill(0)
      since = 0
      patience = PATIENCE + random.below(PATIENCE)
    }
    const u = choosePair(state, best.length, (a, b) => at(tabu, slot(a, b)) > step, random)
    if (u < 0) break
    const v = at(state.next, u)
    tabu[slot(u, v)] = step + 8 + random.below(14)
    const length = swapTimed(state, u)
    schedules += 2
    if (length < best.length) {
      best.length = length
      best.start.set(state.head)
      best.next.set(state.next)
      best.prev.set(state.prev)
      since = 0
      budget.onBetter?.(length)
    }
  }
  return { start: Array.from(best.start), length: best.length, bound, schedules }
}

interface State {
  readonly count: number
  readonly duration: Int32Array
  /** Before and after in the job; -1 for none. */
  readonly jobPrev: Int32Array
  readonly jobNext: Int32Array
  /** Before and after on the machine. */
  readonly prev: Int32Array
  readonly next: Int32Array
  readonly head: Int32Array
  /** Longest way to the end, own duration included. */
  readonly tail: Int32Array
  readonly order: Int32Array
  readonly waiting: Int32Array
}

/** A first schedule: always the operation that can begin first, the job with most left among equals. */
function beginShop({ jobs, machines, jobFrom, machine, duration }: JobShop): State {
  const count = machine.length
  const table = (): Int32Array => new Int32Array(count).fill(-1)
  const [jobPrev, jobNext, prev, next] = [table(), table(), table(), table()]
  const left = new Int32Array(jobs)
  const at0 = jobFrom.slice(0, jobs)
  const jobReady = new Int32Array(jobs)
  const machineReady = new Int32Array(machines)
  const lastOn = new Int32Array(machines).fill(-1)
  for (let j = 0; j < jobs; j++) {
    for (let o = at(jobFrom, j); o < at(jobFrom, j + 1); o++) {
      left[j] = at(left, j) + at(duration, o)
      if (o > at(jobFrom, j)) jobPrev[o] = o - 1
      if (o + 1 < at(jobFrom, j + 1)) jobNext[o] = o + 1
    }
  }
  for (let done = 0; done < count; done++) {
    let pick = -1
    let when = 0
    for (let j = 0; j < jobs; j++) {
      if (at(at0, j) >= at(jobFrom, j + 1)) continue
      const time = Math.max(at(jobReady, j), at(machineReady, at(machine, at(at0, j))))
      if (pick < 0 || time < when || (time === when && at(left, j) > at(left, pick))) {
        pick = j
        when = time
      }
    }
    const o = at(at0, pick)
    const m = at(machine, o)
    const last = at(lastOn, m)
    if (last >= 0) {
      next[last] = o
      prev[o] = last
    }
    lastOn[m] = o
    at0[pick] = o + 1
    left[pick] = at(left, pick) - at(duration, o)
    jobReady[pick] = when + at(duration, o)
    machineReady[m] = when + at(duration, o)
  }
  const empty = (): Int32Array => new Int32Array(count)
  return {
    count,
    duration,
    jobPrev,
    jobNext,
    prev,
    next,
    head: empty(),
    tail: empty(),
    order: empty(),
    waiting: empty(),
  }
}

/**
 * Swaps, counts anew and returns the length. Where an operation takes no time, a swap on a longest way can close a circle
 * (with time it cannot): then it is taken back.
 */
function swapTimed(state: State, u: number): number {
  const v = at(state.next, u)
  swap(state, u)
  const length = retime(state)
  if (length >= 0) return length
  swap(state, v)
  return retime(state)
}

/** Counts all heads and tails anew and returns the length; -1 when some operations wait for themselves. */
function retime({ count, duration, jobPrev, jobNext, prev, next, head, tail, order, waiting }: State): number {
  let filled = 0
  for (let o = 0; o < count; o++) {
    const many = (at(jobPrev, o) >= 0 ? 1 : 0) + (at(prev, o) >= 0 ? 1 : 0)
    waiting[o] = many
    if (many === 0) order[filled++] = o
  }
  let length = 0
  for (let i = 0; i < filled; i++) {
    const o = at(order, i)
    const j = at(jobPrev, o)
    const m = at(prev, o)
    const byJob = j < 0 ? 0 : at(head, j) + at(duration, j)
    const byMachine = m < 0 ? 0 : at(head, m) + at(duration, m)
    const time = Math.max(byJob, byMachine)
    head[o] = time
    if (time + at(duration, o) > length) length = time + at(duration, o)
    for (let k = 0; k < 2; k++) {
      const f = k === 0 ? at(jobNext, o) : at(next, o)
      if (f < 0) continue
      waiting[f] = at(waiting, f) - 1
      if (at(waiting, f) === 0) order[filled++] = f
    }
  }
  if (filled < count) return -1
  for (let i = filled - 1; i >= 0; i--) {
    const o = at(order, i)
    const j = at(jobNext, o)
    const m = at(next, o)
    const byJob = j < 0 ? 0 : at(tail, j)
    const byMachine = m < 0 ? 0 : at(tail, m)
    tail[o] = at(duration, o) + Math.max(byJob, byMachine)
  }
  return length
}

const isCritical = ({ head, tail }: State, o: number, length: number): boolean => at(head, o) + at(tail, o) === length

function lengthOf({ count, head, tail }: State): number {
  let length = 0
  for (let o = 0; o < count; o++) length = Math.max(length, at(head, o) + at(tail, o))
  return length
}

/** The best swap (its first operation) of neighbours on a longest way, unless forbidden and no better than the best; -1 for none. */
function choosePair(
  state: State,
  best: number,
  isForbidden: (u: number, v: number) => boolean,
  random: Random,
): number {
  const { count, duration, next, head } = state
  const length = lengthOf(state)
  let chosen = -1
  let least = 1 << 30
  let ties = 1
  let spare = -1
  let seen = 0
  for (let u = 0; u < count; u++) {
    const v = at(next, u)
    if (v < 0 || v === at(state.jobNext, u) || !isCritical(state, u, length) || !isCritical(state, v, length)) continue
    if (at(head, v) !== at(head, u) + at(duration, u)) continue
    seen++
    if (random.below(seen) === 0) spare = u
    const value = after(state, u, v)
    if (isForbidden(v, u) && value >= best) continue
    if (value < least) {
      least = value
      chosen = u
      ties = 1
    } else if (value === least && random.below(++ties) === 0) chosen = u
  }
  return chosen >= 0 ? chosen : spare
}

/** The longer of the ways through the pair after its swap: never above the true length. */
function after({ duration, jobPrev, jobNext, prev, next, head, tail }: State, u: number, v: number): number {
  const end = (o: number): number => (o < 0 ? 0 : at(head, o) + at(duration, o))
  const rest = (o: number): number => (o < 0 ? 0 : at(tail, o))
  const headV = Math.max(end(at(prev, u)), end(at(jobPrev, v)))
  const headU = Math.max(headV + at(duration, v), end(at(jobPrev, u)))
  const tailU = at(duration, u) + Math.max(rest(at(next, v)), rest(at(jobNext, u)))
  const tailV = at(duration, v) + Math.max(tailU, rest(at(jobNext, v)))
  return Math.max(headV + tailV, headU + tailU)
}

function anyPair(state: State, random: Random): number {
  return choosePair(state, 0, () => random.below(2) === 0, random)
}

function swap({ prev, next }: State, u: number): void {
  const v = at(next, u)
  const before = at(prev, u)
  const behind = at(next, v)
  if (before >= 0) next[before] = v
  if (behind >= 0) prev[behind] = u
  prev[v] = before
  next[v] = u
  prev[u] = v
  next[u] = behind
}

/** The bound of the same shop with machines as capacities of one. */
function shopBound({ machines, jobs, jobFrom, machine, duration }: JobShop): number {
  const use = new Int32Array(machine.length * machines)
  machine.forEach((m, o) => {
    use[o * machines + m] = 1
  })
  const arcs: (readonly [number, number])[] = []
  for (let j = 0; j < jobs; j++) {
    for (let o = at(jobFrom, j); o + 1 < at(jobFrom, j + 1); o++) arcs.push([o, o + 1])
  }
  const followers = toFollowers(machine.length, arcs)
  return boundOf({ followers, duration, capacity: new Int32Array(machines).fill(1), use })
}
