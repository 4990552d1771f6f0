// Reasons in words, made from the solver's terms: at most three short sentences of because, then cost or gain.
import type { Reason } from '#lib/lineup'
import type { PieceTag } from '#lib/views'
import type { Records } from '#lib/words'
import { chanceWords } from '../../_parts/figures/index.ts'
import { sayCount, sayDate } from '../../_text/index.ts'
import { numberOf } from '../number-of.ts'
import { sayShare } from './say-share.ts'

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
  const worse = lossPerMille < 1 ? ', as good for the day' : `, ${sayShare(lossPerMille)} worse for the day`
  if (turn.piece === piece && turn.place === place) {
    if (turn.step === step) return null
    const other = say.technique(say.step(turn.step)?.techniqueId ?? '')
    return `Next best: ${other} on it${worse}.`
  }
  const other = `${numberOf(records, turn.piece)} at ${say.code(turn.place)}`
  return `Next best: ${other}${worse}.`
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
