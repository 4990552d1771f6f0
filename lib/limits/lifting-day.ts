// Around the lifting equation: which duration class a day's lifting falls into, what several people may carry
// together, and the regulator's first filter. None of it says what one person can bear.
import type { Kg, Minutes } from './units.ts'

export type LiftDuration = 'short' | 'moderate' | 'long'

/** Minutes of lifting and of light work after it. */
export interface LiftSpell {
  readonly liftMinutes: Minutes
  readonly lightMinutes: Minutes
}

/** Light work needed after lifting, as a share of it, to begin anew (NIOSH 94-110 rev. 9/2021, p. 13 and 14). */
const RECOVERY = { short: 1, moderate: 0.3 } as const
const MOST_MINUTES = { short: 60, moderate: 120, long: 480 } as const

/**
 * Duration class of a day's lifting: spells without enough light work between them count as one. `minutes` is the
 * longest such stretch by the class's own rule; `kind` null when it is more than 8 h, which the equation refuses.
 */
export function liftDuration(spells: readonly LiftSpell[]): {
  readonly kind: LiftDuration | null
  readonly minutes: Minutes
} {
  const asShort = longestStretch(spells, RECOVERY.short)
  if (asShort <= MOST_MINUTES.short) return { kind: 'short', minutes: asShort }
  if (longestStretch(spells, RECOVERY.moderate) <= MOST_MINUTES.moderate) return { kind: 'moderate', minutes: asShort }
  const all = spells.reduce((sum, { liftMinutes }) => sum + liftMinutes, 0)
  return { kind: all <= MOST_MINUTES.long ? 'long' : null, minutes: all }
}

/** Light work needed after so much lifting, to stay in the class. */
export function recoveryMinutes(kind: 'short' | 'moderate', liftMinutes: Minutes): Minutes {
  return RECOVERY[kind] * liftMinutes
}

function longestStretch(spells: readonly LiftSpell[], recovery: number): Minutes {
  let longest = 0
  let stretch = 0
  for (const { liftMinutes, lightMinutes } of spells) {
    stretch += liftMinutes
    longest = Math.max(longest, stretch)
    if (lightMinutes >= recovery * stretch) stretch = 0
  }
  return longest
}

/** Share of the summed capacities that a team of one, two and three carries (HSE L23, guidance on team handling). */
const TEAM_SHARE = [1, 2 / 3, 1 / 2] as const

/** What a team may carry together, kg; null for more than three, for whom no share is published. */
export function teamCapacity(capacitiesKg: readonly Kg[]): Kg | null {
  const share = TEAM_SHARE[capacitiesKg.length - 1]
  return share === undefined ? null : share * capacitiesKg.reduce((sum, kg) => sum + kg, 0)
}

export type LiftZone =
  | 'above-shoulder'
  | 'shoulder-to-elbow'
  | 'elbow-to-knuckle'
  | 'knuckle-to-mid-lower-leg'
  | 'below-mid-lower-leg'

/**
 * HSE guideline filter, kg, smooth lift by one person: close to the body and at arm's length (HSE L23, 2016, figure 20;
 * INDG143; arm's length from memory). Above it an assessment is due; below it nothing is promised.
 */
export const LIFT_FILTER: Readonly<
  Record<LiftZone, Readonly<Record<'men' | 'women', { readonly closeKg: Kg; readonly farKg: Kg }>>>
> = {
  'above-shoulder': { men: { closeKg: 10, farKg: 5 }, women: { closeKg: 7, farKg: 3 } },
  'shoulder-to-elbow': { men: { closeKg: 20, farKg: 10 }, women: { closeKg: 13, farKg: 7 } },
  'elbow-to-knuckle': { men: { closeKg: 25, farKg: 15 }, women: { closeKg: 16, farKg: 10 } },
  'knuckle-to-mid-lower-leg': { men: { closeKg: 20, farKg: 10 }, women: { closeKg: 13, farKg: 7 } },
  'below-mid-lower-leg': { men: { closeKg: 10, farKg: 5 }, women: { closeKg: 7, farKg: 3 } },
}
