// What hours seen teach about hours to come, where one class of work has one median: a normal prior on the logarithm
// of the median, normal scatter of known width around it, and the posterior in closed form. The full forecast knows
// more; this is the small case whose numbers can be checked by hand, and a class with few steps needs no more.
import { meanOf, quantileOf, type Spread } from './spread.ts'

export interface HoursUpdate {
  /** What is now believed of the median, and how uncertain its logarithm still is. */
  readonly median: Spread
  /** The next step's hours: the scatter between steps and what is not known of the median, together. */
  readonly next: Spread
  readonly predictive: { readonly p10: number; readonly p50: number; readonly p90: number; readonly mean: number }
}

/**
 * Precision-weighted mean on ln(hours), known scatter (Johnson, Ott & Dogucu 2022, Bayes Rules!, chapter 5).
 * @param prior median hours as believed before, with the uncertainty of its logarithm
 * @param logSd scatter of single steps around the median, standard deviation of ln(hours), above 0
 * @param seenH hours of finished steps, each above 0; without any the prior stands
 */
export function updateHours(prior: Spread, logSd: number, seenH: readonly number[]): HoursUpdate {
  const sumOfLogs = seenH.reduce((sum, hours) => sum + Math.log(hours), 0)
  const scatter = logSd ** 2
  // Multiplied through by both variances, so that a prior of no spread stays where it is.
  const weight = scatter + seenH.length * prior.logSd ** 2
  const centre = (scatter * Math.log(prior.median) + prior.logSd ** 2 * sumOfLogs) / weight
  const variance = (scatter * prior.logSd ** 2) / weight
  const median: Spread = { median: Math.exp(centre), logSd: Math.sqrt(variance) }
  const next: Spread = { median: median.median, logSd: Math.sqrt(variance + scatter) }
  const predictive = {
    p10: quantileOf(next, 0.1),
    p50: next.median,
    p90: quantileOf(next, 0.9),
    mean: meanOf(next),
  }
  return { median, next, predictive }
}

/**
 * Hours of the nth piece of a kind: T₁·n^(log₂ b), each doubling of the count taking the share b of what it took
 * before (Wright 1936, J. Aeronaut. Sci. 3:122-128).
 */
export function learningHours({ firstH, rate }: { readonly firstH: number; readonly rate: number }, n: number): number {
  return firstH * n ** Math.log2(rate)
}

/**
 * An estimate lifted to a quantile of what like jobs took against theirs (reference-class forecasting, Flyvbjerg 2006,
 * Proj. Manag. J. 37(3):5-15), in the unit of `estimate`. Quantile by linear interpolation at (n − 1)·p.
 * @param ratios actual over estimated, at least one
 */
export function upliftedEstimate(estimate: number, ratios: readonly number[], probability: number): number {
  const sorted = ratios.toSorted((a, b) => a - b)
  const place = (sorted.length - 1) * probability
  const below = Math.floor(place)
  const low = sorted[below] ?? Number.NaN
  const high = sorted[Math.min(sorted.length - 1, below + 1)] ?? Number.NaN
  return estimate * (low + (high - low) * (place - below))
}
