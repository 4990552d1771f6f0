// The Sheet's own sentences: where a piece is and who is on it, what a log says, what is left of a step. Tested without
// a screen.
import type { OnPiece, SheetStep, Written } from '#lib/views'
import { stageOfEntry } from '#lib/views'
import { EntryKind, type RecordOf } from '#lib/words'
import { capital, sayDate, sayHours, sayHoursSpan, sayList, sayMinutes } from '../_text/index.ts'

/** Within what a heading has room for: 2 May; the year where it is another one. */
export function sayShort(date: string, today: string): string {
  const [day = '', month = ''] = sayDate(date, 'short').split(' ')
  const year = date.slice(0, 4) === today.slice(0, 4) ? '' : ` ${date.slice(0, 4)}`
  return `${day} ${month.slice(0, 3)}${year}`
}

/** Where a piece is: at a place by its code, else on its shelf. */
export function sayWhere(placeCode: string | null, shelf: string): string {
  if (placeCode !== null) return placeCode
  return shelf === '' ? 'no shelf noted' : shelf
}

/** Who is on it at this moment, or next: "Ines at M1, now", "Bea at A2, afternoon". Empty for nobody. */
export function sayOn(
  turns: readonly OnPiece[],
  say: {
    readonly person: (id: string) => string
    readonly place: (id: string) => string
    readonly shift: (id: string) => string
  },
): string {
  const now = turns.filter((turn) => turn.when === 'now')
  const shown = now.length > 0 ? now : turns.filter((turn) => turn.when === 'next').slice(0, 1)
  const first = shown[0]
  if (!first) return ''
  const names = sayList([...new Set(shown.map((turn) => say.person(turn.personId)))])
  return `${names} at ${say.place(first.placeId)}, ${now.length > 0 ? 'now' : say.shift(first.shiftId).toLowerCase()}`
}

/** What is left of a step: 18 to 42 h left; longer than estimated; done. */
export function sayLeft(row: Pick<SheetStep, 'step' | 'isOpen' | 'isOver' | 'leftLowH' | 'leftHighH'>): string {
  if (!row.isOpen) return row.step.state
  if (row.isOver) return 'longer than estimated'
  if (row.leftHighH === 0) return 'not estimated'
  if (row.leftLowH === 0) return `up to ${sayHours(row.leftHighH)} left`
  return `${sayHoursSpan(row.leftLowH, row.leftHighH)} left`
}

/** The minutes of a log: 1 h 50 with fine air scribe. */
export const sayLog = (log: RecordOf<'log'>, technique: string): string =>
  `${sayMinutes(log.minutes)} with ${technique}`

const entryKinds: Readonly<Record<RecordOf<'entry'>['kind'], string>> = {
  note: 'Note',
  condition: 'Condition',
  treatment: 'Treatment',
  'test patch': 'Test patch',
  break: 'Break',
  decision: 'Decision',
  stage: 'Stage',
  assessment: 'Assessment',
  consolidant: 'Consolidant',
  adhesive: 'Adhesive',
  'gap filler': 'Gap filler',
  repair: 'Repair',
  sample: 'Sample taken',
  question: 'Question to the researcher',
  photograph: 'Photograph',
}

/** What sort of entry it is. */
export const sayEntryKind = (kind: RecordOf<'entry'>['kind']): string => entryKinds[kind]

/** The kinds somebody may choose; stage entries are written by the move itself. */
export const writableKinds: readonly EntryKind[] = EntryKind.options.filter((one) => one !== 'stage')

/** The text of an entry as it is read: a move of stage says where to, and what was written beside it. */
export function sayEntry(entry: RecordOf<'entry'>): string {
  const stage = stageOfEntry(entry)
  if (stage === null) return entry.text
  const note = entry.text.split('\n').slice(1).join('\n')
  return note === '' ? `Now ${stage}.` : `Now ${stage}. ${note}`
}

/** What a correction hangs under: "Corrects 11 March 11:30:", and whose it was where another hand corrects it. */
export const sayCorrects = (first: { readonly name: string; readonly moment: string }, hand: string | null): string =>
  hand === null || hand === first.name ? `Corrects ${first.moment}:` : `Corrects ${first.name}, ${first.moment}:`

/** Work done, and not an entry. */
export const isLog = (written: Written): written is Extract<Written, { kind: 'log' }> => written.kind === 'log'

/** Hours done: 31 h; a dash for nothing yet. */
export const sayDone = (hours: number): string => (hours === 0 ? '–' : sayHours(hours))

/** The sum over all open steps, as one sentence. */
export function saySum(sum: {
  readonly doneH: number
  readonly leftLowH: number
  readonly leftHighH: number
  readonly count: number
}): string {
  const done = sum.doneH === 0 ? 'nothing done yet' : `${sayHours(sum.doneH)} done`
  if (sum.count === 0) return capital(done)
  return `${capital(done)}, ${sayHoursSpan(sum.leftLowH, sum.leftHighH)} left`
}

const containers: Readonly<Record<RecordOf<'jacket'>['container'], string>> = {
  jacket: 'plaster jacket',
  block: 'block',
  bag: 'bag',
}

/** What came from the field: jacket 2 of 3. */
export function sayContainer(jacket: Pick<RecordOf<'jacket'>, 'container' | 'partOf'>): string {
  const word = containers[jacket.container]
  return jacket.partOf ? `${word} ${jacket.partOf.n} of ${jacket.partOf.total}` : word
}
