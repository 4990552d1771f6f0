// Uncertain amounts as lognormals, the usual shape of hours of work: never below nothing, with a long upper side.
// Normal distribution function by Abramowitz & Stegun 7.1.26 (error below 1.5e-7); its inverse by Newton from the
// logistic approximation, so that both agree with each other.

/** A positive amount with ln X normal. `logSd` 0 is a certain amount. */
export interface Spread {
  readonly median: number
  readonly logSd: number
}

/** Probability that a standard normal value is at most `z`. */
export function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2
  const t = 1 / (1 + 0.3275911 * x)
  const tail =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) * Math.exp(-x * x)
  return z >= 0 ? 1 - tail / 2 : tail / 2
}

/** The standard normal value that is not exceeded with this probability (0 to 1, both excluded). */
export function normalQuantile(probability: number): number {
  let z = Math.log(probability / (1 - probability)) / 1.702
  for (let i = 0; i < 8; i++) {
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)
    // Far out the density is hardly anything; a bounded step keeps Newton from leaping over the tail.
    const step = (normalBelow(z) - probability) / Math.max(density, 1e-9)
    z -= Math.max(-0.5, Math.min(0.5, step))
  }
  return z
}

/** The lognormal with this mean and standard deviation. */
export function spreadOf(mean: number, sd: number): Spread {
  const variance = Math.log(1 + (sd / mean) ** 2)
  return { median: mean * Math.exp(-variance / 2), logSd: Math.sqrt(variance) }
}

/** Mean of a lognormal: median · e^(σ²/2). */
export const meanOf = ({ median, logSd }: Spread): number => median * Math.exp(logSd ** 2 / 2)

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
