// The store's memory twin: same promises but one, it forgets when the process ends. For tests, simulations and trying
// things out. Values are kept as JSON text, so that nobody can change what was stored by holding on to an object.
// `faults` lets a test fail a call before it does anything, or after it did (the answer that got lost).
import { type Change, type Home, homeOf, type Kind, type RecordOf, WORDS_VERSION } from '#lib/words'
import { fold, questionWords, restingKind, restingNumber, restingWords } from './archive-words.ts'
import type {
  Appended,
  ArchiveAnswer,
  ArchiveQuestion,
  Door,
  DoorItem,
  Entry,
  KeptEntry,
  PlacedRecord,
  Receipt,
  Snapshot,
  Store,
  StoredRecord,
  StoredText,
  TextBase,
  TextUpdate,
} from './contract.ts'

/** Called around each call with its name; a throw is the call's failure. May wait. */
export interface Faults {
  before?(call: string): void | Promise<void>
  after?(call: string): void | Promise<void>
}

interface Row {
  readonly kind: Kind
  readonly id: string
  readonly json: string
  readonly words: number
}

interface LabData {
  readonly entries: string[]
  readonly receipts: Map<string, Receipt>
  readonly homes: Map<string, Map<string, Row>>
  readonly texts: Map<string, { base: TextBase | null; updates: (TextUpdate & { n: number })[]; upTo: number }>
  readonly listeners: Set<(seq: number) => void>
}

/** A store in memory. */
export function memoryStore(faults: Faults = {}): Store {
  const labs = new Map<string, LabData>()

  const labOf = (name: string): LabData => {
    let lab = labs.get(name)
    if (!lab) {
      lab = { entries: [], receipts: new Map(), homes: new Map(), texts: new Map(), listeners: new Set() }
      labs.set(name, lab)
    }
    return lab
  }

  /** Every call goes through here, so that it answers later and can fail before or after its work. */
  async function call<T>(name: string, work: () => T): Promise<T> {
    await faults.before?.(name)
    const result = work()
    await faults.after?.(name)
    return result
  }

  function append(
    name: string,
    expectedSeq: number,
    entries: readonly Entry[],
    rewritten: readonly KeptEntry[],
  ): Appended {
    const lab = labOf(name)
    if (lab.entries.length !== expectedSeq) return { ok: false, why: 'position', seq: lab.entries.length }
    const twice = entries.filter((entry) => lab.receipts.has(entry.opId)).map((entry) => entry.opId)
    if (twice.length > 0) return { ok: false, why: 'op-twice', opIds: twice }
    for (const { seq, op, changes, seal } of rewritten) {
      const kept = lab.entries[seq - 1]
      if (kept) lab.entries[seq - 1] = JSON.stringify({ ...parseEntry(kept), op, changes, seal })
    }
    for (const entry of entries) {
      const seq = lab.entries.length + 1
      lab.entries.push(JSON.stringify({ ...entry, seq, words: WORDS_VERSION }))
      lab.receipts.set(entry.opId, { opId: entry.opId, seq, at: entry.at })
      for (const change of entry.changes) lay(lab, change)
    }
    const seq = lab.entries.length
    for (const listener of lab.listeners) queueMicrotask(() => listener(seq))
    return { ok: true, seq }
  }

  return {
    labs: () => call('labs', () => [...labs.keys()].filter((name) => labOf(name).entries.length > 0).sort()),
    head: (name) => call('head', () => labOf(name).entries.length),
    append: (name, expectedSeq, entries, rewritten = []) =>
      call('append', () => append(name, expectedSeq, entries, rewritten)),
    read: (name, afterSeq, limit) =>
      call('read', () =>
        labOf(name)
          .entries.slice(afterSeq, afterSeq + limit)
          .map(parseEntry),
      ),
    snapshot: (name, home, id) => call('snapshot', () => snapshot(labOf(name), home, id)),
    records: (name, after, limit) => call('records', () => pageOf(labOf(name), after, limit)),
    findOps: (name, opIds) => call('findOps', () => opIds.flatMap((opId) => labOf(name).receipts.get(opId) ?? [])),
    recentOps: (name, limit) => call('recentOps', () => [...labOf(name).receipts.values()].slice(-limit)),
    history: (name, subject, before, limit) =>
      call('history', () =>
        labOf(name)
          .entries.slice(0, before === null ? undefined : Math.max(0, before - 1))
          .map(parseEntry)
          .filter((entry) => entry.subjects.includes(subject))
          .reverse()
          .slice(0, limit),
      ),
    search: (name, question) => call('search', () => search(labOf(name), question)),
    appendText: (name, text, updates) =>
      call('appendText', () => {
        const stored = textOf(labOf(name), text)
        for (const update of updates) {
          stored.upTo++
          stored.updates.push({ ...update, bytes: update.bytes.slice(), n: stored.upTo })
        }
      }),
    loadText: (name, text) =>
      call('loadText', (): StoredText => {
        const { base, updates, upTo } = textOf(labOf(name), text)
        return { base, updates: updates.map(({ bytes, client, personId }) => ({ bytes, client, personId })), upTo }
      }),
    texts: (name) =>
      call('texts', () =>
        [...labOf(name).texts].flatMap(([text, { base, upTo }]) => (base || upTo > 0 ? text : [])).sort(),
      ),
    compactText: (name, text, upTo, base) =>
      call('compactText', () => {
        const stored = textOf(labOf(name), text)
        stored.base = base
        stored.updates = stored.updates.filter(({ n }) => n > upTo)
      }),
    door: memoryDoor(call),
    subscribe: (name, onSeq) => {
      const { listeners } = labOf(name)
      listeners.add(onSeq)
      return () => listeners.delete(onSeq)
    },
    isWell: () => true,
    backup: () => Promise.reject(new Error('A store in memory has no copy to write: start with a data folder.')),
    close: () => Promise.resolve(),
  }
}

// What was written as an entry reads back as one.
const parseEntry = (json: string): KeptEntry => JSON.parse(json) as KeptEntry

function lay(lab: LabData, change: Change): void {
  const home = homeOf(change.kind, change.record)
  let rows = lab.homes.get(home)
  if (!rows) {
    rows = new Map()
    lab.homes.set(home, rows)
  }
  const key = `${change.kind} ${change.id}`
  rows.delete(key)
  const { kind, id, record } = change
  if (record) rows.set(key, { kind, id, json: JSON.stringify(record), words: WORDS_VERSION })
}

const toStored = (row: Row): StoredRecord => ({
  kind: row.kind,
  id: row.id,
  record: JSON.parse(row.json),
  words: row.words,
})

function snapshot(lab: LabData, home: Home, id: string | undefined): Snapshot {
  const rows = [...(lab.homes.get(home)?.values() ?? [])].filter((row) => id === undefined || row.id === id)
  return { seq: lab.entries.length, records: rows.map(toStored) }
}

/** Letters are compared by their code, as the other store does; what rests comes last. */
function pageOf(lab: LabData, after: Pick<PlacedRecord, 'home' | 'kind' | 'id'> | null, limit: number) {
  const keyOf = ({ home, kind, id }: Pick<PlacedRecord, 'home' | 'kind' | 'id'>) =>
    `${home === 'archive' ? 1 : 0} ${home} ${kind} ${id}`
  const from = after && keyOf(after)
  return (
    [...lab.homes]
      // Keys of this map are homes.
      .flatMap(([home, rows]) => [...rows.values()].map((row) => ({ home: home as Home, ...toStored(row) })))
      .map((record) => ({ key: keyOf(record), record }))
      .filter(({ key }) => from === null || key > from)
      .sort((a, b) => (a.key < b.key ? -1 : 1))
      .slice(0, limit)
      .map(({ record }) => record)
  )
}

function search(lab: LabData, question: ArchiveQuestion): ArchiveAnswer {
  const words = questionWords(question.text)
  const number = fold(question.text)
  const hits = [...(lab.homes.get('archive')?.values() ?? [])]
    .reverse()
    .map((row) => ({ row, resting: JSON.parse(row.json) as RecordOf<'resting'> }))
    .filter(({ resting }) => question.kind === null || restingKind(resting) === question.kind)
    .filter(({ resting }) => {
      const has = restingWords(resting)
      return words.every((word) => has.some((one) => one.startsWith(word)))
    })
  const exact = hits.filter(({ resting }) => number !== '' && restingNumber(resting) === number)
  const rest = hits.filter((hit) => !exact.includes(hit))
  const all = [...exact, ...rest]
  const found = all.slice(question.offset, question.offset + question.limit)
  return { found: found.map(({ row }) => toStored(row)), hasMore: all.length > question.offset + found.length }
}

function textOf(lab: LabData, name: string) {
  let text = lab.texts.get(name)
  if (!text) {
    text = { base: null, updates: [], upTo: 0 }
    lab.texts.set(name, text)
  }
  return text
}

function memoryDoor(call: <T>(name: string, work: () => T) => Promise<T>): Door {
  const spaces = new Map<string, Map<string, { json: string; expiresAt: number | null }>>()
  const spaceOf = (name: string) => {
    let space = spaces.get(name)
    if (!space) {
      space = new Map()
      spaces.set(name, space)
    }
    return space
  }
  const get = (space: string, key: string, now: number): DoorItem | null => {
    const item = spaceOf(space).get(key)
    if (!item || (item.expiresAt !== null && item.expiresAt <= now)) return null
    return { key, value: JSON.parse(item.json), expiresAt: item.expiresAt }
  }
  return {
    put: (space, { key, value, expiresAt }) =>
      call('door.put', () => void spaceOf(space).set(key, { json: JSON.stringify(value), expiresAt })),
    get: (space, key, now) => call('door.get', () => get(space, key, now)),
    take: (space, key, now) =>
      call('door.take', () => {
        const item = get(space, key, now)
        spaceOf(space).delete(key)
        return item
      }),
    remove: (space, key) => call('door.remove', () => void spaceOf(space).delete(key)),
    list: (space, now) =>
      call('door.list', () =>
        [...spaceOf(space).keys()].sort().flatMap((key) => {
          const item = get(space, key, now)
          return item ? [item] : []
        }),
      ),
    sweep: (now) =>
      call('door.sweep', () => {
        for (const space of spaces.values())
          for (const [key, { expiresAt }] of space) if (expiresAt !== null && expiresAt <= now) space.delete(key)
      }),
  }
}
