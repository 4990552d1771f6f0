// Daily noise exposure by three rules that add differently; one figure never stands for another.
// eu: ISO 1999 / Directive 2003/10/EC, Article 2: L_EX,8h = 10·lg[(1/8)·Σ T·10^(L/10)], action values 80 and 85 dB(A).
// niosh: NIOSH 98-126 (1998), section 1.1: T = 480 / 2^((L−85)/3) minutes, TWA = 10·lg(D/100) + 85.
// osha: 29 CFR 1910.95, Appendix A: T = 8 / 2^((L−90)/5) hours, D = 100·Σ C/T, TWA = 16.61·lg(D/100) + 90; for the
// action level, levels from 80 dBA on are integrated (1910.95(d)(2)(i)).
import type { Dba, Minutes, Percent } from './units.ts'

/** One level at the ear, A-weighted, and how long. */
export type NoisePeriod = { readonly levelDba: Dba; readonly minutes: Minutes }

export type NoiseRule = 'eu' | 'niosh' | 'osha'

/** What 100 % dose means over 8 h: HSE points' 85 dB(A), the NIOSH recommended level, OSHA's permissible level. */
export const CRITERION_DBA: Readonly<Record<NoiseRule, Dba>> = { eu: 85, niosh: 85, osha: 90 }

/** Minutes a level may last until the dose is 100 %, alone. */
export function noiseReferenceMinutes(rule: NoiseRule, levelDba: Dba): Minutes {
  if (rule === 'osha') return 480 / 2 ** ((levelDba - 90) / 5)
  if (rule === 'niosh') return 480 / 2 ** ((levelDba - 85) / 3)
  return 480 / 10 ** ((levelDba - 85) / 10)
}

/** Daily noise exposure level L_EX,8h, dB(A), by equal energy; null when there was no noise at all. */
export function noiseLevel(periods: readonly NoisePeriod[]): Dba | null {
  const energy = periods.reduce((sum, period) => sum + (period.minutes / 480) * 10 ** (period.levelDba / 10), 0)
  return energy > 0 ? 10 * Math.log10(energy) : null
}

/** Dose in percent of the rule's criterion. */
export function noiseDose(rule: NoiseRule, periods: readonly NoisePeriod[]): Percent {
  // OSHA's threshold: quieter periods are not integrated.
  const counted = rule === 'osha' ? periods.filter((period) => period.levelDba >= 80) : periods
  return 100 * counted.reduce((sum, period) => sum + period.minutes / noiseReferenceMinutes(rule, period.levelDba), 0)
}

/** The 8-h time-weighted average that a dose stands for; null for no dose. */
export function noiseTwa(rule: NoiseRule, dosePercent: Percent): Dba | null {
  if (dosePercent <= 0) return null
  // 16.61 is the regulation's printed rounding of 5 / lg 2.
  return (rule === 'osha' ? 16.61 : 10) * Math.log10(dosePercent / 100) + CRITERION_DBA[rule]
}

/** All daily figures at once: the equal-energy level, and dose and average by the chosen rule. */
export function noiseDaily(rule: NoiseRule, periods: readonly NoisePeriod[]) {
  const dosePercent = noiseDose(rule, periods)
  return { levelDba: noiseLevel(periods), dosePercent, twaDba: noiseTwa(rule, dosePercent) }
}

/** Level at one ear of several sources at once, dB(A): energies add, 10·lg Σ 10^(L/10); null for silence. */
export function noiseTogether(levelsDba: readonly Dba[]): Dba | null {
  return noiseLevel(levelsDba.map((levelDba) => ({ levelDba, minutes: 480 })))
}

/**
 * Weekly exposure L_EP,w from the days' levels, dB(A): 10·lg[(1/5)·Σ 10^(L/10)], Directive 2003/10/EC Article 2(c);
 * null when no day was noisy. As HSE points (100 are 85 dB(A) for 8 h): 85 + 10·lg(points / 500).
 */
export function noiseWeek(daysDba: readonly Dba[]): { readonly points: number; readonly levelDba: Dba | null } {
  const points = daysDba.reduce((sum, levelDba) => sum + noiseDose('eu', [{ levelDba, minutes: 480 }]), 0)
  return { points, levelDba: points > 0 ? CRITERION_DBA.eu + 10 * Math.log10(points / 500) : null }
}

/**
 * Level under a hearing protector, dB(A), by its noise reduction rating: TWA − (NRR − 7) / 2. 29 CFR 1910.95
 * Appendix B for A-weighted levels, halved as the OSHA Technical Manual advises (from memory); never above the level
 * without protector.
 */
export function noiseUnderProtector(twaDba: Dba, nrrDb: number): Dba {
  return twaDba - Math.max(0, nrrDb - 7) / 2
}
