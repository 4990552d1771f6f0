// Lifting in words: who or what bears a piece, what the equation says of a measured lift with its numbers, and the plain
// refusal where it does not speak of it. Tested without a screen.
import type { LiftRefusal } from '#lib/limits'
import { HANDS_KG, type LiftingGear, type LiftSaid, liftNeed } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { sayDate, sayKg, sayList } from '../_text/index.ts'

const needs = {
  one: 'One person by mass alone; reach, height and grip decide as well.',
  two: `Two people or a trolley: agree who leads (HSE L23, team handling: two thirds of what both lift).`,
  aid: `Not by hand: hoist, trolley or crane, and agree who leads. Two strong people are at ${HANDS_KG} kg (HSE L23).`,
} as const

/** Who is needed for a piece, by the heavier end of its mass: "12 to 40 kg. Not by hand: …". */
export function sayNeed(mass: RecordOf<'jacket'>['mass']): string {
  const { need } = liftNeed(mass)
  const { lowKg, highKg, weighedKg } = mass
  const span = weighedKg === null ? `${sayKg(lowKg)} to ${sayKg(highKg)}` : `${sayKg(weighedKg)}, weighed`
  return `${span}. ${needs[need]}`
}

/** A hoist or sling against a mass: its rating, when it was looked at, when it is to be. */
export function sayGear({ check, ratedKg, isEnough, dueOn }: LiftingGear): string {
  const rated = check.ratedKg === null ? 'no rated load entered' : `rated ${sayKg(ratedKg)}`
  const short = check.ratedKg !== null && !isEnough ? ', too little for this' : ''
  const looked =
    check.last === null ? 'not inspected yet' : `inspected ${sayDate(check.last.date, 'full')}, ${check.last.result}`
  const due = dueOn === null ? '' : `, next by ${sayDate(dueOn, 'full')}`
  return `${check.name}, ${rated}${short}; ${looked}${due}.`
}

const refusals: Readonly<Record<LiftRefusal, string>> = {
  'one-hand': 'it is lifted with one hand',
  'over-8-h': 'lifting lasts over 8 hours',
  seated: 'it is lifted seated',
  kneeling: 'it is lifted kneeling',
  unstable: 'the load shifts or is unstable',
  restricted: 'the space is too tight to stand and turn freely',
  team: 'more than one person lifts',
}

/** What it comes to, in one line. */
export function sayLift(said: LiftSaid): string {
  if (said.isRefused)
    return `The lifting equation does not apply: ${sayList(said.why.map((one) => refusals[one]))}. Use mechanical aid, or have it assessed.`
  if (said.index === null) return 'The recommended weight limit is 0: nobody should lift this by hand. Mechanical aid.'
  const above = said.index > 3 ? ', far above 1' : said.index > 1 ? ', above 1: change the lift or use aid' : ''
  return `Lifting index ${said.index.toFixed(1)}${above}. Recommended weight limit ${said.limit.toFixed(1)} kg.`
}

/** The formula with its numbers; nothing where it does not apply. */
export function sayLiftFormula(lift: RecordOf<'lift'>, said: LiftSaid): string {
  if (said.isRefused) return ''
  const { hm, vm, dm, am, fm, cm } = said.multipliers
  const product = [hm, vm, dm, am, fm, cm].map((factor) => factor.toFixed(2)).join(' · ')
  const index = said.index === null ? '' : ` LI = ${lift.loadKg} / ${said.limit.toFixed(1)} = ${said.index.toFixed(2)}.`
  return `RWL = LC·HM·VM·DM·AM·FM·CM = 23 · ${product} = ${said.limit.toFixed(1)} kg.${index} NIOSH 94-110, revised lifting equation (rev. 9/2021), formula version ${lift.formula}. The design goal there is an index of 1 or less.`
}

/** The measures it was computed from. */
export const sayLiftInputs = (lift: RecordOf<'lift'>): string =>
  [
    `load ${sayKg(lift.loadKg)}`,
    `H ${lift.hCm}, V ${lift.vCm}, D ${lift.dCm} cm`,
    `turn ${lift.angleDeg}°`,
    `${lift.perMinute} a minute for ${lift.durationH} h`,
    `${lift.coupling} grip`,
    ...(lift.persons > 1 ? [`${lift.persons} people`] : []),
    ...lift.manner,
  ].join(', ')
