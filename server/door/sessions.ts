// Who is signed in where. A session belongs to one device; its secret is in an HttpOnly cookie, its hash is kept. The
// role is not part of it: it is read from the lab's records at each use, so that a change of role counts at once.
import { z } from 'zod'
import { DeviceKind, PersonId } from '#lib/words'
import type { Door as Tables } from '../store/contract.ts'
import type { Chance, Clock } from '../world.ts'
import { isToken, keyOf, newToken } from './tokens.ts'

const DAY_MS = 86_400_000
/** A device that was not used for so long signs in again. */
export const SESSION_MS = 90 * DAY_MS
/** A screen in the room hangs there for years. */
const WALL_SESSION_MS = 400 * DAY_MS
/** Whoever switched to themselves by PIN on a shared tablet is out again after the longest working day. */
const BENCH_PERSON_MS = 12 * 3_600_000
const SEEN_EVERY_MS = 3_600_000
const SPACE = 'session'

export const Session = z.strictObject({
  /** Hash of the secret. */
  key: z.string(),
  /** Stays when another person switches in: guesses of PINs are counted by it. */
  device: z.string(),
  personId: z.nullable(PersonId),
  /** Null when its browser did not say, and in what was kept before kinds were. */
  kind: z.nullable(DeviceKind).default(null),
  isWall: z.boolean(),
  /** A shared bench tablet. */
  isBench: z.boolean(),
  /** On a shared tablet, when the person is out again by themselves; null elsewhere. */
  personUntil: z.number().nullable(),
  madeAt: z.number(),
  seenAt: z.number(),
  endsAt: z.number(),
})
export type Session = Readonly<z.infer<typeof Session>>

export type Sessions = {
  /** The live session of a secret, null when there is none. */
  readonly find: (token: string) => Session | null
  readonly all: () => readonly Session[]
  /** Signs in; the token goes into the cookie and is not kept. */
  readonly open: (about: About) => Promise<{ token: string; session: Session }>
  /** Marks a session as used, at most once an hour on disk. */
  readonly seen: (session: Session) => void
  readonly end: (session: Session) => Promise<void>
  /** Puts the person out; a shared tablet stays one, ready for the next. */
  readonly leave: (session: Session) => Promise<void>
  readonly endAll: (which: (session: Session) => boolean) => Promise<void>
  /** Ends what has run out; to be called now and then, so that open connections hear of it. */
  readonly sweep: () => Promise<void>
}

/** Whom a new session is for. */
export type About = Pick<Session, 'device' | 'kind' | 'personId' | 'isWall' | 'isBench'>

/** Loads the sessions; `onEnd` hears of each that ends, or whose person does. */
export async function openSessions(
  tables: Tables,
  { clock, chance }: { clock: Clock; chance: Chance },
  onEnd: (session: Session) => void,
): Promise<Sessions> {
  const held = new Map<string, Session>()
  for (const { value } of await tables.list(SPACE, clock.now())) {
    const session = Session.parse(value)
    held.set(session.key, session)
  }

  const write = (session: Session) => tables.put(SPACE, { key: session.key, value: session, expiresAt: session.endsAt })

  async function keep(session: Session): Promise<Session> {
    await write(session)
    held.set(session.key, session)
    return session
  }

  async function end(session: Session): Promise<void> {
    // Out of memory first: from here on the secret opens nothing, whatever the disk does.
    if (!held.delete(session.key)) return
    onEnd(session)
    await tables.remove(SPACE, session.key)
  }

  async function leave(session: Session): Promise<void> {
    if (!session.isBench) return end(session)
    onEnd(session)
    await keep({ ...session, personId: null, personUntil: null })
  }

  return {
    find(token) {
      const session = isToken(token) ? held.get(keyOf(token)) : undefined
      if (!session || session.endsAt <= clock.now()) return null
      return isPersonOut(session, clock.now()) ? { ...session, personId: null } : session
    },
    all: () => [...held.values()],
    async open(about) {
      const token = newToken(chance)
      const now = clock.now()
      const personUntil = about.isBench && about.personId ? now + BENCH_PERSON_MS : null
      const endsAt = now + lifeOf(about)
      return {
        token,
        session: await keep({ ...about, key: keyOf(token), personUntil, madeAt: now, seenAt: now, endsAt }),
      }
    },
    seen(session) {
      const now = clock.now()
      // As kept, not as `find` showed it: a person whose time is over must stay for the sweep to end their connections.
      const kept = held.get(session.key)
      if (!kept || now - kept.seenAt < SEEN_EVERY_MS) return
      const fresh = { ...kept, seenAt: now, endsAt: now + lifeOf(kept) }
      held.set(session.key, fresh)
      // Lost with the process, this only makes the session end a little earlier.
      write(fresh).catch(() => undefined)
    },
    end,
    leave,
    async endAll(which) {
      for (const session of [...held.values()].filter(which)) await end(session)
    },
    async sweep() {
      const now = clock.now()
      for (const session of [...held.values()]) {
        if (session.endsAt <= now) await end(session)
        else if (session.personId && isPersonOut(session, now)) await leave(session)
      }
    },
  }
}

const isPersonOut = ({ personUntil }: Session, now: number) => personUntil !== null && personUntil <= now

const lifeOf = ({ isWall }: { isWall: boolean }) => (isWall ? WALL_SESSION_MS : SESSION_MS)
