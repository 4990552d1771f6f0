// The one contract between the server and whatever keeps its data: an ordered list of what happened per lab, the
// records that follow from it, texts typed together, the archive's search, and the door's small tables. A promise that
// fulfils means durable. tests/suites/store.ts says the same in tests, for every implementation.
import type { Change, Home, Kind } from '#lib/words'

/** One op as it happened, with its effects, so that history reads without today's code. */
export interface Entry {
  readonly opId: string
  readonly kind: string
  /** The op as it was accepted. */
  readonly op: unknown
  /** Who did it; null for the server itself. */
  readonly personId: string | null
  /** ISO instant, the server's clock. */
  readonly at: string
  readonly changes: readonly Change[]
  /** Ids of pieces, people and places whose history shows this op. */
  readonly subjects: readonly string[]
  /** Ties it to the entry before; made by sealing.ts, stored and read back as it is. */
  readonly seal?: Seal
}

/** How an entry is tied to the one before it (sealing.ts). */
export interface Seal {
  /** Null when the words that were digested with it have been taken out. */
  readonly salt: string | null
  readonly digest: string
  readonly link: string
  /** For the words laid in the place of others. */
  readonly now?: { readonly salt: string; readonly digest: string }
  /** Entries that were given other words together with this one, and the digests of those. */
  readonly rewrote?: readonly (readonly [seq: number, digest: string])[]
}

/** An entry with its place in the lab's order, 1 for the first. */
export interface KeptEntry extends Entry {
  readonly seq: number
  /** WORDS_VERSION at the time it was written. */
  readonly words: number
}

export type Appended =
  | { readonly ok: true; readonly seq: number }
  /** Another server was faster: read from your position, judge again, try again. */
  | { readonly ok: false; readonly why: 'position'; readonly seq: number }
  /** These ops are kept already; nothing of this batch was written. */
  | { readonly ok: false; readonly why: 'op-twice'; readonly opIds: readonly string[] }

/** A record as stored; `words` tells which migration it still needs. */
export interface StoredRecord {
  readonly kind: Kind
  readonly id: string
  readonly record: unknown
  readonly words: number
}

/** A record with where it lies: what a reading of a whole lab goes on from. */
export interface PlacedRecord extends StoredRecord {
  readonly home: Home
}

export interface Snapshot {
  /** Position that the records stand for. */
  readonly seq: number
  readonly records: readonly StoredRecord[]
}

/** The receipt an op got. */
export interface Receipt {
  readonly opId: string
  readonly seq: number
  readonly at: string
}

export interface ArchiveQuestion {
  /** Words or beginnings of words, and numbers; all must occur. Empty for everything, newest at rest first. */
  readonly text: string
  readonly kind: 'jacket' | 'specimen' | null
  readonly limit: number
  readonly offset: number
}

export interface ArchiveAnswer {
  readonly found: readonly StoredRecord[]
  readonly hasMore: boolean
}

/** One update of a text document, with the person whose client made it. */
export interface TextUpdate {
  readonly bytes: Uint8Array
  /** Yjs client id that the update's new structs stand under; null when it only deletes. */
  readonly client: number | null
  readonly personId: string
}

export interface TextBase {
  readonly epoch: string
  readonly bytes: Uint8Array
  /** Yjs client id -> person, so that nobody writes under another's id after a restart. */
  readonly holders: readonly (readonly [client: number, personId: string])[]
}

export interface StoredText {
  readonly base: TextBase | null
  readonly updates: readonly TextUpdate[]
  /** Number of the last update, for `compactText`. */
  readonly upTo: number
}

/** A small value with an expiry, for sessions, invitations, pins and wall links. */
export interface DoorItem {
  readonly key: string
  readonly value: unknown
  /** Milliseconds since 1970; null for never. */
  readonly expiresAt: number | null
}

export interface Door {
  put(space: string, item: DoorItem): Promise<void>
  /** The item, unless it is missing or expired. */
  get(space: string, key: string, now: number): Promise<DoorItem | null>
  /** Reads and removes in one step: of two who try at once, one gets it. */
  take(space: string, key: string, now: number): Promise<DoorItem | null>
  remove(space: string, key: string): Promise<void>
  /** All unexpired items of a space. */
  list(space: string, now: number): Promise<readonly DoorItem[]>
  /** Forgets what has expired. */
  sweep(now: number): Promise<void>
}

export interface Store {
  /** Names of labs that have been written to. */
  labs(): Promise<readonly string[]>
  /** Position of a lab, 0 when nothing was written. */
  head(lab: string): Promise<number>
  /**
   * Writes entries after `expectedSeq` and their changes, all or nothing; fulfils when they are durable. With them other ops
   * and changes (and seals) are laid into the `rewritten` entries that are kept; their numbers, ids, authors, times and
   * subjects stay. Op, changes and seal read back with their fields in the order they were written in.
   */
  append(
    lab: string,
    expectedSeq: number,
    entries: readonly Entry[],
    rewritten?: readonly KeptEntry[],
  ): Promise<Appended>
  /** Entries after a position, oldest first. */
  read(lab: string, afterSeq: number, limit: number): Promise<readonly KeptEntry[]>
  /** All records of a home, or one by id. */
  snapshot(lab: string, home: Home, id?: string): Promise<Snapshot>
  /** Records of all homes behind one (null: from the first), page by page, in one order: what rests comes last. */
  records(
    lab: string,
    after: Pick<PlacedRecord, 'home' | 'kind' | 'id'> | null,
    limit: number,
  ): Promise<readonly PlacedRecord[]>
  /** Receipts of those ops that are kept. */
  findOps(lab: string, opIds: readonly string[]): Promise<readonly Receipt[]>
  /** Receipts of the latest ops, newest last. */
  recentOps(lab: string, limit: number): Promise<readonly Receipt[]>
  /** Entries that touched a subject before a position (null: the newest), newest first. */
  history(lab: string, subject: string, before: number | null, limit: number): Promise<readonly KeptEntry[]>
  search(lab: string, question: ArchiveQuestion): Promise<ArchiveAnswer>
  appendText(lab: string, name: string, updates: readonly TextUpdate[]): Promise<void>
  loadText(lab: string, name: string): Promise<StoredText>
  /** Names of the texts that there are. */
  texts(lab: string): Promise<readonly string[]>
  /** Replaces the updates up to a number by one base. */
  compactText(lab: string, name: string, upTo: number, base: TextBase): Promise<void>
  readonly door: Door
  /** Tells of positions only; who listens reads. Returns how to stop. */
  subscribe(lab: string, onSeq: (seq: number) => void): () => void
  /** False while it knows that nothing can be kept. */
  readonly isWell: () => boolean
  /** Writes a whole copy to a new file while everything goes on: a data file of the embedded store, whatever store this is. */
  backup(file: string): Promise<void>
  close(): Promise<void>
}

/** The store cannot keep or read now. Whether the last append was written is not known: read before trying again. */
export class StoreTrouble extends Error {
  readonly code: 'full' | 'io' | 'in-use' | 'closed' | 'newer'
  constructor(code: StoreTrouble['code'], message: string) {
    super(message)
    this.name = 'StoreTrouble'
    this.code = code
  }
}

/** The lock is another process's. */
export class OwnedElsewhere extends StoreTrouble {
  /** Where that process can be reached, if it says so. */
  readonly address: string | null
  constructor(address: string | null) {
    const where = address ? ` at ${address}` : ''
    super('in-use', `Another Talus${where} is writing to this database. Nothing was kept here; it has the lab.`)
    this.address = address
  }
}
