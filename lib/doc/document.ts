// Records in a Yjs document: one Y.Map per kind, id -> the whole record as one plain value, and a map `meta`. The server
// is the only writer, so the last value written is the true one and nothing below a record ever needs merging; a
// record inside the document is never changed in place, so readers may hold on to it.
import type * as Y from 'yjs'
import { type AnyRecord, type Change, type Kind, kindNames, noRecords, type Records } from '#lib/words'

/** What a document says about itself. */
export interface DocMeta {
  /** Which birth of the document this is; copies of different births are never merged. */
  readonly epoch: string
  /** The lab's position that the records stand for. */
  readonly seq: number
  /** WORDS_VERSION of the records in it. */
  readonly words: number
}

/** Writes changes and what is known about them in one transaction, so that they leave as one update. */
export function writeChanges(
  doc: Y.Doc,
  changes: readonly Change[],
  meta: Partial<DocMeta>,
  origin: unknown = null,
): void {
  doc.transact(() => {
    for (const { kind, id, record } of changes) {
      const map = doc.getMap(kind)
      if (record) map.set(id, record)
      else if (map.has(id)) map.delete(id)
    }
    const about = doc.getMap('meta')
    for (const [key, value] of Object.entries(meta)) if (about.get(key) !== value) about.set(key, value)
  }, origin)
}

/** All records of a document. */
export function readAll(doc: Y.Doc): Records {
  const records = noRecords() as Record<Kind, Map<string, AnyRecord>>
  for (const kind of kindNames) {
    // Written by the server from records that passed their schema.
    for (const [id, record] of doc.getMap<AnyRecord>(kind).entries()) records[kind].set(id, record)
  }
  return records as unknown as Records
}

/** What a document says about itself; null while it is empty. */
export function readMeta(doc: Y.Doc): DocMeta | null {
  const about = doc.getMap('meta')
  const [epoch, seq, words] = [about.get('epoch'), about.get('seq'), about.get('words')]
  if (typeof epoch !== 'string' || typeof seq !== 'number' || typeof words !== 'number') return null
  return { epoch, seq, words }
}

/** Calls back after each transaction with the records it touched; returns how to stop. */
export function observe(doc: Y.Doc, onChanges: (changes: readonly Change[]) => void): () => void {
  const maps = new Map<unknown, Kind>(kindNames.map((kind) => [doc.getMap(kind), kind]))
  const afterTransaction = (transaction: Y.Transaction) => {
    const changes: Change[] = []
    for (const [type, keys] of transaction.changed) {
      const kind = maps.get(type)
      if (kind === undefined) continue
      const map = doc.getMap<AnyRecord>(kind)
      // A map's keys are its records' ids; the kind and the record belong together by writeChanges.
      for (const id of keys) if (id !== null) changes.push({ kind, id, record: map.get(id) ?? null } as Change)
    }
    if (changes.length > 0) onChanges(changes)
  }
  doc.on('afterTransaction', afterTransaction)
  return () => doc.off('afterTransaction', afterTransaction)
}

/** Live values against the structs that carry them: what tells when a document should be born again. */
export function weigh(doc: Y.Doc): { readonly structs: number; readonly live: number } {
  let structs = 0
  for (const ofClient of doc.store.clients.values()) structs += ofClient.length
  let live = doc.getMap('meta').size
  for (const kind of kindNames) live += doc.getMap(kind).size
  return { structs, live }
}
