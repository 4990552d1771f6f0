// One person's day in words: how far it goes, which published or own value it comes to and what brings it down, and what
// nobody knows of it. A day below all values is never called harmless. Tested without a screen.
import { EDITIONS, type PublishedLimit } from '#lib/limits'
import type { ComingDay, DayExposure } from '#lib/views'
import { capital, sayDate, sayDay, sayList, sayNoise, sayPoints } from '../_text/index.ts'

/** When, within a sentence: today, tomorrow, on Friday, on 20 March. */
export function sayOn(date: string, today: string): string {
  const day = sayDay(date, today)
  return day === 'today' || day === 'tomorrow' ? day : `on ${day}`
}

/** The date at the head of a coming day: "Tomorrow, 13 March". */
export function sayComingDate(date: string, today: string): string {
  const [name, short] = [sayDay(date, today), sayDate(date, 'short')]
  return name.includes(short) ? capital(name) : `${capital(name)}, ${short}`
}

/** How far a coming day goes, in one line: "43 of 100 points of vibration, 78.2 dB(A)". */
export function sayPlanned(day: ComingDay): string {
  const { exposure, ledger } = day
  const uncounted = uncountedOf(day)
  const figures = [
    exposure.plannedPoints > 0 ? `${sayPoints(exposure.plannedPoints, exposure.limit)} of vibration` : '',
    ledger.noise.levelDba === null ? '' : sayNoise(ledger.noise.levelDba),
    uncounted.length === 0 ? '' : `${sayList(uncounted)} not counted`,
  ].filter(Boolean)
  const values = sayValues(day)
  return [
    figures.length === 0 ? 'no vibrating or loud tool' : figures.join(', '),
    values === '' ? '' : `; ${values}`,
    day.isPosted ? '' : ' (claimed, not posted yet)',
  ].join('')
}

/** The published values a day comes to: "comes to the action value of vibration"; empty below them all. */
export function sayValues({ vibrationReached, noiseReached }: DayExposure): string {
  const values = [
    vibrationReached === null ? '' : `the ${sayKind(vibrationReached)} of vibration`,
    noiseReached === null ? '' : `the ${sayKind(noiseReached)} of noise`,
  ].filter(Boolean)
  return values.length === 0 ? '' : `comes to ${sayList(values)}`
}

/** Names of tools of which a figure, or how much of the time they run, is unknown. */
export function uncountedOf({ ledger, withoutShare }: DayExposure): readonly string[] {
  return [...new Set([...ledger.unknownVibration, ...ledger.unknownNoise, ...withoutShare])]
}

/** What the day comes to and what to do about it: a sentence each for vibration and noise, where it comes to anything. */
export function sayReached(day: DayExposure): readonly string[] {
  const { exposure, vibrationReached, noiseReached } = day
  const points = exposure.donePoints + exposure.plannedPoints
  const vibration =
    vibrationReached !== null
      ? `Vibration ${sayComesTo(vibrationReached)} ${vibrationReached.kind === 'limit' ? overLimit : 'Less time with the tool in the hand brings it down: ask the manager or the safety officer.'}`
      : points > 0 && points >= exposure.limit
        ? `Vibration comes to the lab’s own limit of ${exposure.limit} points a day: no more of it fits.`
        : ''
  const noise =
    noiseReached !== null
      ? `Noise ${sayComesTo(noiseReached)} ${noiseReached.kind === 'limit' ? `${sayEars(noiseReached)}${overLimit}` : 'Wear the hearing protection the lab has chosen; less time beside the tool brings it down.'}`
      : exposure.noiseDba !== null && exposure.noiseDba >= exposure.noiseLimit
        ? `Noise comes to the lab’s own limit of ${sayNoise(exposure.noiseLimit)} over 8 h: no more of it fits.`
        : ''
  return [vibration, noise].filter(Boolean)
}

const overLimit = 'It is not to be passed: ask the manager or the safety officer for another line-up before the work.'

/** "comes to the action value of 2.5 m/s² A(8), Directive 2002/44/EC, Article 3(1)." */
const sayComesTo = (limit: PublishedLimit): string =>
  `comes to the ${sayKind(limit)} of ${limit.value} ${limit.unit}${limit.agent === 'noise' ? ' over 8 h' : ''}, ${EDITIONS[limit.edition].title}.`

/** The European limit holds at the ear as protected, which nobody has measured here. */
const sayEars = ({ edition }: PublishedLimit): string =>
  edition === 'eu-noise' || edition === 'uk-noise'
    ? 'That value counts the hearing protection that is worn, this figure is without any. '
    : ''

/** What a value is called in its text. */
function sayKind({ agent, kind, edition }: PublishedLimit): string {
  if (kind === 'lower-action') return 'lower action value'
  if (edition === 'osha-noise') return kind === 'action' ? 'action level' : 'permissible level'
  if (edition === 'niosh-noise') return 'recommended level'
  if (kind === 'action') return agent === 'noise' ? 'upper action value' : 'action value'
  return 'limit value'
}
