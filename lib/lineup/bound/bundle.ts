/**
 * Finds the prices at which a sum of best days is least: a proximal bundle method (C. Lemaréchal; e.g. Bonnans et al.,
 * Numerical Optimization, 2006, ch. 10). Each round leaves a *cut*, a plane below the function; the next prices are
 * those at which the planes are lowest, not too far from the best prices so far (the centre). The prices stay ≥ 0
 * except for rows named free. It looks at no clock and draws no chance.
 */
import { at, atDouble } from '#lib/base'

export interface Descent {
  /** Value and slopes (into `slope`) at prices; both in the caller's units. */
  readonly evaluate: (price: Float64Array, slope: Float64Array) => number
  readonly unit: Float64Array
  readonly start: Float64Array
  /** Values at or below this end the search. */
  readonly target: number
  readonly rounds: number
  /** 1 for rows whose price may fall below nothing. */
  readonly isFree?: Uint8Array
  /** Told each round; true ends the search. */
  readonly isEnough?: (round: number, best: number) => boolean
}

interface Descended {
  readonly best: number
  readonly price: Float64Array
}

/** Cuts that are kept. */
const CUTS = 24
/** Steps of the small quadratic program of each round. */
const WEIGHINGS = 120
/** Times the cuts are weighed anew once it is known which prices fall to nothing. */
const PASSES = 3
/** Rounds in a row that may promise nothing. */
const STALLS = 12

export function descend({ evaluate, unit, start, target, rounds, isFree, isEnough }: Descent): Descended {
  const R = unit.length
  const centre = Float64Array.from(start)
  const trial = Float64Array.from(start)
  const slope = new Float64Array(R)
  const slopes = Array.from({ length: CUTS }, () => new Float64Array(R))
  /** How far each cut lies below the centre's value. */
  const error = new Float64Array(CUTS)
  const weight = new Float64Array(CUTS)
  /** What prices that fall to nothing lift off each cut. */
  const lift = new Float64Array(CUTS)
  const gram = new Float64Array(CUTS * CUTS)
  const mixed = new Float64Array(R)
  const live = new Int32Array(R)
  const everShort = new Uint8Array(R)
  let cuts = 0
  let best = evaluate(trial, slope)
  let value = best
  /** How far the next prices may be from the centre. */
  let t = 0
  let nulls = 0
  let round = 0
  addCut(0)
  for (; round < rounds && best > target; round++) {
    if (isEnough?.(round, best) === true) break
    mixCuts()
    let norm = 0
    const liveCount = findLive()
    for (let n = 0; n < liveCount; n++) norm += atDouble(mixed, at(live, n)) ** 2
    if (norm < 1e-12 && mixedError() < 1e-7 * Math.abs(best)) break
    if (t === 0) t = (0.5 * (best - target)) / Math.max(norm, 1e-9)
    for (let pass = 0; pass < PASSES; pass++) {
      weighCuts(findLive())
      mixCuts()
    }
    // No further than the planes themselves say that the target lies.
    let predicted = predict()
    for (let halvings = 0; predicted > best - target && halvings < 4 && norm > 0; halvings++) {
      t *= 0.6
      weighCuts(findLive())
      mixCuts()
      predicted = predict()
    }
    if (predicted < 1e-9 * Math.abs(best)) {
      t *= 4
      if (++nulls > STALLS) break
      continue
    }
    value = evaluate(trial, slope)
    if (best - value >= 0.1 * predicted) {
      if (best - value >= 0.3 * predicted) t *= 2
      moveCentre()
      best = value
      nulls = 0
      addCut(0)
    } else {
      addCut(best - value - slopeTimesBack())
      if (++nulls % 5 === 0) t *= 0.75
    }
  }
  return { best, price: centre }

  /** slope · (centre − trial): what the new cut says of the centre, beyond its own value. */
  function slopeTimesBack(): number {
    let sum = 0
    for (let r = 0; r < R; r++) {
      const back = atDouble(centre, r) - atDouble(trial, r)
      if (back !== 0) sum += back * atDouble(slope, r)
    }
    return sum
  }

  function addCut(its: number): void {
    const place = cuts < CUTS ? cuts++ : leastUseful()
    const own = slopes[place]
    if (own === undefined) return
    for (let r = 0; r < R; r++) {
      const scaled = atDouble(slope, r) / atDouble(unit, r)
      own[r] = scaled
      if (scaled < 0) everShort[r] = 1
    }
    error[place] = Math.max(0, its)
    weight[place] = cuts === 1 ? 1 : 0
  }

  /** The cut whose plane lies furthest below, of those that carry no weight; else the lightest, poured into the rest. */
  function leastUseful(): number {
    let found = -1
    for (let i = 0; i < CUTS; i++) {
      if (atDouble(weight, i) > 1e-9) continue
      if (found < 0 || atDouble(error, i) > atDouble(error, found)) found = i
    }
    if (found >= 0) return found
    // All carry weight: the lightest makes room, and the second lightest becomes the mixture of all.
    let lightest = 0
    let second = 1
    for (let i = 0; i < CUTS; i++) if (atDouble(weight, i) < atDouble(weight, lightest)) lightest = i
    if (second === lightest) second = 0
    for (let i = 0; i < CUTS; i++) {
      if (i !== lightest && atDouble(weight, i) < atDouble(weight, second)) second = i
    }
    const its = mixedError()
    slopes[second]?.set(mixed)
    error[second] = its
    weight.fill(0)
    weight[second] = 1
    return lightest
  }

  function mixedError(): number {
    let sum = 0
    for (let i = 0; i < cuts; i++) sum += atDouble(weight, i) * atDouble(error, i)
    return sum
  }

  function mixCuts(): void {
    mixed.fill(0)
    for (let i = 0; i < cuts; i++) {
      const share = atDouble(weight, i)
      const own = slopes[i]
      if (share < 1e-12 || own === undefined) continue
      for (let r = 0; r < R; r++) mixed[r] = atDouble(mixed, r) + share * atDouble(own, r)
    }
  }

  /** Rows that matter now: priced, or short in some cut and not driven below nothing. */
  function findLive(): number {
    let count = 0
    lift.fill(0)
    for (let r = 0; r < R; r++) {
      const now = atDouble(centre, r)
      const fall = (t * atDouble(mixed, r)) / atDouble(unit, r)
      if (isFree?.[r] === 1 || now > fall) {
        if (now !== 0 || everShort[r] === 1) live[count++] = r
      } else if (now > 0) {
        // The price falls to nothing and stays there.
        for (let i = 0; i < cuts; i++) {
          lift[i] = atDouble(lift, i) + now * atDouble(unit, r) * atDouble(slopes[i] ?? mixed, r)
        }
      }
    }
    return count
  }

  /** Weights on the simplex that minimise t/2 |mixture|² + errors, by moving weight between two cuts at a time. */
  function weighCuts(liveCount: number): void {
    for (let i = 0; i < cuts; i++) {
      const a = slopes[i]
      if (a === undefined) continue
      for (let j = 0; j <= i; j++) {
        const b = slopes[j]
        if (b === undefined) continue
        let sum = 0
        for (let n = 0; n < liveCount; n++) {
          const r = at(live, n)
          sum += atDouble(a, r) * atDouble(b, r)
        }
        gram[i * CUTS + j] = sum
        gram[j * CUTS + i] = sum
      }
    }
    const pull = new Float64Array(cuts)
    for (let i = 0; i < cuts; i++) {
      let sum = atDouble(error, i) + atDouble(lift, i)
      for (let j = 0; j < cuts; j++) sum += t * atDouble(gram, i * CUTS + j) * atDouble(weight, j)
      pull[i] = sum
    }
    for (let step = 0; step < WEIGHINGS; step++) {
      let low = 0
      let high = -1
      for (let i = 0; i < cuts; i++) {
        if (atDouble(pull, i) < atDouble(pull, low)) low = i
        if (atDouble(weight, i) > 0 && (high < 0 || atDouble(pull, i) > atDouble(pull, high))) high = i
      }
      if (high < 0 || high === low) break
      const slack = atDouble(pull, high) - atDouble(pull, low)
      if (slack < 1e-6 * Math.max(1, Math.abs(best - target))) break
      const bend =
        t *
        (atDouble(gram, high * CUTS + high) + atDouble(gram, low * CUTS + low) - 2 * atDouble(gram, high * CUTS + low))
      const shift = Math.min(atDouble(weight, high), bend > 0 ? slack / bend : 1)
      weight[high] = atDouble(weight, high) - shift
      weight[low] = atDouble(weight, low) + shift
      for (let i = 0; i < cuts; i++) {
        pull[i] = atDouble(pull, i) + t * shift * (atDouble(gram, i * CUTS + low) - atDouble(gram, i * CUTS + high))
      }
    }
  }

  /** Sets the trial prices and says by how much the planes expect the value to fall there. */
  function predict(): number {
    for (let r = 0; r < R; r++) {
      const now = atDouble(centre, r) - (t * atDouble(mixed, r)) / atDouble(unit, r)
      trial[r] = now < 0 && isFree?.[r] !== 1 ? 0 : now
    }
    let highest = Number.NEGATIVE_INFINITY
    for (let i = 0; i < cuts; i++) {
      const own = slopes[i]
      if (own === undefined) continue
      let plane = -atDouble(error, i)
      for (let r = 0; r < R; r++) {
        const moved = atDouble(trial, r) - atDouble(centre, r)
        if (moved !== 0) plane += moved * atDouble(own, r) * atDouble(unit, r)
      }
      highest = Math.max(highest, plane)
    }
    return -highest
  }

  /** The trial becomes the centre; every cut's error is told from there. */
  function moveCentre(): void {
    for (let i = 0; i < cuts; i++) {
      const own = slopes[i]
      if (own === undefined) continue
      let rise = 0
      for (let r = 0; r < R; r++) {
        const moved = atDouble(trial, r) - atDouble(centre, r)
        if (moved !== 0) rise += moved * atDouble(own, r) * atDouble(unit, r)
      }
      error[i] = Math.max(0, atDouble(error, i) + value - best - rise)
    }
    centre.set(trial)
  }
}
