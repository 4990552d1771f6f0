/**
 * Re-deals the jobs of a few machines among them by a bounded depth-first search: where capacities are tight, no
 * chain of single moves gets from one good assignment to the next, but a small exact search does. The prices of
 * room make its bound sharp, since good assignments lie close to the linear bound.
 */
import { at, atDouble } from '#lib/base'
import type { AssignProblem } from './assign.ts'

/** Sums of prices are doubles; what is exactly within the budget stays within. */
const ROUNDING = 1e-7

/** The most machines in one re-deal. */
export const SET_MAX = 8

export interface Deal {
  /** Least cost found is so much above what it was (below nought: better); null when nothing within the allowance. */
  readonly change: number | null
  /** Nodes looked at; as many as were allowed when the search was cut short. */
  readonly nodes: number
}

/** What a re-deal is asked for. */
export interface Wish {
  /** Different machines, `count` of them from the start of the list, at most SET_MAX. */
  readonly chosen: Int32Array
  readonly count: number
  /** A job that must leave its machine, which is among the chosen; −1 for none. */
  readonly forced: number
  /** How much dearer the outcome may be. */
  readonly allowance: number
}

/**
 * Prepares re-deals for an instance (a minimising one) at the given prices of room, with the costs so reduced; they
 * change `machine` in place, and take the best found after `nodesMax` nodes.
 */
export function exchangeOn(
  problem: AssignProblem,
  price: Float64Array,
  reduced: Float64Array,
  nodesMax: number,
): (machine: Int32Array, wish: Wish) => Deal {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  // The set at hand: its jobs, those whose choice matters most first, and each one's options, cheapest first.
  const jobs = new Int32Array(N)
  const regret = new Float64Array(N)
  const options = new Int32Array(N)
  const slot = new Int32Array(N * SET_MAX)
  const amount = new Int32Array(N * SET_MAX)
  const dearer = new Float64Array(N * SET_MAX)
  const paid = new Float64Array(N * SET_MAX)
  const place = new Int32Array(M)
  const room = new Int32Array(SET_MAX)
  // The path of the search.
  const turn = new Int32Array(N + 1)
  const pick = new Int32Array(N + 1)
  const excess = new Float64Array(N + 1)
  const spent = new Float64Array(N + 1)
  const found = new Int32Array(N)
  const sortedValue = new Float64Array(SET_MAX)
  const sortedSlot = new Int32Array(SET_MAX)
  return redeal

  function redeal(machine: Int32Array, wish: Wish): Deal {
    const { before, least, size } = gather(machine, wish)
    // All that costs at most this is welcome; the bound is the sum of cheapest options less what room is worth.
    const most = before + wish.allowance
    const budget = most - least + ROUNDING
    if (budget < 0) return { change: null, nodes: 0 }
    for (let k = 0; k < size; k++) lineUpOptions(k, machine, wish, budget)
    const { best, nodes } = visit(size, most, least)
    if (best === null) return { change: null, nodes }
    for (let k = 0; k < size; k++) machine[at(jobs, k)] = at(wish.chosen, at(found, k))
    return { change: best - before, nodes }
  }

  /** Collects the jobs of the set in order of regret, and what they cost now and at the least. */
  function gather(machine: Int32Array, { chosen, count, forced }: Wish) {
    let size = 0
    let before = 0
    let least = 0
    place.fill(-1)
    for (let c = 0; c < count; c++) {
      const i = at(chosen, c)
      place[i] = c
      room[c] = at(capacity, i)
      least -= atDouble(price, i) * at(capacity, i)
    }
    for (let j = 0; j < N; j++) {
      const now = at(machine, j)
      if (at(place, now) < 0) continue
      before += at(cost, now * N + j)
      let first = Number.POSITIVE_INFINITY
      let second = Number.POSITIVE_INFINITY
      for (let c = 0; c < count; c++) {
        const i = at(chosen, c)
        if (j === forced && i === now) continue
        const value = atDouble(reduced, i * N + j)
        if (value < first) {
          second = first
          first = value
        } else if (value < second) second = value
      }
      regret[j] = j === forced ? Number.POSITIVE_INFINITY : second - first
      least += first
      let k = size++
      while (k > 0 && atDouble(regret, at(jobs, k - 1)) < atDouble(regret, j)) {
        jobs[k] = at(jobs, k - 1)
        k--
      }
      jobs[k] = j
    }
    return { before, least, size }
  }

  /** Options of the k-th job that alone stay within the budget, cheapest first. */
  function lineUpOptions(k: number, machine: Int32Array, { chosen, count, forced }: Wish, budget: number): void {
    const j = at(jobs, k)
    let sorted = 0
    for (let c = 0; c < count; c++) {
      const i = at(chosen, c)
      if (j === forced && i === at(machine, j)) continue
      const value = atDouble(reduced, i * N + j)
      let q = sorted++
      while (q > 0 && atDouble(sortedValue, q - 1) > value) {
        sortedValue[q] = atDouble(sortedValue, q - 1)
        sortedSlot[q] = at(sortedSlot, q - 1)
        q--
      }
      sortedValue[q] = value
      sortedSlot[q] = c
    }
    let kept = 0
    for (let t = 0; t < sorted; t++) {
      const above = atDouble(sortedValue, t) - atDouble(sortedValue, 0)
      if (above > budget) break
      const c = at(sortedSlot, t)
      const cell = at(chosen, c) * N + j
      const o = k * SET_MAX + kept++
      slot[o] = c
      amount[o] = at(use, cell)
      paid[o] = at(cost, cell)
      dearer[o] = above
    }
    options[k] = kept
  }

  /** Depth first over the jobs; leaves the best in `found`. No recursion: this is the inner loop of everything. */
  function visit(size: number, most: number, least: number) {
    let best: number | null = null
    // Costs are whole numbers: only what is a whole one better is of interest.
    let wanted = most
    let nodes = 0
    let k = 0
    turn[0] = 0
    excess[0] = 0
    spent[0] = 0
    while (k >= 0) {
      let isPlaced = false
      if (k === size) {
        // Room left over makes the true cost higher than the priced one.
        if (atDouble(spent, size) <= wanted) {
          best = atDouble(spent, size)
          for (let q = 0; q < size; q++) found[q] = at(slot, q * SET_MAX + at(pick, q))
          wanted = best - 1
        }
      } else {
        const budget = wanted - least + ROUNDING
        const end = k * SET_MAX + at(options, k)
        for (let o = k * SET_MAX + at(turn, k); o < end; o++) {
          const soFar = atDouble(excess, k) + atDouble(dearer, o)
          if (soFar > budget) break
          const left = at(room, at(slot, o)) - at(amount, o)
          if (left < 0) continue
          room[at(slot, o)] = left
          pick[k] = o - k * SET_MAX
          turn[k] = o - k * SET_MAX + 1
          spent[k + 1] = atDouble(spent, k) + atDouble(paid, o)
          excess[k + 1] = soFar
          turn[k + 1] = 0
          k++
          isPlaced = true
          break
        }
      }
      if (isPlaced) {
        if (++nodes >= nodesMax) break
        continue
      }
      k--
      if (k < 0) break
      const o = k * SET_MAX + at(pick, k)
      room[at(slot, o)] = at(room, at(slot, o)) + at(amount, o)
    }
    return { best, nodes }
  }
}

/** Cost of each job on each machine with the room it takes priced, by machine × jobs + job. */
export function reducedCosts({ machines, jobs, cost, use }: AssignProblem, price: Float64Array): Float64Array {
  return Float64Array.from(
    { length: machines * jobs },
    (_, cell) => at(cost, cell) + atDouble(price, Math.floor(cell / jobs)) * at(use, cell),
  )
}
