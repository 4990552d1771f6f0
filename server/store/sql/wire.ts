// What passes between the server's thread and the store's: plain values, records as JSON text that was made once and is
// stored as it came. Kept apart from the contract, because only this store needs it.
import type { Kind } from '#lib/words'
import type { Snapshot, StoredRecord } from '../contract.ts'

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

export const toSnapshot = ({ seq, records }: WireSnapshot): Snapshot => ({ seq, records: records.map(toRecord) })
