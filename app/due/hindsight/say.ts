// Hindsight in sentences. What chance alone explains is not called a fault.
import type { Hindsight, Looked, WayScore } from '#lib/forecast'

/** Within a tenth of each other is about the same. */
const ABOUT = 1.1
/** Fewer than this say nothing about windows. */
const ENOUGH = 20
/** What windows from 10 to 90 % should hold. */
const WANTED = 0.8

/** How many ended within their window, and whether that is as it should be. */
export function sayWindows({ count, inside, insideFrom, insideTo }: Hindsight): string {
  const seen = `Of ${count} finished ${count === 1 ? 'step' : 'steps'}, ${inside} took hours within the window forecast as ${count === 1 ? 'it was' : 'they were'} begun; eight in ten should.`
  if (count < ENOUGH) return `${seen} That is too few to tell.`
  if (insideTo < WANTED) return `${seen} The windows were too narrow.`
  if (insideFrom > WANTED) return `${seen} The windows were wider than they need be.`
  return `${seen} That is as it should be, as far as ${count} steps can tell.`
}

/** Which way they missed. */
export function sayMiddle({ count, calibration }: Hindsight): string {
  const middle = calibration.find(({ tau }) => tau === 0.5)
  if (!middle || count < ENOUGH) return ''
  if (middle.to < 0.5) return 'More than half took longer than the middle of their forecast: the forecasts were short.'
  if (middle.from > 0.5)
    return 'More than half were quicker than the middle of their forecast: the forecasts were long.'
  return 'About as many took longer than the middle of their forecast as were quicker.'
}

const ways: Readonly<Record<WayScore['way'], string>> = {
  model: 'Talus',
  lab: 'All steps alike',
  like: 'Steps of the same technique',
  typed: 'The estimate as typed',
}

/** A way by its name. */
export const sayWay = (way: WayScore['way']): string => ways[way]

/** Whether the forecast was worth it. */
export function sayWays({ ways: list, comparable }: Hindsight): string {
  const own = list.find(({ way }) => way === 'model')
  const best = list.filter(({ way }) => way !== 'model').toSorted((a, b) => a.crpsH - b.crpsH)[0]
  if (!own || !best) return ''
  const name = { model: '', lab: 'taking all steps alike', like: 'going by the technique', typed: 'the typed estimate' }
  const said = `The forecast missed by ${own.crpsH.toFixed(1)} hours a step, ${name[best.way]} by ${best.crpsH.toFixed(1)}`
  if (comparable < ENOUGH) return `${said}; too few steps to tell which is better.`
  if (own.crpsH <= best.crpsH) return `${said}.`
  return own.crpsH <= best.crpsH * ABOUT
    ? `${said}: about the same.`
    : `${said}: so far the plainer way does better here.`
}

/** Where one end fell. */
export function sayOutcome({ tookH, p10H, p90H }: Looked): string {
  if (tookH > p90H) return 'longer'
  return tookH <= p10H ? 'quicker' : 'within'
}
