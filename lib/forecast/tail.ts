// The upper tail of the normal distribution, for amounts of which only a lower bound is known.
import { normalBelow, normalDensity } from '#lib/base'

/** Below this the density is too small for doubles, and the first terms of Mills' series are exact to them. */
const FAR = -36

/** φ(z) / Φ(z), the reversed hazard of the standard normal; for z far below zero it tends to −z. */
function hazard(z: number): number {
  if (z < FAR) return -z - 1 / z + 2 / z ** 3
  return normalDensity(z) / normalBelow(z)
}

/** What is learnt of a linear predictor s ~ N(mean, variance) from y = s + N(0, noise) being above `bound`. */
export interface Truncated {
  readonly mean: number
  readonly variance: number
  /** Mean of (y − s)² given the same. */
  readonly errorSquared: number
}

/** Moments of s and of y − s, given y > `bound`; exact (a normal cut off on one side). */
export function truncatedAbove(mean: number, variance: number, noise: number, bound: number): Truncated {
  const whole = variance + noise
  const z = (mean - bound) / Math.sqrt(whole)
  const ratio = hazard(z)
  const bend = ratio * (z + ratio)
  return {
    mean: mean + (variance * ratio) / Math.sqrt(whole),
    variance: variance - (variance * variance * bend) / whole,
    errorSquared: (noise * noise * (1 - z * ratio)) / whole + (noise * variance) / whole,
  }
}
