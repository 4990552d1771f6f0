// Marks on what not everybody may read, and who may: said again by hand, so that the code that projects records is not
// asked about itself. Yjs writes strings as they are, so a mark in a frame is found by looking for its letters.
import { kinds, put, type Records, type Role, withChanges } from '#lib/words'

const secrets: readonly { readonly mark: string; readonly mayRead: readonly Role[] }[] = [
  { mark: 'zzprivatezz', mayRead: ['manager'] },
  { mark: 'zzcontactzz', mayRead: ['manager', 'preparator'] },
  { mark: 'zzfamilyzz', mayRead: ['manager', 'preparator', 'volunteer'] },
  { mark: 'zznotezz', mayRead: ['manager', 'preparator', 'volunteer', 'researcher'] },
]

/** Marks in a frame that its reader may not read. */
export function leakedIn(frame: Uint8Array, role: Role | null): readonly string[] {
  const bytes = Buffer.from(frame.buffer, frame.byteOffset, frame.byteLength)
  if (!bytes.includes('zz')) return []
  return secrets
    .filter(({ mark, mayRead }) => bytes.includes(mark) && !(role && mayRead.includes(role)))
    .map(({ mark }) => mark)
}

/** A lab whose private things carry the marks. */
export function marked(records: Records): Records {
  const note = { aboutPersonId: 'ana', aboutPieceId: null, by: 'mira', at: '2026-03-01T08:00:00.000Z' }
  return withChanges(records, [
    ...[...records.person.values()].map((person) => put('person', { ...person, familyName: 'zzfamilyzz' })),
    ...[...records.specimen.values()].map((piece) => put('specimen', { ...piece, note: 'zznotezz' })),
    ...[...records.jacket.values()].map((piece) => put('jacket', { ...piece, note: 'zznotezz' })),
    put('contact', kinds.contact.parse({ id: 'ana', phone: 'zzcontactzz', email: '', emergency: '' })),
    put('privateNote', kinds.privateNote.parse({ id: 'note1', text: 'zzprivatezz', ...note })),
  ])
}

/** The fields of an act, with its private words marked. */
export function withMarks<T extends object>(body: T): T {
  const text = JSON.stringify(body)
    .replace('"text":"private"', '"text":"zzprivatezz"')
    .replace('"phone":"1"', '"phone":"zzcontactzz"')
  return JSON.parse(text) as T
}
