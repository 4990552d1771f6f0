// What was sampled in somebody's air, day by day, against the limits in force: the lab's own before any published one of its
// jurisdiction, each with the text it is from. What has no limit is named and not called nought.
import { airMixture, airSilica, airTwa, EDITIONS, type Edition, PUBLISHED_LIMITS } from '#lib/limits'
import type { AirLimit, Lab, RecordOf } from '#lib/words'

const jurisdictions: Readonly<Record<Lab['jurisdiction'], readonly Edition['jurisdiction'][]>> = {
  eu: ['eu'],
  uk: ['uk'],
  us: ['us-osha'],
  other: [],
}

/** What a lab says of limits in air. */
export type AirRules = Pick<Readonly<Lab>, 'jurisdiction' | 'airLimits'>

/** A limit over 8 h with where it is from. */
export type LimitInForce = {
  readonly amount: number
  readonly title: string
  /** From when that text holds; empty where nobody said. */
  readonly date: string
  readonly isOwn: boolean
  /** False for a published value that nobody has held against its text yet. */
  readonly isRead: boolean
}

/** The 8 h limit of an agent; null where neither the lab nor the table of its jurisdiction has one. */
export function airLimitOf(
  rules: AirRules,
  agent: string,
  kind: AirLimit['kind'],
  unit: AirLimit['unit'],
): LimitInForce | null {
  const own = rules.airLimits?.find((one) => one.agent === agent && one.kind === kind && one.unit === unit)
  if (own) {
    const title = own.title === '' ? 'set by the lab' : own.title
    return { amount: own.amount, title, date: own.date ?? '', isOwn: true, isRead: true }
  }
  const published = PUBLISHED_LIMITS.find(
    (one) =>
      one.agent === agent &&
      one.kind === kind &&
      one.unit === unit &&
      one.overH === 8 &&
      jurisdictions[rules.jurisdiction].includes(EDITIONS[one.edition].jurisdiction),
  )
  if (!published) return null
  const { title, date } = EDITIONS[published.edition]
  return { amount: published.value, title, date, isOwn: false, isRead: published.isRead }
}

export const SILICA = 'respirable crystalline silica'

/** What an agent is sampled in. */
export const sampledIn = (agent: string): AirLimit['unit'] => (agent === SILICA ? 'µg/m³' : 'ppm')

/** What there are published limits in air for: silica, and each vapour once. */
export const publishedAgents: readonly string[] = [
  ...new Set([SILICA, ...PUBLISHED_LIMITS.flatMap(({ agent, unit }) => (unit === 'ppm' ? [agent] : []))]),
]

export type AirDay = {
  readonly date: string
  readonly silica: (ReturnType<typeof airSilica> & { readonly limit: LimitInForce }) | null
  /** Solvents by the mixture rule: each one's average with its limit. */
  readonly solvents: readonly { readonly agent: string; readonly twaPpm: number; readonly limit: LimitInForce }[]
  readonly mixture: ReturnType<typeof airMixture> | null
  /** Agents that were sampled and have no limit here. */
  readonly withoutLimit: readonly string[]
}

/** The days on which a person was sampled, newest first, each against the limits in force over 8 h. */
export function airDays(samples: readonly RecordOf<'airSample'>[], rules: AirRules): readonly AirDay[] {
  const dates = [...new Set(samples.map(({ date }) => date))].sort().reverse()
  const silicaLimit = airLimitOf(rules, SILICA, 'limit', 'µg/m³')
  const actionUgM3 = airLimitOf(rules, SILICA, 'action', 'µg/m³')?.amount ?? null
  return dates.map((date) => {
    const day = samples.filter((one) => one.date === date)
    const dust = day.filter((one) => one.agent === SILICA && one.unit === 'µg/m³')
    const vapours = [...new Set(day.filter(({ unit }) => unit === 'ppm').map(({ agent }) => agent))]
    const solvents = vapours.flatMap((agent) => {
      const limit = airLimitOf(rules, agent, 'limit', 'ppm')
      if (!limit) return []
      const own = day.filter((one) => one.agent === agent).map(({ amount, minutes }) => ({ ppm: amount, minutes }))
      return [{ agent, twaPpm: airTwa(own, limit.amount).twaPpm, limit }]
    })
    return {
      date,
      silica:
        dust.length > 0 && silicaLimit
          ? {
              ...airSilica(
                dust.map(({ amount, minutes }) => ({ ugM3: amount, minutes })),
                { limitUgM3: silicaLimit.amount, actionUgM3 },
              ),
              limit: silicaLimit,
            }
          : null,
      solvents,
      mixture:
        solvents.length > 0
          ? airMixture(solvents.map(({ twaPpm, limit }) => ({ ppm: twaPpm, limitPpm: limit.amount })))
          : null,
      withoutLimit: [
        ...(dust.length > 0 && !silicaLimit ? [SILICA] : []),
        ...vapours.filter((agent) => !solvents.some((one) => one.agent === agent)),
      ],
    }
  })
}

/** Days of a calendar year at or above the silica action level, where there is one. */
export function silicaDays(days: readonly AirDay[], year: string): number {
  return days.filter(({ date, silica }) => date.startsWith(year) && silica?.atOrAboveAction === true).length
}
