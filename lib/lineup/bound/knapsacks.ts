/**
 * A lower bound on generalised assignment: the demand that every job is done once is priced (Lagrange), what is left
 * is one knapsack per machine, solved exactly; the prices follow the subgradient. The best round is the bound; it
 * is at least as good as the linear relaxation's.
 */
import { at, atDouble } from '#lib/base'

interface Assignment {
  readonly machines: number
  readonly jobs: number
  readonly cost: Int32Array
  readonly use: Int32Array
  readonly capacity: Int32Array
}

/** No assignment costs less than this. */
export function knapsackBound(problem: Assignment, rounds: number): number {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  const price = new Float64Array(N)
  for (let j = 0; j < N; j++) {
    const own = Int32Array.from({ length: M }, (_, i) => at(cost, i * N + j)).sort()
    price[j] = at(own, Math.min(1, M - 1))
  }
  const done = new Int32Array(N)
  const widest = capacity.reduce((most, size) => Math.max(most, size), 0)
  const table = new Float64Array(widest + 1)
  const chosen = new Uint8Array((widest + 1) * N)
  let best = Number.NEGATIVE_INFINITY
  let bestPrice = Float64Array.from(price)
  let pace = 1
  let stale = 0
  for (let round = 0; round < rounds; round++) {
    done.fill(0)
    let value = price.reduce((sum, amount) => sum + amount, 0)
    for (let i = 0; i < M; i++) value += knapsack(i)
    if (value > best + 1e-9) {
      best = value
      bestPrice = Float64Array.from(price)
      stale = 0
    } else if (++stale >= 12) {
      pace /= 2
      stale = 0
      price.set(bestPrice)
      if (pace < 0.005) break
      continue
    }
    const norm = done.reduce((sum, times) => sum + (1 - times) ** 2, 0)
    if (norm === 0) break
    const stride = (pace * Math.max(1, Math.abs(best) * 0.02)) / norm
    for (let j = 0; j < N; j++) price[j] = atDouble(price, j) + stride * (1 - at(done, j))
  }
  return best

  /** Least reduced cost one machine can reach; counts its jobs in `done`. */
  function knapsack(i: number): number {
    const size = at(capacity, i)
    table.fill(0, 0, size + 1)
    for (let j = 0; j < N; j++) {
      const gain = atDouble(price, j) - at(cost, i * N + j)
      const weight = at(use, i * N + j)
      const line = j * (widest + 1)
      chosen.fill(0, line, line + size + 1)
      if (gain <= 0) continue
      for (let room = size; room >= weight; room--) {
        const gained = atDouble(table, room - weight) + gain
        if (gained > atDouble(table, room)) {
          table[room] = gained
          chosen[line + room] = 1
        }
      }
    }
    for (let j = N - 1, room = size; j >= 0; j--) {
      if (chosen[j * (widest + 1) + room] !== 1) continue
      done[j] = at(done, j) + 1
      room -= at(use, i * N + j)
    }
    return -atDouble(table, size)
  }
}

/** What one unit of room on each machine is worth, by the subgradient of the capacities' prices. */
export function capacityPrices(problem: Assignment, rounds: number): Float64Array {
  const { machines: M, jobs: N, cost, use, capacity } = problem
  const price = new Float64Array(M)
  let bestPrice = price
  let best = Number.NEGATIVE_INFINITY
  let pace = 1
  let stale = 0
  const over = new Float64Array(M)
  for (let round = 0; round < rounds; round++) {
    let value = 0
    for (let i = 0; i < M; i++) {
      over[i] = -at(capacity, i)
      value -= atDouble(price, i) * at(capacity, i)
    }
    for (let j = 0; j < N; j++) {
      let cheapest = 0
      let least = Number.POSITIVE_INFINITY
      for (let i = 0; i < M; i++) {
        const reduced = at(cost, i * N + j) + atDouble(price, i) * at(use, i * N + j)
        if (reduced < least) {
          least = reduced
          cheapest = i
        }
      }
      value += least
      over[cheapest] = atDouble(over, cheapest) + at(use, cheapest * N + j)
    }
    if (value > best) {
      best = value
      bestPrice = Float64Array.from(price)
      stale = 0
    } else if (++stale >= 15) {
      pace /= 2
      stale = 0
    }
    const norm = over.reduce((sum, amount) => sum + amount * amount, 0)
    if (norm === 0) break
    const stride = (pace * Math.max(1, Math.abs(best) * 0.05)) / norm
    for (let i = 0; i < M; i++) price[i] = Math.max(0, atDouble(price, i) + stride * atDouble(over, i))
  }
  return bestPrice
}
