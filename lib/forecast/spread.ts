// Uncertain amounts as lognormals, the usual shape of hours of work: never below nothing, with a long upper side.
import { normalBelow, normalQuantile } from '#lib/base'

/** A positive amount with ln X normal. `logSd` 0 is a certain amount. */
export interface Spread {
  readonly median: number
  readonly logSd: number
}

/** The lognormal with this mean and standard deviation. */
export function spreadOf(mean: number, sd: number): Spread {
  const variance = Math.log(1 + (sd / mean) ** 2)
  return { median: mean * Math.exp(-variance / 2), logSd: Math.sqrt(variance) }
}

/** Mean of a lognormal: median · e^(σ²/2). */
export const meanOf = ({ median, logSd }: Spread): number => median * Math.exp(logSd ** 2 / 2)

/** The likeliest amount of a lognormal: median · e^(−σ²). */
export const modeOf = ({ median, logSd }: Spread): number => median * Math.exp(-(logSd ** 2))

/** The amount that is not exceeded with this probability: median · e^(zσ). */
export const quantileOf = ({ median, logSd }: Spread, probability: number): number =>
  median * Math.exp(normalQuantile(probability) * logSd)

/** Probability that the amount is at most `value`. */
export function chanceBelow({ median, logSd }: Spread, value: number): number {
  if (value <= 0) return 0
  if (logSd === 0) return value >= median ? 1 : 0
  return normalBelow(Math.log(value / median) / logSd)
}

/** One amount divided by another, independent of it. */
export const ratioOf = (a: Spread, b: Spread): Spread => ({
  median: a.median / b.median,
  logSd: Math.hypot(a.logSd, b.logSd),
})
