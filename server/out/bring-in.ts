// A whole lab back in from JSON Lines. The file is gone over from end to end before anything is written; then what happened
// happens again in its order, and where the records of the file are others than follow from that (somebody worked on
// the file, or it holds no history), they are laid over it. So history, receipts and records come back as they were.
import { createHash } from 'node:crypto'
import { migrate } from '#lib/doc'
import { type Change, remove, WORDS_VERSION } from '#lib/words'
import { readsOf } from '../reads.ts'
import type { Entry, Store, StoredText } from '../store/contract.ts'
import { saidBy } from './everything.ts'
import { type ExportLine, parseLine } from './lines.ts'

/** A file that is no whole lab; the message is for eyes and names the line. */
export class WrongFile extends Error {}

/** Letters of one line: an entry of a founding holds 2 000 records of at most a few hundred thousand letters in all. */
const LINE_MAX = 64 * 1024 * 1024
const ENTRIES_A_TIME = 100
const CHANGES_A_TIME = 2000

export interface BroughtIn {
  readonly labId: string
  readonly name: string
  readonly records: number
  readonly entries: number
  readonly texts: number
  /** Hashes of the photographs that its records name. */
  readonly photos: ReadonlySet<string>
}

type Open = () => AsyncIterable<Uint8Array>
type Read = { readonly n: number; readonly line: ExportLine; readonly changes: readonly Change[] }
type LineOf<K extends ExportLine['line']> = Extract<ExportLine, { line: K }>

/** Brings a lab into a store that holds none; `open` gives the file's bytes from the beginning, more than once. */
export async function bringIn(store: Store, open: Open): Promise<BroughtIn> {
  if ((await store.labs()).length > 0) throw new WrongFile('There is a lab already. Bring it into an empty folder.')
  const { head, wanted, ...counts } = await check(open)
  const { records } = await happenAgain(store, head.lab, open)
  await layOver(store, head, open, wanted, records)
  return { labId: head.lab, name: head.name, records: wanted.size, ...counts }
}

/**
 * Brings in the lab of a whole file as it was at a moment (ISO instant): what happened until then happens again, and
 * nothing after it. Texts typed together carry no times and stay out; what was erased since stays erased.
 */
export async function bringInAsOf(store: Store, open: Open, moment: string): Promise<BroughtIn> {
  if ((await store.labs()).length > 0) throw new WrongFile('There is a lab already. Bring it into an empty folder.')
  const { head } = await check(open)
  const { records, photos, entries } = await happenAgain(store, head.lab, open, moment)
  if (!records.has('lab lab'))
    throw new WrongFile(
      `The file tells of nothing that happened until ${moment}: the lab is younger, or its history is not in it.`,
    )
  return { labId: head.lab, name: head.name, records: records.size, entries, texts: 0, photos }
}

const keyOf = ({ kind, id }: Pick<Change, 'kind' | 'id'>) => `${kind} ${id}`
const digestOf = (record: unknown): string => createHash('sha256').update(JSON.stringify(record)).digest('base64')
/** Digests of records by kind and id. */
type Digests = Map<string, string>

function lay(digests: Digests, changes: readonly Change[]): void {
  for (const change of changes)
    if (change.record === null) digests.delete(keyOf(change))
    else digests.set(keyOf(change), digestOf(change.record))
}

/** Goes over the whole file: each line by itself, and whether they make one lab. */
async function check(open: Open) {
  let head: LineOf<'lab'> | null = null
  let isEnded = false
  let hasLab = false
  let [entries, texts, last] = [0, 0, 0]
  const photos = new Set<string>()
  const seqs = { changes: 0, reads: 0 }
  const seen = new Set<string>()
  const once = (n: number, what: string) => {
    if (seen.has(what)) throw wrong(n, `${what} stands in the file twice`)
    seen.add(what)
  }
  const wanted: Digests = new Map()
  for await (const { n, line, changes } of linesOf(open())) {
    if (isEnded) throw wrong(n, 'the file goes on behind its end')
    last = n
    for (const { kind, record } of changes) if (kind === 'photo' && record) photos.add(record.hash)
    if (line.line !== 'lab' && head === null) throw wrong(n, 'a file of a whole lab begins with the lab’s own line')
    switch (line.line) {
      case 'lab':
        if (head !== null) throw wrong(n, 'a second lab')
        head = line
        break
      case 'schema':
        break
      case 'record':
        for (const change of changes) once(n, keyOf(change))
        hasLab ||= line.kind === 'lab'
        lay(wanted, changes)
        break
      case 'entry':
        once(n, `${line.log} ${line.opId}`)
        if (line.seq !== ++seqs[line.log])
          throw wrong(n, `entry ${seqs[line.log]} of the ${line.log} is missing before it`)
        if (line.log === 'reads' && changes.length > 0) throw wrong(n, 'a read that changes something')
        // What came after the records began to be read.
        if (line.log === 'changes' && line.seq > (head?.seq ?? 0)) lay(wanted, changes)
        entries++
        break
      case 'text':
        once(n, line.name)
        if (saysOf(n, line) !== line.says) throw wrong(n, `${line.name} does not say what its updates make`)
        texts++
        break
      case 'end':
        if (line.lines !== n - 1) throw wrong(n, `${line.lines} lines were written and ${n - 1} are here`)
        isEnded = true
        break
    }
  }
  if (head === null) throw wrong(1, 'the file is empty')
  if (!isEnded) throw wrong(last, 'the file is cut short: no line says that it is whole')
  if (!hasLab) throw wrong(last, 'there is no record of the lab itself')
  return { head, wanted, entries, texts, photos }
}

/** Lays what happened, until a moment where one is given, into the store in its order; answers what follows from it. */
async function happenAgain(store: Store, lab: string, open: Open, until: string | null = null) {
  const happened: Digests = new Map()
  const photos = new Set<string>()
  let entries = 0
  const log = (name: string) => ({ name, waiting: [] as Entry[], isOver: false })
  const logs = { changes: log(lab), reads: log(readsOf(lab)) }
  const flush = async (log: keyof typeof logs) => {
    const { name, waiting } = logs[log]
    if (waiting.length > 0) await keep(store, name, waiting)
    logs[log].waiting = []
  }
  for await (const { line, changes } of linesOf(open())) {
    if (line.line === 'entry') {
      const { opId, kind, op, personId, at, subjects, log } = line
      // Whatever a clock that was set back says of later ones: what rests on one that is left out is left out too.
      logs[log].isOver ||= until !== null && Date.parse(at) > Date.parse(until)
      if (logs[log].isOver) continue
      entries++
      lay(happened, changes)
      for (const { kind: what, record } of changes) if (what === 'photo' && record) photos.add(record.hash)
      logs[log].waiting.push({ opId, kind, op, personId, at, subjects, changes })
      if (logs[log].waiting.length >= ENTRIES_A_TIME) await flush(log)
    } else if (line.line === 'text' && until === null) {
      const { base, updates } = bytesOf(line)
      // Before the updates, so that it takes the place of none of them.
      if (base) await store.compactText(lab, line.name, 0, base)
      if (updates.length > 0) await store.appendText(lab, line.name, updates)
    }
  }
  await flush('changes')
  await flush('reads')
  return { records: happened, photos, entries }
}

/** Makes the records what the file says they are, where they do not follow from what happened. */
async function layOver(
  store: Store,
  head: LineOf<'lab'>,
  open: Open,
  wanted: Digests,
  happened: Digests,
): Promise<void> {
  const gone = [...happened.keys()].filter((key) => !wanted.has(key))
  const others = [...wanted].filter(([key, digest]) => happened.get(key) !== digest).map(([key]) => key)
  if (gone.length + others.length === 0) return
  let n = 0
  let waiting: Change[] = gone.map((key) => {
    const [kind = '', id = ''] = key.split(' ')
    return remove(kind as Change['kind'], id)
  })
  const flush = async () => {
    n++
    // Named after the lab it comes from, so that no op of its own has this name.
    const opId = `brought-in-${head.lab}-${head.seq}-${n}`
    const made = { opId, kind: 'found', op: { kind: 'found' }, personId: null, at: head.at, subjects: [] }
    await keep(store, head.lab, [{ ...made, changes: waiting }])
    waiting = []
  }
  const left = new Set(others)
  for await (const { line, changes } of linesOf(open())) {
    if (line.line !== 'record') continue
    for (const change of changes) if (left.has(keyOf(change))) waiting.push(change)
    if (waiting.length >= CHANGES_A_TIME) await flush()
  }
  if (waiting.length > 0) await flush()
}

async function keep(store: Store, name: string, entries: readonly Entry[]): Promise<void> {
  const appended = await store.append(name, await store.head(name), entries)
  if (!appended.ok) throw new Error('Believed: nobody else writes to a lab that is being brought in')
}

/** The file's lines, each checked by itself; lines are counted from 1. */
async function* linesOf(source: AsyncIterable<Uint8Array>): AsyncGenerator<Read> {
  const decoder = new TextDecoder('utf-8', { fatal: true })
  let [n, rest, words] = [1, '', WORDS_VERSION]
  const read = (text: string): Read => {
    const parsed = parseLine(text, (kind, record) => migrate(kind, record, words))
    if (!parsed.ok) throw wrong(n, parsed.problem)
    const { line, changes } = parsed
    if (line.line === 'lab') {
      if (line.words > WORDS_VERSION) throw wrong(n, 'the file was written by a newer Talus; bring it in with that one')
      words = line.words
    }
    return { n, line, changes }
  }
  for await (const bytes of source) {
    const lines = (rest + decoded(decoder, n, bytes)).split('\n')
    rest = lines.pop() ?? ''
    for (const text of lines) {
      yield read(text)
      n++
    }
    if (rest.length > LINE_MAX) throw wrong(n, 'the line is longer than any that Talus writes')
  }
  rest += decoded(decoder, n, null)
  if (rest !== '') yield read(rest)
}

function decoded(decoder: TextDecoder, n: number, bytes: Uint8Array | null): string {
  try {
    return bytes === null ? decoder.decode() : decoder.decode(bytes, { stream: true })
  } catch {
    throw wrong(n, 'from here on there are letters that are not UTF-8')
  }
}

const wrong = (n: number, problem: string) => new WrongFile(`Line ${n}: ${problem}.`)

function bytesOf({ base, updates }: LineOf<'text'>): Pick<StoredText, 'base' | 'updates'> {
  const from64 = (text: string) => new Uint8Array(Buffer.from(text, 'base64'))
  return {
    base: base && { ...base, bytes: from64(base.bytes) },
    updates: updates.map((one) => ({ ...one, bytes: from64(one.bytes) })),
  }
}

/** What a text's updates make; whatever Yjs cannot lay is no text. */
function saysOf(n: number, line: LineOf<'text'>): string {
  const { base, updates } = bytesOf(line)
  try {
    return saidBy(base?.bytes ?? null, updates)
  } catch {
    throw wrong(n, `${line.name} holds updates that make no text`)
  }
}
