// Who saw what is private, as a log of its own beside the lab's: noted when a document or an answer is given out that
// holds more than the lab's common records. Kept by the same store under a name of its own, and a chain like the other.
// Nobody is kept from an emergency contact because a disk is full: what cannot be noted now is noted when it can be.
import type { Entry, Store } from './store/contract.ts'
import type { Chance, Clock, Log } from './world.ts'
import { unguessable } from './world.ts'

const SUFFIX = '~reads'
const RETRY_MS = 1_000
/** Notes that wait for a store in trouble; beyond them the server's log says that one was not noted. */
const WAITING_MAX = 5_000
/** The same person on the same thing is one note in so long a time. */
const SAME_MS = 10 * 60_000

/** Name under which a lab's reads are kept. */
export const readsOf = (lab: string): string => lab + SUFFIX

/** Names under which a lab's two logs are kept: what was changed, and who saw what. */
export const logsOf = (lab: string) =>
  [
    ['changes', lab],
    ['reads', readsOf(lab)],
  ] as const

/** Names of the store's labs, without their logs of reads. */
export async function labsIn(store: Store): Promise<readonly string[]> {
  return (await store.labs()).filter((name) => !name.endsWith(SUFFIX))
}

/** office: contacts, private notes of the manager's face, holds. safety: health figures. history: private records of it. log: the audit log. everything, incidents: the whole lab, or all incidents, as a file. */
type Seen = 'office' | 'safety' | 'history' | 'log' | 'everything' | 'incidents'

export interface Reads {
  /** Notes that somebody is being shown something; `about` names whom or what, null for all. */
  readonly note: (personId: string, what: Seen, about: string | null) => void
  /** Waits until nothing is left to be noted, or the store cannot. */
  readonly close: () => Promise<void>
}

/** The log of reads of one lab. */
export function readsLog(store: Store, lab: string, world: { clock: Clock; chance: Chance; log: Log }): Reads {
  const { clock, chance, log } = world
  const name = readsOf(lab)
  const noted = new Map<string, number>()
  let waiting: Entry[] = []
  let writing: Promise<void> | null = null
  let cancelRetry: () => void = () => {}

  async function write(): Promise<void> {
    while (waiting.length > 0) {
      const batch = waiting
      // An append whose answer got lost may have been kept.
      const kept = new Set(
        (
          await store.findOps(
            name,
            batch.map(({ opId }) => opId),
          )
        ).map(({ opId }) => opId),
      )
      const news = batch.filter(({ opId }) => !kept.has(opId))
      const appended = news.length === 0 || (await store.append(name, await store.head(name), news)).ok
      // Not kept: another server was faster, so once more behind what it wrote.
      if (appended) waiting = waiting.slice(batch.length)
    }
  }

  function pump(): void {
    writing ??= write()
      .catch((error) => {
        log('warn', 'reads of private data could not be noted yet', { error: String(error), waiting: waiting.length })
        cancelRetry = clock.after(RETRY_MS, pump)
      })
      .finally(() => {
        writing = null
      })
  }

  return {
    note(personId, what, about) {
      const now = clock.now()
      const key = `${personId} ${what} ${about ?? ''}`
      const before = noted.get(key)
      if (before !== undefined && Math.abs(now - before) < SAME_MS) return
      for (const [old, at] of noted) if (Math.abs(now - at) >= SAME_MS) noted.delete(old)
      noted.set(key, now)
      if (waiting.length >= WAITING_MAX) {
        log('error', 'a read of private data was not noted: too many wait', { waiting: waiting.length })
        return
      }
      const subjects = about === null ? [] : [about]
      const at = new Date(now).toISOString()
      waiting.push({ opId: unguessable(chance), kind: 'saw', op: { what, about }, personId, at, changes: [], subjects })
      pump()
    },
    async close() {
      cancelRetry()
      await writing
    },
  }
}
