// What is breathed over a day: solvent vapours and respirable crystalline silica as 8-h time-weighted averages.
// 29 CFR 1910.1000(d)(1)(i): E = Σ C·T / 8 h. Mixtures: 1910.1000(d)(2)(i), E_m = Σ C / L, at most 1. Silica:
// 1910.1053, "at or above" the action level, "in excess of" the permissible limit. The same sums serve every
// jurisdiction; which limit to hold them against is data (published.ts).
import type { MgM3, Minutes, Ppm, UgM3 } from './units.ts'

const DAY_MINUTES: Minutes = 480
/** Litres of one mole of gas at 25 °C and 760 torr, as Table Z-1 takes it. */
const MOLAR_LITRES = 24.45
/** A sum of doubles may miss a limit by its last digits; what is at the limit is not above it. */
const ROUNDING = 1e-12

/** 8-h average of amounts and minutes in one unit; the rest of the day counts as clean. */
function dayMean(periods: readonly { readonly amount: number; readonly minutes: Minutes }[]): number {
  return periods.reduce((sum, { amount, minutes }) => sum + amount * minutes, 0) / DAY_MINUTES
}

const isAbove = (value: number, limit: number): boolean => value > limit * (1 + ROUNDING)

/** One substance over a day, against its limit. */
export function airTwa(periods: readonly { readonly ppm: Ppm; readonly minutes: Minutes }[], limitPpm: Ppm) {
  const twaPpm: Ppm = dayMean(periods.map(({ ppm, minutes }) => ({ amount: ppm, minutes })))
  return { twaPpm, ratio: twaPpm / limitPpm, within: !isAbove(twaPpm, limitPpm) }
}

/** Several substances with a like effect: each one's average over its own limit, added; 1 is the limit of all. */
export function airMixture(substances: readonly { readonly ppm: Ppm; readonly limitPpm: Ppm }[]) {
  const ratio = substances.reduce((sum, { ppm, limitPpm }) => sum + ppm / limitPpm, 0)
  return { ratio, within: !isAbove(ratio, 1) }
}

/** Respirable crystalline silica of a day. `actionUgM3` null where the jurisdiction has no action level. */
export function airSilica(
  samples: readonly { readonly ugM3: UgM3; readonly minutes: Minutes }[],
  limits: { readonly limitUgM3: UgM3; readonly actionUgM3: UgM3 | null },
) {
  const twaUgM3: UgM3 = dayMean(samples.map(({ ugM3, minutes }) => ({ amount: ugM3, minutes })))
  return {
    twaUgM3,
    atOrAboveAction: limits.actionUgM3 === null ? null : !isAbove(limits.actionUgM3, twaUgM3),
    aboveLimit: isAbove(twaUgM3, limits.limitUgM3),
  }
}

/** Vapour by weight: mg/m³ = ppm·M / 24.45 at 25 °C and 760 torr (29 CFR 1910.1000 Table Z-1, footnotes). */
export function mgM3OfPpm(ppm: Ppm, molarMass: number): MgM3 {
  return (ppm * molarMass) / MOLAR_LITRES
}
