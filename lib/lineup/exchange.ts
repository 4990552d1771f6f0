/**
 * Re-deals the jobs of a few machines among them by a bounded depth-first search: where capacities are tight, no
 * chain of single moves gets from one good assignment to the next, but a small exact search does. The prices of
 * room make its bound sharp, since good assignments lie close to the linear bound.
 */
import { at, atDouble, type Random } from '#lib/base'
import type { AssignProblem } from './assign.ts'

/** Nodes a re-deal may look at before it is given up. */
const NODES_MAX = 8_000

/** A few machines and their jobs, ready to be dealt again and again. */
export interface Exchange {
  /** Tries to improve `machine` in place by re-dealing the given machines; returns the cost gained. */
  readonly redeal: (machine: Int32Array, chosen: Int32Array) => number
  /** Draws a set of machines. */
  readonly draw: (count: number) => Int32Array
}

/** Prepares re-deals for an instance (a minimising one) at the given prices of room. */
export function exchangeOn(problem: AssignProblem, price: Float64Array, random: Random): Exchange {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  const reduced = new Float64Array(M * N)
  for (let cell = 0; cell < M * N; cell++) {
    reduced[cell] = at(cost, cell) + atDouble(price, Math.floor(cell / N)) * at(use, cell)
  }
  const jobs = new Int32Array(N)
  const least = new Float64Array(N + 1)
  const room = new Int32Array(M)
  const trial = new Int32Array(N)
  const found = new Int32Array(N)
  const regret = new Float64Array(N)
  const rank = new Int32Array(M)
  return { redeal, draw }

  function draw(count: number): Int32Array {
    for (let i = 0; i < M; i++) rank[i] = i
    for (let i = 0; i < count; i++) {
      const other = i + random.below(M - i)
      const held = at(rank, i)
      rank[i] = at(rank, other)
      rank[other] = held
    }
    return rank.slice(0, count)
  }

  function redeal(machine: Int32Array, chosen: Int32Array): number {
    let count = 0
    let before = 0
    let priced = 0
    for (const i of chosen) {
      room[i] = at(capacity, i)
      priced += atDouble(price, i) * at(capacity, i)
    }
    for (let j = 0; j < N; j++) {
      if (!chosen.includes(at(machine, j))) continue
      jobs[count++] = j
      before += at(cost, at(machine, j) * N + j)
    }
    orderJobs(chosen, count)
    let best = before
    let hasFound = false
    let nodes = 0
    visit(0, 0, 0)
    if (!hasFound) return 0
    for (let k = 0; k < count; k++) machine[at(jobs, k)] = at(found, k)
    return before - best

    function visit(k: number, spent: number, soFar: number): void {
      if (k === count) {
        // Room left over makes the priced bound lower than the cost itself.
        if (spent >= best) return
        best = spent
        hasFound = true
        found.set(trial.subarray(0, count))
        return
      }
      const j = at(jobs, k)
      // Cheapest machines first, by reduced cost; the sets are small, so a selection loop is quickest.
      let tried = 0
      for (let turn = 0; turn < chosen.length; turn++) {
        let pick = -1
        let worth = Number.POSITIVE_INFINITY
        for (let c = 0; c < chosen.length; c++) {
          if ((tried >> c) & 1) continue
          const value = atDouble(reduced, at(chosen, c) * N + j)
          if (value < worth) {
            worth = value
            pick = c
          }
        }
        tried |= 1 << pick
        const i = at(chosen, pick)
        // All later machines of this job are dearer: the bound only grows.
        if (soFar + worth + atDouble(least, k + 1) - priced > best - 1 + 1e-7) return
        const amount = at(use, i * N + j)
        if (amount > at(room, i)) continue
        if (++nodes > NODES_MAX) return
        room[i] = at(room, i) - amount
        trial[k] = i
        visit(k + 1, spent + at(cost, i * N + j), soFar + worth)
        room[i] = at(room, i) + amount
      }
    }
  }

  /** Jobs whose choice matters most come first; `least` sums the cheapest of what is still open. */
  function orderJobs(chosen: Int32Array, count: number): void {
    for (let k = 0; k < count; k++) {
      const j = at(jobs, k)
      let first = Number.POSITIVE_INFINITY
      let second = Number.POSITIVE_INFINITY
      for (const i of chosen) {
        const value = atDouble(reduced, i * N + j)
        if (value < first) {
          second = first
          first = value
        } else if (value < second) second = value
      }
      regret[j] = second - first
      least[j] = first
    }
    const firsts = Float64Array.from(least)
    jobs.subarray(0, count).sort((a, b) => atDouble(regret, b) - atDouble(regret, a) || a - b)
    least[count] = 0
    for (let k = count - 1; k >= 0; k--) least[k] = atDouble(least, k + 1) + atDouble(firsts, at(jobs, k))
  }
}
