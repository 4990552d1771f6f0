// Which published daily value a day comes to: the highest of its text that the figure is at or above. Talus says that one is
// reached and never that a day below them all is without harm.
import type { Lab } from '#lib/words'
import { type NoisePeriod, type NoiseRule, noiseDose, noiseLevel, noiseTwa } from './noise.ts'
import { PUBLISHED_LIMITS, type PublishedLimit } from './published.ts'
import type { Dba, Ms2 } from './units.ts'

type Jurisdiction = Lab['jurisdiction']

/** Figures are sums of roundings: what is at the value is not below it. */
const ROUNDING = 1e-6

/** OSHA's permissible level counts what Table G-16 lists: from 90 dB(A) on; its action level counts from 80 on. */
const OSHA_LIMIT_FROM_DBA: Dba = 90

/** The text whose values of hand-arm vibration a lab is told; where its own country has none here, the European one. */
export const vibrationEdition = (jurisdiction: Jurisdiction): 'uk-vibration' | 'eu-vibration' =>
  jurisdiction === 'uk' ? 'uk-vibration' : 'eu-vibration'

/** The highest daily value of hand-arm vibration that A(8) comes to; null below them all. */
export function vibrationReached(jurisdiction: Jurisdiction, a8Ms2: Ms2): PublishedLimit | null {
  return highest('hand-arm vibration', vibrationEdition(jurisdiction), 'm/s² A(8)', () => a8Ms2)
}

/** The highest daily value of noise that the periods come to, told by the lab's rule; null below them all. */
export function noiseReached(
  jurisdiction: Jurisdiction,
  rule: NoiseRule,
  periods: readonly NoisePeriod[],
): PublishedLimit | null {
  if (rule === 'eu')
    return highest('noise', jurisdiction === 'uk' ? 'uk-noise' : 'eu-noise', 'dB(A)', () => noiseLevel(periods))
  return highest('noise', `${rule}-noise`, 'dB(A)', ({ kind }) => {
    const isOshaLimit = rule === 'osha' && kind === 'limit'
    const counted = isOshaLimit ? periods.filter(({ levelDba }) => levelDba >= OSHA_LIMIT_FROM_DBA) : periods
    return noiseTwa(rule, noiseDose(rule, counted))
  })
}

function highest(
  agent: string,
  edition: PublishedLimit['edition'],
  unit: PublishedLimit['unit'],
  figureFor: (limit: PublishedLimit) => number | null,
): PublishedLimit | null {
  const reached = PUBLISHED_LIMITS.filter(
    (limit) =>
      limit.agent === agent &&
      limit.edition === edition &&
      limit.unit === unit &&
      limit.overH === 8 &&
      (figureFor(limit) ?? Number.NEGATIVE_INFINITY) >= limit.value - ROUNDING,
  )
  return reached.toSorted((a, b) => b.value - a.value)[0] ?? null
}
