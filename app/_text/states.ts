// Words for the states and kinds of the records. Most are the word itself; here stand those that need another one, and
// the sentences beside ratings and levels.
import type { RecordOf, Role } from '#lib/words'
import type { Save } from '../_board/index.ts'
import { sayClock } from './dates.ts'

type Stage = RecordOf<'specimen'>['stage']
type Specimen = RecordOf<'specimen'>
type Due = RecordOf<'due'>

/** The stages in their order. */
export const stages: readonly Stage[] = ['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed', 'released']

const stageSentences: Readonly<Record<Stage, string>> = {
  sealed: 'Not opened yet.',
  opened: 'Opened, bone not exposed yet.',
  exposing: 'Rock is coming off.',
  joining: 'Pieces are being joined.',
  stabilised: 'Sound enough to handle.',
  housed: 'In its housing.',
  released: 'Handed over.',
}

/** What a stage means, as a sentence. */
export const sayStage = (stage: Stage): string => stageSentences[stage]

const roles: Readonly<Record<Role, string>> = {
  manager: 'Manager',
  preparator: 'Preparator',
  volunteer: 'Volunteer',
  researcher: 'Researcher',
  wall: 'Wall',
}

/** A role as a word. */
export const sayRole = (role: Role): string => roles[role]

const levels = [
  'none',
  'learning, beside a mentor',
  'works alone',
  'delicate and priority pieces',
  'mentors others',
] as const

/** What a skill level means. */
export const sayLevel = (level: number): string => levels[level] ?? ''

const ratings = {
  rockHardness: [
    'crumbles under a brush',
    'gives way to a wooden pick',
    'needs a needle',
    'needs an air tool',
    'rings under a hammer',
  ],
  contrast: [
    'bone hardly differs from rock',
    'seen wet or under the lens',
    'seen with care',
    'seen easily',
    'seen at a glance',
  ],
  soundness: ['powder', 'flakes at a touch', 'cracked but holds', 'firm', 'like stone'],
  breakage: ['whole', 'a few cracks', 'several pieces', 'many pieces', 'shattered'],
} as const satisfies Readonly<Record<string, readonly string[]>>

export type RatingName = keyof typeof ratings

const ratingNames: Readonly<Record<RatingName, string>> = {
  rockHardness: 'Hardness of the rock',
  contrast: 'Contrast of bone and rock',
  soundness: 'Soundness of the bone',
  breakage: 'Breakage',
}

/** The name of a rating: Hardness of the rock. */
export const nameRating = (name: RatingName): string => ratingNames[name]

/** What a rating from 1 to 5 means: crumbles under a brush. */
export const sayRating = (name: RatingName, value: number): string => ratings[name][value - 1] ?? ''

const dueKinds: Readonly<Record<Due['kind'], string>> = {
  exhibit: 'exhibit',
  loan: 'loan',
  visit: 'visit',
  thesis: 'thesis',
  own: 'our own date',
}

/** What a date is for. */
export const sayDueKind = (kind: Due['kind']): string => dueKinds[kind]

const dueStates: Readonly<Record<Due['state'], string>> = {
  asked: 'asked for, not accepted yet',
  accepted: 'accepted',
  declined: 'declined',
  met: 'met',
  dropped: 'dropped',
}

/** Where a date stands. */
export const sayDueState = (state: Due['state']): string => dueStates[state]

const purposes: Readonly<Record<Specimen['purpose'], string>> = {
  research: 'for research',
  exhibit: 'for exhibit',
  both: 'for research and exhibit',
}

/** What a specimen is prepared for. */
export const sayPurpose = (purpose: Specimen['purpose']): string => purposes[purpose]

/** in, due 10:15, late, away, left. */
export function sayAttendance(record: Pick<RecordOf<'attendance'>, 'state' | 'dueAt'>): string {
  if (record.state === 'late') return record.dueAt ? `due ${record.dueAt}` : 'late'
  return record.state
}

/** The mark in the corner: kept 10:42, sending 2, offline, 2 held here. */
export function saySave({ state, count, at }: Save, zone: string): string {
  switch (state) {
    case 'kept':
      return at === null ? 'kept' : `kept ${sayClock(at, zone)}`
    case 'sending':
      return `sending ${count}`
    case 'offline':
      return count === 0 ? 'offline' : `offline, ${count} held here`
    case 'read-only':
      return count === 0 ? 'not keeping now' : `not keeping now, ${count} held here`
    case 'opening':
      return 'opening'
  }
}

/** The whole sentence behind the mark, for readers and a closer look. */
export function saySaveLong({ state, count, at }: Save, zone: string): string {
  const held = count === 1 ? 'One edit is' : `${count} edits are`
  switch (state) {
    case 'kept':
      return at === null ? 'Everything is kept.' : `Everything is kept, last at ${sayClock(at, zone)}.`
    case 'sending':
      return `${held} on the way.`
    case 'offline': {
      const asOf = at === null ? '' : ` This is the board as of ${sayClock(at, zone)}.`
      return count === 0 ? `Offline.${asOf}` : `Offline. ${held} held on this device and will be sent.${asOf}`
    }
    case 'read-only':
      return count === 0
        ? 'The server cannot keep anything at the moment. Reading goes on.'
        : `The server cannot keep anything at the moment. ${held} held on this device and will be sent.`
    case 'opening':
      return 'The board is opening.'
  }
}
