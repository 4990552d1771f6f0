// With somebody's private data leaving the records, the log that led to them is gone over: what it said of them is taken
// out of each entry, which keeps its number, author and time, so that history still reads and no receipt changes. Both
// are one append, all or nothing, so there is no moment in which one is done and the other is not.
// Copies made before are outside its reach; typed notes and the words of the treatment record are the record's.
import { isPrivateOf } from '#lib/ops'
import type { Change, RecordOf } from '#lib/words'
import type { Entry, KeptEntry, Store } from './store/contract.ts'

const PAGE = 200
/** Entries of a founding are large. */
const FOUNDING_PAGE = 4

/** A store whose log forgets whoever is erased. */
export function forgetful(store: Store): Store {
  return {
    ...store,
    async append(lab, expectedSeq, entries) {
      const nameless = entries.flatMap(({ kind, changes }) =>
        kind === 'erasePerson' ? changes.flatMap((one) => (one.kind === 'person' ? (one.record ?? []) : [])) : [],
      )
      if (nameless.length === 0) return store.append(lab, expectedSeq, entries)
      const forgotten = <E extends Entry>(entry: E): E => nameless.reduce(without, entry)
      const rewritten = new Map<number, KeptEntry>()
      for (const person of nameless)
        for await (const kept of historyOf(store, lab, person.id)) {
          const entry = forgotten(kept)
          if (entry !== kept) rewritten.set(kept.seq, entry)
        }
      return store.append(lab, expectedSeq, entries.map(forgotten), [...rewritten.values()])
    },
  }
}

/** Everything that is filed under the person, and how the lab was founded, which is filed under nobody. */
async function* historyOf(store: Store, lab: string, personId: string): AsyncGenerator<KeptEntry> {
  for (let after = 0; ; after += FOUNDING_PAGE) {
    const founding = (await store.read(lab, after, FOUNDING_PAGE)).filter(({ kind }) => kind === 'found')
    yield* founding
    if (founding.length < FOUNDING_PAGE) break
  }
  for (let before: number | null = null; ; ) {
    const page: readonly KeptEntry[] = await store.history(lab, personId, before, PAGE)
    yield* page
    const last = page.at(-1)
    if (!last || page.length < PAGE) return
    before = last.seq
  }
}

/** The entry without what was private of the person; the same one when there is nothing to take out. */
function without<E extends Entry>(entry: E, person: RecordOf<'person'>): E {
  if (entry.kind === 'erasePerson') return entry
  let isTouched = false
  const changes = entry.changes.map((change): Change => {
    const isTheirs = change.kind === 'person' && change.id === person.id && change.record !== null
    if (isTheirs && JSON.stringify(change.record) !== JSON.stringify(person)) {
      isTouched = true
      return { kind: 'person', id: change.id, record: person }
    }
    if (change.record === null || !isPrivateOf(change.kind, change.record, person.id)) return change
    isTouched = true
    return { kind: change.kind, id: change.id, record: null } as Change
  })
  // The op's own words said the same.
  return isTouched ? { ...entry, op: null, changes } : entry
}
