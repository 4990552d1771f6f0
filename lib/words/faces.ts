// What a role may read. Each home has faces; a record is projected onto a face before it is written into the
// document that people of that face receive, so that what a role may not read is never sent to it.
import type { Role } from './atoms.ts'
import { type AnyRecord, type Home, type Kind, managerKinds, type RecordOf } from './kinds.ts'

/** manager: the office with what is private to managers. crew: everybody who works here. guest: researchers. wall: the screen in the room. */
export type Face = 'manager' | 'crew' | 'guest' | 'wall'

/** The face of a home that a role is shown; null when the role may not open the home at all. */
export function faceFor(role: Role, home: Home): Face | null {
  if (home === 'board') return role === 'wall' ? 'wall' : role === 'researcher' ? 'guest' : 'crew'
  if (home === 'office') return role === 'manager' ? 'manager' : role === 'preparator' ? 'crew' : null
  // Held by the server alone: what they were worth is asked for, and answered to managers and preparators.
  if (home === 'forecasts') return null
  // Health figures and incidents are each person's: a face is a role's, so they are in no document at all. Whoever may
  // read some of them asks, and the server answers person by person.
  if (home === 'safety') return null
  if (home === 'archive') return role === 'wall' ? null : role === 'researcher' ? 'guest' : 'crew'
  return role === 'wall' ? null : role === 'researcher' ? 'guest' : 'crew'
}

/** Named field by field, so that what a person's record learns later is not told by that alone. */
function firstNameOnly({ id, name, role, isActive, erased }: RecordOf<'person'>): RecordOf<'person'> {
  return {
    ...{ id, name, role, isActive, ...(erased && { erased }) },
    familyName: '',
    skills: [],
    pattern: [],
    exceptions: [],
    loves: [],
    since: '2000-01-01',
    hasJoined: true,
  }
}

/** Kinds that guests read as they are. */
const forGuests: readonly Kind[] = [
  'lab',
  'room',
  'place',
  'jacket',
  'specimen',
  'step',
  'escalation',
  'due',
  'outlook',
  'question',
  'watch',
  'assignment',
  'work',
  'day',
  'log',
  'entry',
  'resting',
  'assessment',
  'relation',
  'housing',
  'custody',
  'photo',
  'stroke',
  'clock',
]

/**
 * Minutes in the hand are the raw half of a health figure. They stand in records that everybody reads, so documents carry
 * those without them, whoever opens them; whom they concern asks `safety`.
 */
function withoutHandMinutes(kind: Kind, record: AnyRecord): AnyRecord {
  if (kind === 'entry') {
    const entry = record as RecordOf<'entry'>
    if (entry.detail?.runningMinutes === undefined) return record
    const { runningMinutes: _, ...detail } = entry.detail
    return { ...entry, detail }
  }
  if (kind !== 'work' && kind !== 'log') return record
  const timed = record as RecordOf<'work'> | RecordOf<'log'>
  return timed.runningMinutes === 0 ? record : { ...timed, runningMinutes: 0 }
}

/** A record as a face may read it, or null when it may not. `today` is the lab's local date: the Wall reads no other day. */
export function project(face: Face, kind: Kind, record: AnyRecord, today: string): AnyRecord | null {
  const read = projected(face, kind, record, today)
  return read && withoutHandMinutes(kind, read)
}

function projected(face: Face, kind: Kind, record: AnyRecord, today: string): AnyRecord | null {
  if (face === 'manager') return record
  // A step that one person works on alone would tell how quick they are: only the server forecasts with it.
  if (kind === 'hours') return face === 'wall' ? null : { ...(record as RecordOf<'hours'>), byHands: [] }
  if (face === 'crew') return managerKinds.includes(kind) ? null : record
  if (kind === 'person') return firstNameOnly(record as RecordOf<'person'>)
  // Why it may end with nobody in is the crew's affair.
  if (face === 'guest' && kind === 'clock') return { ...(record as RecordOf<'clock'>), despite: '' }
  if (face === 'guest') return forGuests.includes(kind) ? record : null
  switch (kind) {
    case 'lab':
    case 'room':
    case 'place':
    case 'outlook':
      return record
    case 'assignment':
    case 'attendance':
    case 'work':
      return 'date' in record && record.date === today ? record : null
    case 'day':
      return record.id === today ? { ...(record as RecordOf<'day'>), note: '' } : null
    case 'jacket':
      return {
        ...(record as RecordOf<'jacket'>),
        note: '',
        collector: '',
        locality: '',
        fieldNotes: '',
        sketchNote: '',
        permit: '',
        owner: '',
      }
    case 'specimen':
      return { ...(record as RecordOf<'specimen'>), note: '', locality: '' }
    case 'step':
      return { ...(record as RecordOf<'step'>), by: [] }
    case 'due':
      return { ...(record as RecordOf<'due'>), note: '' }
    case 'clock': {
      const clock = record as RecordOf<'clock'>
      return clock.ends.date === today ? { ...clock, about: '', despite: '' } : null
    }
    default:
      return null
  }
}
