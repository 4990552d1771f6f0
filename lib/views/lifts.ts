// What is said of lifting a piece: who or what bears its mass, and what the equation makes of the lifts that were measured.
import { type LiftRefusal, liftLimit, liftRefusals } from '#lib/limits'
import { checkDueOn, newestFirst } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'

/** Two strong people by hand, HSE L23, team handling: two thirds of 25 + 25 kg. Above it no team is named. */
export const HANDS_KG = 33
/** From here on nobody lifts alone: the most of the HSE guideline filter, close to the body, elbow to knuckle (L23, 2016). */
export const HEAVY_KG = 25

/** Who or what is needed, by the whole mass range: the worst case decides. */
export type LiftNeed = 'one' | 'two' | 'aid'

/** By the heavier end of a piece's mass; what was weighed counts alone. */
export function liftNeed(mass: RecordOf<'jacket'>['mass']): { readonly need: LiftNeed; readonly mostKg: number } {
  const mostKg = mass.weighedKg ?? mass.highKg
  return { need: mostKg < HEAVY_KG ? 'one' : mostKg <= HANDS_KG ? 'two' : 'aid', mostKg }
}

export type LiftingGear = {
  readonly check: RecordOf<'check'>
  readonly ratedKg: number
  readonly isEnough: boolean
  /** When it is to be looked at next; only told where that goes by days. */
  readonly dueOn: string | null
}

/** Hoists and slings of the lab that are in use, against a mass. */
export function liftingGear(records: Records, massKg: number): readonly LiftingGear[] {
  return [...records.check.values()]
    .filter((check) => check.isActive && (check.what === 'hoist' || check.what === 'sling'))
    .map((check) => ({
      check,
      ratedKg: check.ratedKg ?? 0,
      isEnough: check.ratedKg !== null && check.ratedKg >= massKg,
      dueOn: check.every.unit === 'days' ? checkDueOn(records, check) : null,
    }))
}

export type LiftSaid =
  | { readonly isRefused: true; readonly why: readonly LiftRefusal[] }
  | ({ readonly isRefused: false } & ReturnType<typeof liftLimit>)

/** What a lift is computed from. */
export type LiftInputs = Omit<RecordOf<'lift'>, 'id' | 'formula' | 'by' | 'at'>

/** The recommended weight limit of a lift, or why the equation does not speak of it. */
export function liftSaid(lift: LiftInputs): LiftSaid {
  const is = (manner: RecordOf<'lift'>['manner'][number]) => lift.manner.includes(manner)
  const why = liftRefusals(
    {
      ...{ hands: is('one hand') ? 1 : 2, persons: lift.persons, seated: is('seated'), kneeling: is('kneeling') },
      ...{ unstable: is('unstable'), restricted: is('restricted') },
    },
    lift.durationH,
  )
  if (why.length > 0) return { isRefused: true, why }
  const { loadKg, hCm, vCm, dCm, angleDeg, perMinute, durationH, coupling } = lift
  return {
    isRefused: false,
    ...liftLimit({ load: loadKg, h: hCm, v: vCm, d: dCm, angleDeg, perMinute, durationH, coupling }),
  }
}

/** Lifts measured of a piece, the latest first. */
export const liftsOf = (records: Records, pieceId: string): readonly RecordOf<'lift'>[] =>
  [...records.lift.values()].filter((one) => one.pieceId === pieceId).sort(newestFirst)
