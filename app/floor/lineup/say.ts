// Reasons in words, made from the solver's terms: at most three short sentences of because, then cost or gain; and for
// what is left out, what binds and what would change it.
import type { Change, LeftOut, Reason } from '#lib/lineup'
import type { PieceTag } from '#lib/views'
import type { Records } from '#lib/words'
import { chanceWords } from '../../_parts/figures/index.ts'
import { sayCount, sayDate } from '../../_text/index.ts'
import { numberOf } from '../number-of.ts'

const MOST_SENTENCES = 3

/** Names the sentences need. */
function namesOf(records: Records) {
  const lab = records.lab.get('lab')
  return {
    person: (id: string) => records.person.get(id)?.name ?? 'somebody',
    code: (id: string) => records.place.get(id)?.code ?? 'a place',
    technique: (id: string) => lab?.techniques.find((one) => one.id === id)?.name.toLowerCase() ?? 'that technique',
    shift: (id: string) => lab?.shifts.find((one) => one.id === id)?.name.toLowerCase() ?? 'that shift',
    step: (id: string) => records.step.get(id),
    mentorOf: (id: string | null | undefined) => (id ? records.person.get(id)?.name : undefined),
  }
}

/** Why somebody sits where the proposal says. */
export function sayReason(
  records: Records,
  reason: Reason,
  about: {
    readonly tag: PieceTag | null
    readonly mentor: string | null
    readonly level: number
    /** Half-days this person has had on the piece. */
    readonly handTurns: number
  },
): readonly string[] {
  const say = namesOf(records)
  const who = say.person(reason.person)
  const techniqueId = say.step(reason.step)?.techniqueId ?? ''
  if (reason.code === 'begun') return ['Begun already, so it stays.']
  if (reason.code === 'held') return ['Held by hand.']
  if (reason.code === 'claimed') return [`${who} claimed it.`]
  const sentences: string[] = []
  for (const { part } of reason.deciding) {
    switch (part) {
      case 'urgency':
        if (about.tag?.due) {
          const { tenths } = about.tag.due
          const chance = tenths === null ? '' : tenths <= 0 ? ', hardly ready by then' : `, ${chanceWords(tenths)}`
          sentences.push(`Due ${sayDate(about.tag.due.date, 'short')}${chance}.`)
        }
        break
      case 'gentleness':
        sentences.push(`${capital(say.technique(techniqueId))} is the gentlest that works here.`)
        break
      case 'sameHands':
        sentences.push(
          about.handTurns > 1
            ? `${who} has had ${sayCount(about.handTurns, 'half-day')} on it in four weeks.`
            : `${who} knows this piece.`,
        )
        break
      case 'learning':
        sentences.push(
          about.mentor
            ? `Learning ${say.technique(techniqueId)} beside ${about.mentor}.`
            : `Practice in ${say.technique(techniqueId)}, level ${about.level}.`,
        )
        break
      case 'loves':
        sentences.push(`${who} asked for ${say.technique(techniqueId)}.`)
        break
      case 'fairness':
        sentences.push(`${who} had the plainer pieces lately.`)
        break
      case 'notLast':
        sentences.push('This kind of work has waited long.')
        break
      case 'fewMoves':
        sentences.push('It need not be carried.')
        break
      case 'useful':
        if (reason.deciding.length === 1) sentences.push(`It gives ${who} good hours.`)
        break
    }
  }
  const cost = sayRunnerUp(records, reason)
  if (cost !== null) sentences.push(cost)
  else if (sentences.length === 0) sentences.push('Nothing else fits today.')
  const because = sentences.slice(0, -1).slice(0, MOST_SENTENCES - 1)
  return [...because, ...sentences.slice(-1)]
}

/** What would have been next best, where that is another seat or another step. */
function sayRunnerUp(records: Records, { runnerUp, piece, place, step }: Reason): string | null {
  if (!runnerUp) return null
  const { turn, lossPerMille } = runnerUp
  const say = namesOf(records)
  const isNear = lossPerMille <= 2
  if (turn.piece === piece && turn.place === place) {
    if (turn.step === step) return null
    const other = say.technique(say.step(turn.step)?.techniqueId ?? '')
    return isNear ? `${capital(other)} on it would be nearly as good.` : `Next best: ${other} on it.`
  }
  const other = `${numberOf(records, turn.piece)} at ${say.code(turn.place)}`
  return isNear ? `${other} would be nearly as good.` : `Next best: ${other}.`
}

/** Who or what is left out: what binds, and what would change it. */
export function sayLeftOut(records: Records, left: LeftOut): string {
  const say = namesOf(records)
  // A person who would have to come is nobody yet and cannot be named.
  const then =
    left.turn && left.change?.code !== 'person'
      ? left.kind === 'piece'
        ? `${say.person(left.turn.person)} could take it at ${say.code(left.turn.place)}`
        : `${numberOf(records, left.turn.piece)} at ${say.code(left.turn.place)}`
      : ''
  if (left.code === 'nothing') {
    return left.kind === 'person'
      ? 'No piece suits as things stand, and no single change would help.'
      : 'Nobody in can do its next step, and no single change would help.'
  }
  if (left.code === 'fits' || !left.change) return `It would fit${then ? `: ${then}` : ''}. Others gain more.`
  return `${sayBinding(say, left.change)} Would change ${sayChange(say, left.change)}${then ? `: ${then}` : ''}.`
}

type Say = ReturnType<typeof namesOf>

function sayBinding(say: Say, change: Change): string {
  switch (change.code) {
    case 'seat':
      return `${say.code(change.place)} is full.`
    case 'airLine':
      return `${say.code(change.place)} has no air line left.`
    case 'load':
      return `${say.code(change.place)} does not bear it.`
    case 'open':
      return `${say.code(change.place)} is out of use.`
    case 'air':
      return `The air of the ${say.shift(change.shift)} is used.`
    case 'level':
      return `${say.person(change.person)} is level ${change.from} in ${say.technique(change.technique)}.`
    case 'vibration':
      return `${say.person(change.person)} is at the day's limit for vibration.`
    case 'noise':
      return `${say.person(change.person)} is at the day's limit for noise.`
    case 'classMinutes':
      return `${say.person(change.person)} has no minutes left for that kind of tool.`
    case 'people':
      return 'As many hands as the step takes are on it.'
    case 'turns':
      return 'Its step has no hours left today.'
    case 'learners':
      return 'The mentor has as many learners as the lab allows.'
    case 'person':
      return `Nobody in is free with ${say.technique(change.technique)} at level ${change.level}.`
  }
}

function sayChange(say: Say, change: Change): string {
  switch (change.code) {
    case 'seat':
      return `with ${sayCount(change.amount, 'more seat')} there`
    case 'airLine':
      return `with ${sayCount(change.amount, 'more air line')}`
    case 'load':
      return `at a place that bears ${change.amount} kg more`
    case 'open':
      return `with ${say.code(change.place)} back in use`
    case 'air':
      return `with ${change.amount} L/min more air`
    case 'level':
      return `with a sign-off to level ${change.to}`
    case 'vibration':
    case 'noise':
      return 'tomorrow, or with gentler work'
    case 'classMinutes':
      return 'tomorrow'
    case 'people':
      return 'with one more pair of hands allowed'
    case 'turns':
      return 'with a longer estimate'
    case 'learners':
      return 'with one more learner allowed'
    case 'person':
      return `if somebody with ${say.technique(change.technique)} came in the ${say.shift(change.shift)}`
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
