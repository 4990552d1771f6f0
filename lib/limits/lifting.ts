// The revised NIOSH lifting equation: RWL = LC·HM·VM·DM·AM·FM·CM, index = load / RWL. Waters, Putz-Anderson & Garg,
// Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110 (rev. 9/2021). Where a printed table
// and the formula differ the formula governs (p. 7). The metric and the US constants are not exact conversions of each
// other, so each set is a system of its own and a lift is computed in the one it was measured in.
//
// Most turning of jackets is outside the equation (p. 6), and then it is refused, not computed: mechanical aid.
import type { Hours } from './units.ts'

/** Version of this file's formulas; raised when one of them changes. */
export const LIFT_FORMULA = 1

type Coupling = 'good' | 'fair' | 'poor'

/** One system of units, with the constants the manual prints for it (p. 7 to 12). */
export interface LiftSystem {
  readonly load: number
  /** Hands nearer than `hLeast` count as that; further than `hMost` is out of reach. */
  readonly hLeast: number
  readonly hMost: number
  readonly vIdeal: number
  readonly vSlope: number
  readonly vMost: number
  readonly dLeast: number
  readonly dShare: number
  readonly dMost: number
}

/** Centimetres and kilograms. */
const LIFT_METRIC: LiftSystem = {
  load: 23,
  hLeast: 25,
  hMost: 63,
  vIdeal: 75,
  vSlope: 0.003,
  vMost: 175,
  dLeast: 25,
  dShare: 4.5,
  dMost: 175,
}
/** Inches and pounds. */
export const LIFT_US: LiftSystem = {
  load: 51,
  hLeast: 10,
  hMost: 25,
  vIdeal: 30,
  vSlope: 0.0075,
  vMost: 70,
  dLeast: 10,
  dShare: 1.8,
  dMost: 70,
}

const ANGLE_MOST_DEG = 135

/** Lengths and load in the system's units; `v` and `h` at the origin of the lift. */
export interface Lift {
  readonly load: number
  /** Hands from the point between the ankles. */
  readonly h: number
  /** Hands above the floor. */
  readonly v: number
  /** How far up or down. */
  readonly d: number
  readonly angleDeg: number
  readonly perMinute: number
  /** Hours of lifting, up to 8. */
  readonly durationH: Hours
  readonly coupling: Coupling
}

/** How the lift is done; anything but the usual puts it outside the equation. */
export interface LiftManner {
  readonly hands?: number | undefined
  readonly seated?: boolean | undefined
  readonly kneeling?: boolean | undefined
  readonly unstable?: boolean | undefined
  readonly restricted?: boolean | undefined
  readonly persons?: number | undefined
}

export type LiftRefusal = 'one-hand' | 'over-8-h' | 'seated' | 'kneeling' | 'unstable' | 'restricted' | 'team'

/** Why the equation does not apply to a lift (manual p. 6); empty when it does. */
export function liftRefusals(manner: LiftManner, durationH: Hours): readonly LiftRefusal[] {
  const found: LiftRefusal[] = []
  if ((manner.hands ?? 2) < 2) found.push('one-hand')
  if (durationH > 8) found.push('over-8-h')
  if (manner.seated) found.push('seated')
  if (manner.kneeling) found.push('kneeling')
  if (manner.unstable) found.push('unstable')
  if (manner.restricted) found.push('restricted')
  if ((manner.persons ?? 1) > 1) found.push('team')
  return found
}

interface LiftMultipliers {
  readonly hm: number
  readonly vm: number
  readonly dm: number
  readonly am: number
  readonly fm: number
  readonly cm: number
}

/**
 * Recommended weight limit and index; the index is null where the limit is 0: nobody should lift that by hand.
 * Ask `liftRefusals` first.
 */
export function liftLimit(lift: Lift, system: LiftSystem = LIFT_METRIC) {
  const isLow = lift.v < system.vIdeal
  const multipliers: LiftMultipliers = {
    hm: lift.h > system.hMost ? 0 : system.hLeast / Math.max(system.hLeast, lift.h),
    vm: lift.v > system.vMost ? 0 : 1 - system.vSlope * Math.abs(lift.v - system.vIdeal),
    // Shorter than the least distance counts as that, where the formula gives exactly 1.
    dm: lift.d > system.dMost ? 0 : 0.82 + system.dShare / Math.max(system.dLeast, lift.d),
    am: lift.angleDeg > ANGLE_MOST_DEG ? 0 : 1 - 0.0032 * lift.angleDeg,
    fm: frequencyMultiplier(lift.perMinute, lift.durationH, isLow),
    cm: COUPLING[lift.coupling][isLow ? 0 : 1],
  }
  const limit = Object.values(multipliers).reduce((product, factor) => product * factor, system.load)
  return { multipliers, limit, index: limit > 0 ? lift.load / limit : null }
}

/** Coupling multiplier below and from the ideal height on (Table 7, p. 18). */
const COUPLING: Readonly<Record<Coupling, readonly [number, number]>> = {
  good: [1, 1],
  fair: [0.95, 1],
  poor: [0.9, 0.9],
}

/** Lifts a minute, then the multiplier for up to 1, 2 and 8 h, each below and from the ideal height on (Table 5). */
const FREQUENCY: readonly (readonly [number, number, number, number, number, number, number])[] = [
  [0.2, 1, 1, 0.95, 0.95, 0.85, 0.85],
  [0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81],
  [1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75],
  [2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65],
  [3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55],
  [4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45],
  [5, 0.8, 0.8, 0.6, 0.6, 0.35, 0.35],
  [6, 0.75, 0.75, 0.5, 0.5, 0.27, 0.27],
  [7, 0.7, 0.7, 0.42, 0.42, 0.22, 0.22],
  [8, 0.6, 0.6, 0.35, 0.35, 0.18, 0.18],
  [9, 0.52, 0.52, 0.3, 0.3, 0, 0.15],
  [10, 0.45, 0.45, 0.26, 0.26, 0, 0.13],
  [11, 0.41, 0.41, 0, 0.23, 0, 0],
  [12, 0.37, 0.37, 0, 0.21, 0, 0],
  [13, 0, 0.34, 0, 0, 0, 0],
  [14, 0, 0.31, 0, 0, 0, 0],
  [15, 0, 0.28, 0, 0, 0, 0],
]

/** Table 5 with straight lines between its rows (p. 7); rarer than one in five minutes counts as that, above 15 is 0. */
export function frequencyMultiplier(perMinute: number, durationH: Hours, isLow: boolean): number {
  const column = (durationH <= 1 ? 1 : durationH <= 2 ? 3 : 5) + (isLow ? 0 : 1)
  const above = FREQUENCY.findIndex(([rate]) => rate >= perMinute)
  const high = FREQUENCY[above]
  if (high === undefined) return 0
  const low = FREQUENCY[above - 1] ?? high
  const share = high === low ? 0 : (perMinute - low[0]) / (high[0] - low[0])
  const [from = 0, to = 0] = [low[column], high[column]]
  return from + (to - from) * share
}

/** Lifts a minute of work that comes in spells, over the manual's 15 min: rate · minutes / 15 (p. 16). */
export function liftFrequency(perMinute: number, workMinutesIn15: number): number {
  return (perMinute * workMinutesIn15) / 15
}

/** One of several lifting tasks of a job. */
export interface LiftTask {
  readonly perMinute: number
  /** Load over the task's limit as if lifted rarely, without a frequency multiplier (the manual's FILI). */
  readonly rareIndex: number
}

/**
 * Composite index of several tasks: STLI₁ + Σ FILIᵢ·(1/FM₁…ᵢ − 1/FM₁…ᵢ₋₁), section 2.4.5, p. 28, beginning with the
 * task of the highest index of its own, the frequencies added up on the way. Null when a frequency is beyond what may
 * be lifted at all.
 */
export function compositeIndex(tasks: readonly LiftTask[], durationH: Hours, isLow: boolean): number | null {
  const multiplier = (perMinute: number) => frequencyMultiplier(perMinute, durationH, isLow)
  const own = ({ perMinute, rareIndex }: LiftTask) => rareIndex / multiplier(perMinute)
  const sorted = tasks.toSorted((a, b) => own(b) - own(a))
  let sum = 0
  let rate = 0
  for (const { perMinute, rareIndex } of sorted) {
    const before = rate === 0 ? 0 : 1 / multiplier(rate)
    rate += perMinute
    sum += rareIndex * (1 / multiplier(rate) - before)
  }
  return Number.isFinite(sum) ? sum : null
}
