// The documents that readers get: one Yjs document per home and face, derived from the records and written by the
// server alone. A batch of changes becomes one update, encoded once, sent to every reader as the same bytes.
// Each birth of a document has its epoch. A document is born again when its history outweighs it (every replaced record
// leaves a struct behind for ever), and the Wall's at midnight, when it turns to another day.

import * as Y from 'yjs'
import { weigh, writeChanges } from '#lib/doc'
import {
  type AnyRecord,
  type Change,
  type Face,
  type Home,
  homeOf,
  kindNames,
  project,
  type Records,
  WORDS_VERSION,
} from '#lib/words'
import { type Frame, step2Frame, updateFrame } from './sync/frames.ts'
import { type Chance, unguessable } from './world.ts'

/** Whoever is shown a document. */
export interface Reader {
  readonly send: (frame: Frame) => void
  /** The document was born again: this reader's copy is of the past. */
  readonly reborn: (epoch: string) => void
}

/** Structs per live value above which a document is born again, and the fewest for which it is worth it. */
const STRUCTS_PER_LIVE = 20
const STRUCTS_MIN = 2_000

export class FaceDocument {
  readonly home: Home
  readonly face: Face
  readonly epoch: string
  /** Readers that hold what the document holds, and are sent each update. */
  readonly readers = new Set<Reader>()
  readonly #doc = new Y.Doc()
  #update: Uint8Array | null = null
  #whole: Frame | null = null
  #weighAt = STRUCTS_MIN

  constructor(home: Home, face: Face, chance: Chance, changes: readonly Change[], seq: number) {
    const epoch = unguessable(chance)
    this.home = home
    this.face = face
    this.epoch = epoch
    // Yjs would draw it by itself, and a simulation could not be played again.
    this.#doc.clientID = new DataView(chance.bytes(4).slice().buffer).getUint32(0)
    this.#doc.on('update', (update: Uint8Array) => {
      this.#update = update
    })
    writeChanges(this.#doc, changes, { epoch, seq, words: WORDS_VERSION })
    this.#whole = null
  }

  /** What a reader lacks, as the frame that answers its step 1. Throws on a state vector that is not one. */
  answer(stateVector: Uint8Array): Frame {
    // Nothing known yet is the common case after a restart or a birth: encoded once for everybody.
    const isEmpty = stateVector.length === 1 && stateVector[0] === 0
    if (isEmpty && this.#whole) return this.#whole
    const frame = step2Frame(Y.encodeStateAsUpdate(this.#doc, stateVector))
    if (isEmpty) this.#whole = frame
    return frame
  }

  /** Writes durable changes and sends them to the readers. */
  write(changes: readonly Change[], seq: number): void {
    this.#update = null
    writeChanges(this.#doc, changes, { seq })
    this.#whole = null
    if (this.#update === null || this.readers.size === 0) return
    const frame = updateFrame(this.#update)
    for (const reader of this.readers) reader.send(frame)
  }

  /** True when a record of that kind and id is in it. */
  shows({ kind, id }: Change): boolean {
    return this.#doc.getMap(kind).has(id)
  }

  /** True when its past outweighs it. */
  get isWorn(): boolean {
    let structs = 0
    for (const ofClient of this.#doc.store.clients.values()) structs += ofClient.length
    if (structs < this.#weighAt) return false
    const { live } = weigh(this.#doc)
    this.#weighAt = Math.max(STRUCTS_MIN, live * STRUCTS_PER_LIVE)
    return structs >= this.#weighAt
  }

  destroy(): void {
    this.readers.clear()
    this.#doc.destroy()
  }
}

/** All documents of one lab that somebody reads. */
export class Faces {
  readonly #chance: Chance
  readonly #documents = new Map<string, FaceDocument>()
  /** The lab's local date; the Wall is shown no other day. */
  today: string

  constructor(chance: Chance, today: string) {
    this.#chance = chance
    this.today = today
  }

  find(home: Home, face: Face): FaceDocument | undefined {
    return this.#documents.get(`${home} ${face}`)
  }

  get all(): readonly FaceDocument[] {
    return [...this.#documents.values()]
  }

  /** Makes a document from records that are all durable. */
  make(home: Home, face: Face, records: Records, seq: number): FaceDocument {
    const document = new FaceDocument(home, face, this.#chance, this.#shown(home, face, records), seq)
    this.#documents.set(`${home} ${face}`, document)
    return document
  }

  /** Makes a document anew under another epoch; readers of the old one are told to take it whole. */
  rebirth(old: FaceDocument, records: Records, seq: number): void {
    const { home, face } = old
    const readers = [...old.readers]
    old.destroy()
    const { epoch } = this.make(home, face, records, seq)
    for (const reader of readers) reader.reborn(epoch)
  }

  drop(document: FaceDocument): void {
    this.#documents.delete(`${document.home} ${document.face}`)
    document.destroy()
  }

  /** Writes durable changes to every document that shows them; gives back those that are worn. */
  write(changes: readonly Change[], seq: number): readonly FaceDocument[] {
    const worn: FaceDocument[] = []
    for (const document of this.#documents.values()) {
      const shown = this.#project(document, changes)
      if (shown.length === 0) continue
      document.write(shown, seq)
      if (document.isWorn) worn.push(document)
    }
    return worn
  }

  #project(document: FaceDocument, changes: readonly Change[]): readonly Change[] {
    const { home, face } = document
    const shown: Change[] = []
    for (const change of changes) {
      if (homeOf(change.kind, change.record) !== home) continue
      const record = change.record && project(face, change.kind, change.record, this.today)
      // What the face was never shown leaves no trace at all, not even its removal.
      if (record === null && !document.shows(change)) continue
      shown.push(record === change.record ? change : ({ ...change, record } as Change))
    }
    return shown
  }

  #shown(home: Home, face: Face, records: Records): readonly Change[] {
    const changes: Change[] = []
    for (const kind of kindNames)
      for (const [id, record] of records[kind] as ReadonlyMap<string, AnyRecord>) {
        if (homeOf(kind, record) !== home) continue
        const shown = project(face, kind, record, this.today)
        // Projecting keeps the kind.
        if (shown) changes.push({ kind, id, record: shown } as Change)
      }
    return changes
  }
}
