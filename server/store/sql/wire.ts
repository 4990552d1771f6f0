// What the stores in SQL write and read: plain values, records as JSON text that was made once and is stored as it came.
// The embedded store's thread is passed the same. Kept apart from the contract, because no caller of it needs this.
import { type Home, homeOf, type Kind, WORDS_VERSION } from '#lib/words'
import { indexedWords, restingNumber } from '../archive-words.ts'
import type {
  DoorItem,
  Entry,
  KeptEntry,
  PlacedRecord,
  Snapshot,
  StoredRecord,
  StoredText,
  TextBase,
} from '../contract.ts'

export interface WireChange {
  readonly home: string
  readonly kind: Kind
  readonly id: string
  readonly json: string | null
  /** Only for what rests: its number and its words, made by the server's thread. */
  readonly resting: { readonly number: string; readonly words: string } | null
}

export interface WireEntry {
  readonly opId: string
  readonly kind: string
  readonly personId: string | null
  readonly at: string
  readonly words: number
  /** The entry's op, changes and subjects as one JSON text. */
  readonly body: string
  readonly subjects: readonly string[]
  readonly changes: readonly WireChange[]
}

export interface WireKept {
  readonly seq: number
  readonly id: string
  readonly kind: string
  readonly person: string | null
  readonly at: string
  readonly words: number
  readonly body: string
}

export interface WireRecord {
  readonly kind: Kind
  readonly id: string
  readonly words: number
  readonly json: string
}

export interface WirePlaced extends WireRecord {
  readonly home: Home
}

export interface WireSnapshot {
  readonly seq: number
  readonly records: readonly WireRecord[]
}

export const toRecord = ({ kind, id, words, json }: WireRecord): StoredRecord => ({
  kind,
  id,
  words,
  record: JSON.parse(json),
})

export const toPlaced = (row: WirePlaced): PlacedRecord => ({ home: row.home, ...toRecord(row) })

export const toSnapshot = ({ seq, records }: WireSnapshot): Snapshot => ({ seq, records: records.map(toRecord) })

export interface WireText {
  readonly base: (Omit<TextBase, 'holders'> & { readonly holders: string }) | null
  readonly updates: readonly { n: number; client: number | null; personId: string; bytes: Uint8Array }[]
  readonly upTo: number
}

export const toText = ({ base, updates, upTo }: WireText): StoredText => ({
  // Written as JSON by compactText.
  base: base && { ...base, holders: JSON.parse(base.holders) as TextBase['holders'] },
  updates: updates.map(({ bytes, client, personId }) => ({ bytes, client, personId })),
  upTo,
})

export interface WireItem {
  readonly key: string
  readonly value: string
  readonly expiresAt: number | null
}

export const toItem = ({ key, value, expiresAt }: WireItem): DoorItem => ({ key, value: JSON.parse(value), expiresAt })

export function toWire(entry: Entry): WireEntry {
  const changes = entry.changes.map((change): WireChange => {
    const { kind, id, record } = change
    const resting =
      change.kind === 'resting' && change.record
        ? { number: restingNumber(change.record), words: indexedWords(change.record) }
        : null
    return { home: homeOf(kind, record), kind, id, json: record && JSON.stringify(record), resting }
  })
  const written = changes.map(
    ({ kind, id, json }) => `{"kind":${JSON.stringify(kind)},"id":${JSON.stringify(id)},"record":${json}}`,
  )
  const { opId, kind, personId, at, subjects } = entry
  const seal = entry.seal ? `,"seal":${JSON.stringify(entry.seal)}` : ''
  const body = `{"op":${JSON.stringify(entry.op)},"subjects":${JSON.stringify(subjects)},"changes":[${written.join(',')}]${seal}}`
  return { opId, kind, personId, at, words: WORDS_VERSION, body, subjects, changes }
}

export function toKept({ seq, id, kind, person, at, words, body }: WireKept): KeptEntry {
  // Written by toWire.
  const { op, subjects, changes, seal } = JSON.parse(body) as Pick<Entry, 'op' | 'subjects' | 'changes' | 'seal'>
  return { seq, opId: id, kind, personId: person, at, words, op, subjects, changes, ...(seal && { seal }) }
}
