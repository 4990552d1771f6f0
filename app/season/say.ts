// Sentences for what the season knows: what holds a piece up, what would help, what it costs others.
import type { Bottleneck, Cause, HelpsAnswer, Reason, SeasonRefused } from '#lib/season'
import type { Records } from '#lib/words'
import { capital, namesIn, sayChance, sayDate, sayHours } from '../_text/index.ts'

type Help = HelpsAnswer['helps'][number]
type Other = Help['others'][number]

/** What holds a piece up most, as one sentence; empty when nothing is known. */
export function sayWhy(reasons: readonly Reason[], records: Records): string {
  const [first, second] = reasons
  if (!first) return ''
  const main = capital(causeOf(first, records))
  return second && second.share >= 0.2 ? `${main}; then ${causeOf(second, records)}.` : `${main}.`
}

const causes: Readonly<Record<Cause, (technique: string | null, step: string) => string>> = {
  hours: (technique) => `there is much to do${technique === null ? '' : `, most of it ${technique}`}`,
  people: (technique) => `it waits for hands${technique === null ? '' : ` that know ${technique}`}`,
  place: (technique) => `it waits for a bench${technique === null ? '' : ` for ${technique}`}`,
  air: () => 'it waits for compressed air',
  order: () => 'other pieces go first',
  rest: () => 'it cures, soaks or dries',
  stuck: (_technique, step) => `nobody may do ${step}`,
}

function causeOf({ cause, techniqueId, stepId }: Reason, records: Records): string {
  const names = namesIn(records)
  const technique = techniqueId === null ? null : names.technique(techniqueId)
  return causes[cause](technique, stepId === null ? (technique ?? 'a step of it') : `“${names.step(stepId)}”`)
}

/** What might be done, as a sentence without its end: `a second M1`, `Ines comes 3 h more a week for needle`. */
export function sayRemedy({ remedy }: Help, records: Records): string {
  const names = namesIn(records)
  switch (remedy.kind) {
    case 'place':
      return `A second place like ${names.place(remedy.placeId)}`
    case 'hours':
      return `${names.person(remedy.personId)} comes ${sayHours(remedy.weeklyH)} more a week, for ${names.technique(remedy.techniqueId)}`
    case 'train':
      return `${names.person(remedy.personId)} is signed off for ${names.technique(remedy.techniqueId)} by ${sayDate(remedy.from, 'short')}`
    case 'first':
      return 'It goes before all others from now on'
    case 'date':
      return `The date moves to ${sayDate(remedy.date, 'short')}`
    case 'drop':
      return `${names.piece(remedy.pieceId)} rests for the season`
  }
}

/** From what to what: `4 in 10 becomes 7 in 10`. */
export const sayGain = (before: number, after: number): string => {
  const [was, is] = [sayChance(before), sayChance(after)]
  return was === is ? `stays ${is}, a little ${after >= before ? 'more' : 'less'}` : `${was} becomes ${is}`
}

/** What others lose or gain by it; the three most touched. */
export function sayOthers(others: readonly Other[], records: Records): string {
  const names = namesIn(records)
  if (others.length === 0) return 'No other date changes.'
  const told = others
    .slice(0, 3)
    .map(({ pieceId, before, after }) => `${names.piece(pieceId)} ${sayChance(before)}, then ${sayChance(after)}`)
  const rest = others.length - told.length
  return `${told.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}.`
}

/** Why there is no answer. */
export const sayRefused: Readonly<Record<SeasonRefused['refused'], string>> = {
  'not-allowed': 'This is between those who wait for the piece and the lab.',
  form: 'That date cannot be looked at. Choose another one.',
  unknown: 'It is no longer on the board.',
  'nothing-left': 'Every step of it is done.',
  stopped: 'Stopped.',
  fault: 'The season could not be counted. Nothing was changed; try again.',
}

/** What is scarce, by name. */
export function sayBottleneck({ kind, id }: Bottleneck, records: Records): string {
  if (kind === 'air') return 'Compressed air'
  return capital(kind === 'people' ? namesIn(records).technique(id) : id)
}
