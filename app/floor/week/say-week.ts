// The week in words: what each day brings, what is kept for a later day, and what drawing the days together gains.
import type { LeftOut, Week, WeekDay } from '#lib/lineup'
import type { Records } from '#lib/words'
import { capital } from '../../_text/amounts.ts'
import { sayCount, sayDate } from '../../_text/index.ts'
import { numberOf } from '../number-of.ts'
import { few, names } from '../words.ts'

/** "Drawn up: 34 turns, two people and one dated piece left out." */
export function sayWeekDay(day: WeekDay): string {
  if (day.state === 'closed') return 'Closed'
  if (day.state === 'posted') return `Posted: ${sayCount(day.turns, 'turn')}. Stays as it is.`
  const left = day.proposal?.leftOut ?? []
  const people = new Set(left.filter(({ kind }) => kind === 'person').map(({ id }) => id)).size
  const pieces = left.filter(({ kind }) => kind === 'piece').length
  const out = [
    ...(people > 0 ? [sayCount(people, 'person', 'people')] : []),
    ...(pieces > 0 ? [sayCount(pieces, 'dated piece')] : []),
  ]
  return `Drawn up: ${sayCount(day.turns, 'turn')}. ${out.length === 0 ? 'Nobody is left out.' : `${capital(names(out))} left out.`}`
}

/** "Kept for Odile: VG24-101, needle in pin vise, two turns that an earlier day would have had." */
export function sayKept(records: Records, kept: Week['kept'][number]): string {
  const technique = techniqueName(records, kept.stepId)
  const who = [...new Set(kept.personIds)].map((id) => records.person.get(id)?.name ?? 'somebody')
  const turns = kept.turns === 1 ? 'a turn' : `${few(kept.turns)} turns`
  return `Kept for ${names(who)}: ${numberOf(records, kept.pieceId)}, ${technique}, ${turns} that an earlier day would have had.`
}

const techniqueName = (records: Records, stepId: string): string => {
  const id = records.step.get(stepId)?.techniqueId
  return (
    records.lab
      .get('lab')
      ?.techniques.find((one) => one.id === id)
      ?.name.toLowerCase() ?? 'work'
  )
}

/** What the days together are worth above the days one after the other. */
export function sayGain({ score, dayByDayScore }: Pick<Week, 'score' | 'dayByDayScore'>): string {
  const perMille = Math.round((1000 * (score - dayByDayScore)) / Math.max(1, dayByDayScore))
  if (score <= dayByDayScore) return 'Looking ahead changes nothing this week: each day is drawn as it comes.'
  const percent = perMille < 10 ? 'less than 1 %' : `${Math.round(perMille / 10)} %`
  return `Drawn together, the days are worth ${percent} more than one after the other.`
}

/** Who sits where in one shift: "Ines at M1, on VG24-101". */
export function saySeats(records: Records, day: WeekDay, shiftId: string): readonly string[] {
  return (day.proposal?.assignments ?? [])
    .filter((turn) => turn.shiftId === shiftId)
    .map((turn) => {
      const name = records.person.get(turn.personId)?.name ?? 'Somebody'
      const code = records.place.get(turn.placeId)?.code ?? 'a place'
      return `${name} at ${code}, on ${numberOf(records, turn.pieceId)}, ${techniqueName(records, turn.stepId)}`
    })
    .toSorted()
}

/** "Thursday 12 March to Wednesday 18 March" */
export const saySpan = (first: string, last: string): string => `${sayDate(first, 'long')} to ${sayDate(last, 'long')}`

/** Who or what is left out: "Ines, morning", or the piece's number. */
export function nameOfLeft(records: Records, left: LeftOut): string {
  if (left.kind === 'piece') return numberOf(records, left.id)
  const shift = records.lab
    .get('lab')
    ?.shifts.find(({ id }) => id === left.shift)
    ?.name.toLowerCase()
  return `${records.person.get(left.id)?.name ?? 'Somebody'}${shift === undefined ? '' : `, ${shift}`}`
}
