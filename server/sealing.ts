// A store over the store that ties each entry of a lab's log to the one before it, so that whoever changes what happened
// leaves a trace: a link is the digest of the link before, of what stands beside an entry, and of the digest of its words.
//
//   digest = H(salt, op, changes)      link = H(link before, seq, op id, kind, author, time, subjects, digest, rewrote)
//
// Words are salted, so that a telephone number that was taken out cannot be guessed from its digest: the salt goes with
// the words. What is laid in their place is digested anew, and the entry that asked for it holds those digests in its own
// link. Whoever may write to the data can still write the whole chain anew: only a link that somebody noted elsewhere
// (an exported copy) shows that. H is SHA-256.
import { createHash } from 'node:crypto'
import type { Appended, Entry, KeptEntry, Seal, Store } from './store/contract.ts'
import type { Chance } from './world.ts'

const SALT_BYTES = 16
/** Entries of a founding are large. */
const PAGE = 100
/** What the first link rests on. */
const NOTHING = ''
const BROKEN_MAX = 20

const hash = (value: unknown): string => createHash('sha256').update(JSON.stringify(value)).digest('base64url')

type Words = Pick<Entry, 'op' | 'changes'>

const digestOf = (salt: string, { op, changes }: Words): string =>
  hash([salt, op, changes.map(({ kind, id, record }) => [kind, id, record])])

/** What a link is made of; enough to follow a chain without any entry's words. */
type Link = Pick<KeptEntry, 'seq' | 'opId' | 'kind' | 'personId' | 'at' | 'subjects'> & Pick<Seal, 'digest' | 'rewrote'>

/** The link of an entry behind another's. */
const linkOf = (before: string, one: Link): string =>
  hash([before, one.seq, one.opId, one.kind, one.personId, one.at, one.subjects, one.digest, one.rewrote ?? []])

/** A store whose log is a chain. */
export function sealed(store: Store, chance: Chance): Store {
  const heads = new Map<string, { readonly seq: number; readonly link: string }>()
  const salt = () => Buffer.from(chance.bytes(SALT_BYTES)).toString('base64url')

  async function linkAt(lab: string, seq: number): Promise<string> {
    if (seq === 0) return NOTHING
    const head = heads.get(lab)
    if (head?.seq === seq) return head.link
    const [last] = await store.read(lab, seq - 1, 1)
    // A log from before there were links: the chain begins behind it.
    return last?.seal?.link ?? NOTHING
  }

  function digestedAnew(entry: KeptEntry): KeptEntry {
    if (!entry.seal) return entry
    const fresh = salt()
    return { ...entry, seal: { ...entry.seal, salt: null, now: { salt: fresh, digest: digestOf(fresh, entry) } } }
  }

  return {
    ...store,
    async append(lab, expectedSeq, entries, rewritten = []): Promise<Appended> {
      const anew = rewritten.map(digestedAnew)
      const rewrote = anew.flatMap(({ seq, seal }) => (seal?.now ? [[seq, seal.now.digest] as const] : []))
      let link = await linkAt(lab, expectedSeq)
      const tied = entries.map((entry, n): Entry => {
        const own = salt()
        const digest = digestOf(own, entry)
        const told = n === entries.length - 1 && rewrote.length > 0 ? { rewrote } : {}
        link = linkOf(link, { ...entry, seq: expectedSeq + n + 1, digest, ...told })
        return { ...entry, seal: { salt: own, digest, link, ...told } }
      })
      const appended = await store.append(lab, expectedSeq, tied, anew)
      if (appended.ok) heads.set(lab, { seq: appended.seq, link })
      return appended
    },
  }
}

/** What going over a log found. */
export interface Verified {
  readonly entries: number
  /** Position of the first entry that is tied; 0 when none is. */
  readonly from: number
  /** The last link: worth noting somewhere else. */
  readonly link: string
  /** Entries out of which private words were taken. */
  readonly rewritten: number
  /** Positions at which the log is not what was written, the first few. */
  readonly broken: readonly { readonly seq: number; readonly what: 'link' | 'words' | 'gap' | 'unsealed' }[]
}

/** Goes over a whole log, page by page; `each` is told of every entry, `rest` lets others have their turn between pages. */
export async function verifyLog(
  store: Store,
  lab: string,
  each: (entry: KeptEntry) => void | Promise<void> = () => {},
  rest: () => Promise<void> = async () => {},
): Promise<Verified> {
  const anew = new Map<number, string>()
  const told = new Map<number, string>()
  const broken: { seq: number; what: Verified['broken'][number]['what'] }[] = []
  let [entries, from, seq, link] = [0, 0, 0, NOTHING]
  for (;;) {
    const page = await store.read(lab, seq, PAGE)
    for (const entry of page) {
      await each(entry)
      entries++
      if (entry.seq !== seq + 1) broken.push({ seq: entry.seq, what: 'gap' })
      seq = entry.seq
      const { seal } = entry
      if (!seal) {
        // Only what was there before the first link may have none.
        if (from > 0) broken.push({ seq, what: 'unsealed' })
        continue
      }
      if (from === 0) from = seq
      if (linkOf(link, { ...entry, ...seal }) !== seal.link) broken.push({ seq, what: 'link' })
      link = seal.link
      for (const [at, digest] of seal.rewrote ?? []) told.set(at, digest)
      if (seal.now) anew.set(seq, seal.now.digest)
      const { salt, digest } = seal.now ?? seal
      if (salt === null || digestOf(salt, entry) !== digest) broken.push({ seq, what: 'words' })
    }
    if (page.length < PAGE) break
    await rest()
  }
  for (const at of new Set([...anew.keys(), ...told.keys()]))
    if (anew.get(at) !== told.get(at)) broken.push({ seq: at, what: 'words' })
  return { entries, from, link, rewritten: anew.size, broken: broken.slice(0, BROKEN_MAX) }
}
