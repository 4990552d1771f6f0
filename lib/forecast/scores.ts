// What a forecast was worth once the amount is known. All are losses: lower is better, nought is perfect. The first
// three are in the unit of the amount (hours), so a mean over steps is hours of error; they are proper, that is, the
// least on average for whoever says what they believe (Gneiting & Raftery 2007, JASA 102:359-378).
import { normalBelow, normalDensity } from '#lib/base'
import type { Moments } from './pert.ts'
import { meanOf, type Spread } from './spread.ts'

/**
 * Continuous ranked probability score of a normal forecast, in the unit of `value`.
 * σ·[z·(2Φ(z) − 1) + 2φ(z) − 1/√π] with z = (y − μ) / σ (Gneiting & Raftery 2007, equation 21, turned into a loss);
 * with no spread it is the distance |y − μ|.
 */
export function crpsNormal({ mean, sd }: Moments, value: number): number {
  if (sd === 0) return Math.abs(value - mean)
  const z = (value - mean) / sd
  return sd * (z * (2 * normalBelow(z) - 1) + 2 * normalDensity(z) - 1 / Math.sqrt(Math.PI))
}

/**
 * The same score of a lognormal forecast: y·(2Φ(w) − 1) − 2·e^(μ + σ²/2)·[Φ(w − σ) + Φ(σ/√2) − 1], w = (ln y − μ) / σ
 * (Baran & Lerch 2015; Jordan, Krüger & Lerch 2019, J. Stat. Softw. 90(12)). Values of nought and below are beyond all
 * that the forecast holds possible.
 */
export function crpsLogNormal(spread: Spread, value: number): number {
  const { median, logSd } = spread
  if (logSd === 0) return Math.abs(value - median)
  const w = value > 0 ? Math.log(value / median) / logSd : Number.NEGATIVE_INFINITY
  // Φ(σ/√2) − 1 as a tail of its own: their difference is all that is left when the spread is wide.
  const share = normalBelow(w - logSd) - normalBelow(-logSd / Math.SQRT2)
  return value * (2 * normalBelow(w) - 1) - 2 * meanOf(spread) * share
}

/**
 * Pinball loss of one stated quantile: τ·(y − q) above it, (1 − τ)·(q − y) below (Koenker & Bassett 1978), in the unit
 * of `value`. Some texts print twice this.
 */
export function pinballLoss({ quantile, tau }: { readonly quantile: number; readonly tau: number }, value: number) {
  return value >= quantile ? tau * (value - quantile) : (1 - tau) * (quantile - value)
}

/** Brier score of one stated chance: (p − o)², o being 1 when it happened (Brier 1950, Mon. Weather Rev. 78:1-3). */
export function brierScore(probability: number, happened: boolean): number {
  return (probability - Number(happened)) ** 2
}
