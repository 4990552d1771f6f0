// Who and what is left out, in words: what binds, the smallest change that would let it in, and whether that pays.
import { never } from '#lib/base'
import type { Change, LeftOut } from '#lib/lineup'
import { clocksRunning } from '#lib/rules'
import type { Records } from '#lib/words'
import { capital, sayAir, sayCount, sayKg, sayList } from '../../_text/amounts.ts'
import { sayDate } from '../../_text/dates.ts'
import { type Names, namesIn } from '../../_text/names.ts'
import { numberOf } from '../number-of.ts'
import { sayShare } from './say-share.ts'

/** Two sentences or three. */
export function sayLeftOut(records: Records, left: LeftOut): string {
  const say = namesIn(records)
  if (left.code === 'nothing')
    return left.kind === 'person'
      ? 'There is no work on the board that could be given out in this shift.'
      : 'None of its steps can be done in any shift of the day.'
  const then = sayTurns(records, say, left)
  const loss = left.lossPerMille ?? 0
  if (left.changes.length === 0) {
    const cost = left.isIncluded ? 'The day would lose nothing by it.' : `The day would lose ${sayShare(loss)} by it.`
    return left.lossPerMille === null ? `It would fit: ${then}. Others gain more.` : `It would fit: ${then}. ${cost}`
  }
  const binds = [...new Set(left.changes.map((change) => sayUnder(records, change) ?? sayBinding(say, change)))].join(
    ' ',
  )
  const wanted = sayList(left.changes.map((change) => sayChange(say, change)))
  if (left.isIncluded) return `${binds} Would change with ${wanted}: ${then}.`
  const but =
    left.lossPerMille === null ? '' : ` But others would make more of it: the day would lose ${sayShare(loss)}.`
  return `${binds} With ${wanted} it would fit: ${then}.${but}`
}

/** Somebody whom no draw-up knows yet. */
export const sayNotInducted = (items: readonly string[]): string =>
  `Not planned before the induction: ${sayList(items)}. Would change once it is ticked on their page.`

/** The turns it would be, in the fewest words. Who would have to come is nobody yet and cannot be named. */
function sayTurns(records: Records, say: Names, { kind, turns, changes }: LeftOut): string {
  const [own, ...others] = turns
  if (own === undefined) return ''
  const twin = changes.find((change) => change.code === 'place' && change.id === own.place)
  const place = twin?.code === 'place' ? `one more place like ${say.place(twin.like)}` : say.place(own.place)
  const helpers = others.filter(({ piece, person }) => piece === own.piece && records.person.has(person))
  const company = helpers.length > 0 ? `, with ${sayList(helpers.map(({ person }) => say.person(person)))}` : ''
  if (kind === 'person') return `${numberOf(records, own.piece)} at ${place}${company}`
  return `${records.person.has(own.person) ? say.person(own.person) : 'they'} could take it at ${place}${company}`
}

/** What runs by itself and keeps a piece from other work; null where nothing does. */
function sayUnder(records: Records, change: Change): string | null {
  if (change.code !== 'allow') return null
  const [clock] = clocksRunning(records, change.turn.piece)
  if (!clock || clock.stepId === change.turn.step) return null
  const { what, ends } = clock
  return `${capital(what)} of ${numberOf(records, change.turn.piece)} runs until ${sayDate(ends.date, 'short')}, ${ends.time}.`
}

function sayBinding(say: Names, change: Change): string {
  switch (change.code) {
    case 'seat':
      return `${say.place(change.place)} is full.`
    case 'airLine':
      return `${say.place(change.place)} has no air line left.`
    case 'load':
      return `${say.place(change.place)} does not bear it.`
    case 'open':
      return `${say.place(change.place)} is out of use.`
    case 'air':
      return `The air of ${say.shift(change.shift)} is used.`
    case 'level':
      return change.from === 0
        ? `${say.person(change.person)} is not signed off for ${say.technique(change.technique)}.`
        : `${say.person(change.person)} is level ${change.from} in ${say.technique(change.technique)}.`
    case 'vibration':
    case 'noise':
      return `${say.person(change.person)} would be above the day’s limit for ${change.code}.`
    case 'classMinutes':
      return `${say.person(change.person)} has no minutes left for that kind of tool.`
    case 'people':
      return 'As many hands as the step takes are on it.'
    case 'turns':
      return 'The hours left on its step are given out.'
    case 'learners':
      return 'The mentor has as many learners as the lab allows.'
    case 'escalate':
      return 'The work is above the force ceiling.'
    case 'untie':
      return `${say.piece(change.piece)} cannot be moved for now.`
    case 'length':
      return `${say.place(change.place)} is too short for it.`
    case 'fitting':
      return `${say.place(change.place)} is not fitted for it.`
    case 'keepIn':
      return `Dust, solvent and open view do not mix, and at ${say.place(change.place)} they would.`
    case 'allow':
      return `A “not together” keeps ${say.person(change.turn.person)} from it.`
    case 'place':
      return `${say.place(change.like)} takes one piece at a time.`
    case 'mentor':
      return `Nobody who mentors ${say.technique(change.technique)} has a seat near.`
    case 'person':
      return `Nobody in is free with ${say.technique(change.technique)} at level ${change.level}.`
    default:
      return never(change)
  }
}

/** What is wanted, to stand after “with”. A limit of the day is never said to be raised. */
function sayChange(say: Names, change: Change): string {
  switch (change.code) {
    case 'seat':
      return `${sayCount(change.amount, 'more seat')} at ${say.place(change.place)}`
    case 'airLine':
      return `${sayCount(change.amount, 'more air line')} at ${say.place(change.place)}`
    case 'load':
      return `a place like ${say.place(change.place)} that bears ${sayKg(change.amount)} more`
    case 'open':
      return `${say.place(change.place)} back in use`
    case 'air':
      return `${sayAir(change.amount)} more in ${say.shift(change.shift)}`
    case 'level':
      return `a sign-off for ${say.technique(change.technique)} at level ${change.to}`
    case 'vibration':
    case 'noise':
      return 'gentler work, somebody else signed off for it, or another day'
    case 'classMinutes':
      return `${sayCount(change.amount, 'minute')} less of it done before`
    case 'people':
      return 'one more pair of hands allowed on it'
    case 'turns':
      return 'a longer estimate'
    case 'learners':
      return 'one more learner allowed beside each mentor'
    case 'escalate':
      return 'an escalation that a preparator records'
    case 'untie':
      return 'leave to move it'
    case 'length':
      return `${change.amount} cm more bench`
    case 'fitting':
      return 'a place fitted for it'
    case 'keepIn':
      return `a hood or cabinet of its own at ${say.place(change.place)}`
    case 'allow':
      return 'that lifted'
    case 'place':
      return `one more place like ${say.place(change.like)}`
    case 'mentor':
      return `a mentor for ${say.technique(change.technique)} in ${say.shift(change.shift)}`
    case 'person':
      return `somebody more for ${say.technique(change.technique)} in ${say.shift(change.shift)}`
    default:
      return never(change)
  }
}
