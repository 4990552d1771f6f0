// The door: who is here, how they came in, and whom they let in. It keeps sessions, links and PINs in its own tables
// and asks the lab's records for everything else (names, roles, who is active), so that there is one truth about a
// person. Every way in ends in a session; every answer that is no is a code of DoorRefusal.
import { isDeepStrictEqual } from 'node:util'
import type { OpBody, Who } from '#lib/ops'
import type {
  DeviceKind,
  Devices,
  DoorRefusal,
  Finding,
  Invitation,
  Me,
  People,
  PersonId,
  RecordOf,
  Records,
  Role,
} from '#lib/words'
import type { Door as Tables } from '../store/contract.ts'
import type { Chance, Clock, Log } from '../world.ts'
import { type Calendars, openCalendars } from './calendars.ts'
import { openInvites } from './invites.ts'
import { openPins, type PinBrakes } from './pins.ts'
import { type About, openSessions, type Session } from './sessions.ts'
import { newToken } from './tokens.ts'

/** What the door asks of the lab behind it. */
export interface LabBehind {
  readonly records: () => Records
  /** Submits an act to the gate; empty when it was kept. */
  readonly act: (body: OpBody, who: Who) => Promise<readonly Finding[]>
}

/** Who somebody is at this moment. The Wall has no person. */
export type Identity =
  | { readonly personId: PersonId; readonly name: string; readonly role: Exclude<Role, 'wall'> }
  | { readonly personId: null; readonly name: ''; readonly role: 'wall' }

/** True for who may do what the lab's staff may. */
export const isStaff = (role: Role): boolean => role === 'manager' || role === 'preparator'

/** A new session's secret for the cookie, or why not. */
type Entered = { readonly token: string } | DoorRefusal

export interface Door {
  readonly sessionOf: (token: string | null) => Session | null
  /** Who a session stands for now; null for nobody (signed out, left the lab, an empty bench tablet). */
  readonly identify: (session: Session | null) => Identity | null
  readonly me: (session: Session | null) => Omit<Me, 'build'>
  /** What a link opens, without using it. */
  readonly look: (token: string) => Invitation | DoorRefusal
  readonly join: (
    token: string,
    name: string | undefined,
    from: Session | null,
    kind?: DeviceKind | null,
  ) => Promise<Entered>
  /** The demo lab alone: be anybody. */
  readonly pretend: (personId: PersonId | 'wall', from: Session | null, kind?: DeviceKind | null) => Promise<Entered>
  /** Another person, by PIN, on a device of the crew's; from then on it counts as a shared tablet. */
  readonly switchTo: (personId: PersonId, pin: string, from: Session) => Promise<Entered>
  /** Makes a device a shared tablet or an own one. */
  readonly setBench: (isBench: boolean, from: Session) => Promise<Entered>
  readonly people: () => People
  readonly setPin: (personId: PersonId, pin: string | null) => Promise<void>
  /** Secrets for links; null for the screens in the room. */
  readonly invite: (personId: PersonId | null, by: PersonId | null) => Promise<string>
  /** Addresses for somebody's own calendar; `whose` is null for one that is none, and for who has left. */
  readonly calendars: Omit<Calendars, 'personOf'> & { readonly whose: (token: string) => RecordOf<'person'> | null }
  readonly signOut: (session: Session) => Promise<Entered | null>
  /** Where the session's person is signed in. */
  readonly devices: (session: Session) => Devices
  /** Signs a person out where `which` says; a name that is none of theirs ends nothing. */
  readonly endDevices: (personId: PersonId, which: (id: string) => boolean) => Promise<void>
  readonly signOutWalls: () => Promise<void>
  readonly sweep: () => Promise<void>
}

/** Names a session to its person; the secret cannot be found from it. */
export const deviceIdOf = ({ key }: Session): string => key.slice(0, 16)

/** Opens the door of a lab. `onEnd` hears of sessions whose open connections must go. Who comes in and goes is logged by id alone. */
export async function openDoor(
  tables: Tables,
  lab: LabBehind,
  world: { clock: Clock; chance: Chance; log: Log; brakes?: PinBrakes },
  onEnd: (session: Session) => void,
): Promise<Door> {
  const sessions = await openSessions(tables, world, onEnd)
  const invites = await openInvites(tables, world)
  const calendars = await openCalendars(tables, world)
  const pins = await openPins(tables, world.clock, world.brakes)
  const system: Who = { personId: 'system' as PersonId, role: 'system' }

  /** Live ones; nobody's is none. */
  const sessionsOf = (personId: PersonId | null): Session[] =>
    personId === null
      ? []
      : sessions.all().filter((one) => one.personId === personId && (one.personUntil ?? Infinity) > world.clock.now())

  const personOf = (id: string): RecordOf<'person'> | null => {
    const person = lab.records().person.get(id)
    return person?.isActive ? person : null
  }

  function identify(session: Session | null): Identity | null {
    if (!session) return null
    if (session.isWall) return { personId: null, name: '', role: 'wall' }
    const person = session.personId ? personOf(session.personId) : null
    return person && { personId: person.id, name: person.name, role: person.role }
  }

  /** A new secret for each new standing, and the old one ends: a secret learned earlier never grows in power. */
  async function enter(
    about: Omit<About, 'device' | 'kind'>,
    from: Session | null,
    way: 'link' | 'demo' | 'pin' | 'here',
    kind = from?.kind ?? null,
  ): Promise<Entered> {
    const { token, session } = await sessions.open({
      ...about,
      kind,
      device: from?.device ?? newToken(world.chance),
    })
    if (from) await sessions.end(from)
    if (way !== 'here') note('somebody was let in', session, way)
    return { token }
  }

  /** Enough to tell who and which device again among lines of the log, and no secret. */
  const note = (what: string, { personId, isWall, device }: Session, way: string) =>
    world.log('info', what, { way, who: personId ?? (isWall ? 'wall' : 'nobody'), device: device.slice(0, 8) })

  function look(token: string): Invitation | DoorRefusal {
    const invite = invites.find(token)
    if (invite === null) return { refused: 'bad-link' }
    if (invite === 'used') return { refused: 'used-link' }
    const name = labOf().name
    if (invite.personId === null) return { lab: name, role: 'wall', name: null, asksName: false }
    const person = personOf(invite.personId)
    if (!person) return { refused: 'bad-link' }
    return { lab: name, role: person.role, name: isFirst() ? null : person.name, asksName: asksName(person) }
  }

  /** Before anybody has joined, the first manager's name stands only for one. */
  const isFirst = () =>
    !labOf().isDemo && ![...lab.records().person.values()].some((person) => person.isActive && person.hasJoined)

  const labOf = (): RecordOf<'lab'> => {
    const record = lab.records().lab.get('lab')
    if (!record) throw new Error('Believed: an open lab has its settings')
    return record
  }

  async function join(
    token: string,
    name: string | undefined,
    from: Session | null,
    kind?: DeviceKind | null,
  ): Promise<Entered> {
    const invite = invites.find(token)
    if (invite === null) return { refused: 'bad-link' }
    if (invite === 'used') return { refused: 'used-link' }
    const { personId } = invite
    if (personId === null) return enter({ personId: null, isWall: true, isBench: false }, from, 'link', kind)
    const person = personOf(personId)
    if (!person) return { refused: 'bad-link' }
    if (!(await invites.use(invite))) return { refused: 'used-link' }
    const isNew = asksName(person) && name !== undefined
    if (isNew && isNameTaken(lab.records(), name, personId)) {
      await invites.giveBack(invite)
      return { refused: 'name-taken' }
    }
    const patch = { ...(isNew ? { name: name.trim() } : {}), ...(person.hasJoined ? {} : { hasJoined: true }) }
    if (!isDeepStrictEqual(patch, {})) {
      const findings = await lab.act({ kind: 'editPerson', personId, patch }, system)
      if (findings.length > 0) {
        await invites.giveBack(invite)
        return { refused: 'refused' }
      }
    }
    return enter({ personId, isWall: false, isBench: from?.isBench ?? false }, from, 'link', kind)
  }

  return {
    sessionOf(token) {
      const session = token ? sessions.find(token) : null
      if (session) sessions.seen(session)
      return session
    },
    identify,
    me(session) {
      const who = identify(session)
      const person = who?.personId ? personOf(who.personId) : null
      const { name, isDemo } = labOf()
      return {
        person: person && { id: person.id, name: person.name, familyName: person.familyName },
        role: who?.role ?? null,
        lab: name,
        isDemo,
        hasPin: person !== null && pins.has(person.id),
        isBench: session?.isBench ?? false,
      }
    },
    look,
    join,
    async pretend(personId, from, kind) {
      if (!labOf().isDemo) return { refused: 'not-found' }
      if (personId === 'wall') return enter({ personId: null, isWall: true, isBench: false }, from, 'demo', kind)
      if (!personOf(personId)) return { refused: 'not-found' }
      return enter({ personId, isWall: false, isBench: from?.isBench ?? false }, from, 'demo', kind)
    },
    async switchTo(personId, pin, from) {
      const role = identify(from)?.role
      // Guesses need a device that somebody of the crew was let in on.
      if (!from.isBench && (!role || role === 'wall' || role === 'researcher')) return { refused: 'not-allowed' }
      if (!personOf(personId)) return { refused: 'not-found' }
      const answer = await pins.attempt(personId, pin, from.device)
      if (!answer.ok)
        return answer.why === 'wait'
          ? { refused: 'wait', waitS: Math.ceil(answer.waitMs / 1000) }
          : { refused: answer.why }
      return enter({ personId, isWall: false, isBench: true }, from, 'pin')
    },
    setBench: (isBench, from) => enter({ personId: from.personId, isWall: false, isBench }, from, 'here'),
    people: () => ({
      people: [...lab.records().person.values()]
        .filter((person) => person.isActive)
        .map(({ id, name, role }) => ({ id, name, role, hasPin: pins.has(id) }))
        .sort((a, b) => a.name.localeCompare(b.name)),
    }),
    setPin: pins.set,
    invite: invites.make,
    calendars: {
      ...calendars,
      whose: (token) => {
        const personId = calendars.personOf(token)
        return personId && personOf(personId)
      },
    },
    async signOut(session) {
      note('somebody signed out', session, 'here')
      if (session.isBench) return enter({ personId: null, isWall: false, isBench: true }, session, 'here')
      await sessions.end(session)
      return null
    },
    devices: (session) => ({
      devices: sessionsOf(session.personId)
        .sort((a, b) => b.seenAt - a.seenAt)
        .map((one) => ({
          id: deviceIdOf(one),
          kind: one.kind,
          isHere: one.key === session.key,
          isBench: one.isBench,
          since: new Date(one.madeAt).toISOString(),
          seenAt: new Date(one.seenAt).toISOString(),
        })),
    }),
    async endDevices(personId, which) {
      for (const one of sessionsOf(personId)) {
        if (!which(deviceIdOf(one))) continue
        note('somebody was signed out', one, 'from another device')
        await sessions.leave(one)
      }
    },
    signOutWalls: () => sessions.endAll((session) => session.isWall),
    sweep: sessions.sweep,
  }
}

/** At the first use of their first link people say how they are called; what the manager noted is a suggestion. */
const asksName = (person: RecordOf<'person'>): boolean => !person.hasJoined

function isNameTaken(records: Records, name: string, but: string): boolean {
  const wanted = name.trim().toLowerCase()
  return [...records.person.values()].some((person) => person.id !== but && person.name.toLowerCase() === wanted)
}
