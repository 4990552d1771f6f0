// After somebody's private data has left the records, the log that led to them is gone over: what it said of them is
// taken out of each entry, which keeps its number, author and time, so that history still reads and no receipt changes.
// Done before the erasure is called kept, and once more whenever a lab is opened, for a server that died in between.
// Copies made before are outside its reach; typed notes and the words of the treatment record are the record's.
import type { AnyRecord, Change, RecordOf } from '#lib/words'
import type { KeptEntry, Store } from './store/contract.ts'

const PAGE = 200

/** Kinds that an entry says nothing of any more. */
const privateKinds: readonly Change['kind'][] = [
  'contact',
  'privateNote',
  'signing',
  'signOffAsk',
  'ack',
  'attendance',
  'swap',
]

/** A store whose log forgets whoever was erased. */
export function forgetful(store: Store): Store {
  const seen = new Set<string>()
  return {
    ...store,
    async append(lab, expectedSeq, entries) {
      const appended = await store.append(lab, expectedSeq, entries)
      if (!appended.ok) return appended
      for (const { kind, changes } of entries) {
        if (kind !== 'erasePerson') continue
        for (const change of changes)
          if (change.kind === 'person' && change.record) await forget(store, lab, change.record)
      }
      return appended
    },
    async snapshot(lab, home, id) {
      const snapshot = await store.snapshot(lab, home, id)
      if (home !== 'board' || seen.has(lab)) return snapshot
      seen.add(lab)
      for (const { kind, record } of snapshot.records) {
        const person = record as RecordOf<'person'>
        if (kind === 'person' && person.erased) await forget(store, lab, person)
      }
      return snapshot
    },
  }
}

/** Goes over everything that names the person as its subject. */
async function forget(store: Store, lab: string, person: RecordOf<'person'>): Promise<void> {
  for (let before: number | null = null; ; ) {
    const page: readonly KeptEntry[] = await store.history(lab, person.id, before, PAGE)
    const changed = page.flatMap((entry) => without(entry, person) ?? [])
    if (changed.length > 0) await store.rewrite(lab, changed)
    const last = page.at(-1)
    if (!last || page.length < PAGE) return
    before = last.seq
  }
}

/** The entry without what was private of the person; null when there is nothing to take out. */
function without(entry: KeptEntry, person: RecordOf<'person'>): KeptEntry | null {
  if (entry.kind === 'erasePerson') return null
  let isTouched = false
  const changes = entry.changes.map((change): Change => {
    const record: AnyRecord | null = change.record
    if (record === null) return change
    if (change.kind === 'person' && change.id === person.id) {
      if (JSON.stringify(record) === JSON.stringify(person)) return change
      isTouched = true
      return { kind: 'person', id: change.id, record: person }
    }
    const isTheirs =
      change.id === person.id ||
      [Reflect.get(record, 'personId'), Reflect.get(record, 'aboutPersonId')].includes(person.id)
    if (!privateKinds.includes(change.kind) || !isTheirs) return change
    isTouched = true
    return { kind: change.kind, id: change.id, record: null } as Change
  })
  // The op's own words said the same.
  return isTouched ? { ...entry, op: null, changes } : null
}
