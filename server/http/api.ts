// What browsers call beside the board's socket: who is here, joining and leaving, PINs, links, the archive's search and
// a piece's history. Answers are plain values; server.ts turns them into HTTP. Whoever may do something here is decided
// from the connection's session alone; whoever is signed in is slowed down by their device and not by the address that
// they share with others.
import type * as z from 'zod/mini'
import {
  BenchBody,
  CalendarAddressBody,
  CalendarBody,
  DemoBody,
  type DeviceKind,
  DevicesBody,
  type DoorRefusal,
  InvitationBody,
  InviteBody,
  JoinBody,
  type Me,
  PinBody,
  SignOutBody,
  SwitchBody,
  WallLinkBody,
} from '#lib/words'
import type { FetchedCalendar } from '../calendar-in/fetch-calendar.ts'
import { buckets, type Door, deviceIdOf, type Identity, isStaff, type Session } from '../door/index.ts'
import type { Clock } from '../world.ts'
import { callerKey } from './rates.ts'

/** One call, stripped to what it says. */
export interface Call {
  readonly method: string
  readonly path: string
  readonly query: URLSearchParams
  readonly body: unknown
  readonly session: Session | null
  /** What sort of device asks, as far as it says. */
  readonly kind: DeviceKind | null
  /** For slowing down whoever tries too often. */
  readonly address: string
  /** Our own origin as the client sees it, for links. */
  readonly origin: string
}

/** `token`: a new secret for the cookie, null to forget it. */
export interface Answer {
  readonly status: number
  readonly body: unknown
  readonly token?: string | null
}

/** Reading what is not on the board; each checks what this identity may see. */
export interface Readings {
  readonly archive: (who: Identity, query: URLSearchParams) => Promise<unknown>
  readonly history: (who: Identity, query: URLSearchParams) => Promise<unknown>
  readonly log: (who: Identity, query: URLSearchParams) => Promise<unknown>
}

export interface ApiParts {
  readonly door: Door
  readonly readings: Readings
  readonly clock: Clock
  readonly build: string
  readonly fetchCalendar: (address: string) => Promise<FetchedCalendar>
}

/** Every call that there is. */
export const calls = [
  'GET /api/me',
  'POST /api/invitation',
  'POST /api/join',
  'GET /api/demo',
  'POST /api/demo',
  'POST /api/sign-out',
  'GET /api/devices',
  'POST /api/devices',
  'POST /api/pin',
  'GET /api/bench-tablet',
  'POST /api/bench-tablet',
  'POST /api/switch',
  'POST /api/invite',
  'POST /api/wall-link',
  'POST /api/calendar',
  'GET /api/calendar-address',
  'POST /api/calendar-address',
  'GET /api/archive',
  'GET /api/log',
  'GET /api/history',
] as const

type Handler = (call: Call) => Promise<Answer> | Answer

const statuses: Record<DoorRefusal['refused'], number> = {
  'signed-out': 401,
  'not-allowed': 403,
  'not-found': 404,
  'bad-request': 400,
  'not-json': 415,
  'bad-link': 404,
  'used-link': 410,
  'name-taken': 409,
  'wrong-pin': 403,
  'no-pin': 403,
  wait: 429,
  'too-much': 413,
  'not-now': 503,
  refused: 409,
}

/** An answer that says no, and why. */
export const refuse = (refusal: DoorRefusal): Answer => ({ status: statuses[refusal.refused], body: refusal })
const no = (refused: DoorRefusal['refused']): Answer => refuse({ refused })
/** Said to who must wait so long before they ask again. */
export const tooOften = (waitMs: number): Answer => refuse({ refused: 'wait', waitS: Math.ceil(waitMs / 1000) })
const ok = (body: unknown = {}): Answer => ({ status: 200, body })

/** Makes the function that answers every call under /api/. */
export function makeApi({ door, readings, clock, build, fetchCalendar }: ApiParts): (call: Call) => Promise<Answer> {
  // Links and choices are guessed or repeated by machines only; a whole lab behind one address stays below this.
  const entering = buckets(clock, { burst: 60, perMinute: 60 })
  // The demo's choice guards nothing; a bench may choose for hundreds of visitors at once.
  const choosing = buckets(clock, { burst: 500, perMinute: 600 })
  const asking = buckets(clock, { burst: 120, perMinute: 600 })

  // The lab's server goes out for somebody: seldom, and for one at a time.
  const fetching = buckets(clock, { burst: 6, perMinute: 2 })

  const me = (session: Session | null): Me => ({ ...door.me(session), build })

  const slowed =
    (handle: Handler, bucket = entering): Handler =>
    (call) => {
      const waitMs = bucket.take(callerKey(call.session, call.address))
      return waitMs > 0 ? tooOften(waitMs) : handle(call)
    }

  const signedIn =
    (handle: (call: Call, who: Identity, session: Session) => Promise<Answer> | Answer): Handler =>
    (call) => {
      const who = door.identify(call.session)
      return who && call.session ? handle(call, who, call.session) : no('signed-out')
    }

  /** Entering in any way ends with a new secret, or with why not. */
  const entered = (outcome: Awaited<ReturnType<Door['join']>>): Answer => {
    if ('refused' in outcome) return refuse(outcome)
    return { status: 200, body: me(door.sessionOf(outcome.token)), token: outcome.token }
  }

  const link = (call: Call, token: string) => ok({ link: `${call.origin}/join#${token}` })

  const routes: Readonly<Record<(typeof calls)[number], Handler>> = {
    'GET /api/me': (call) => ok(me(call.session)),
    'POST /api/invitation': slowed(
      parsed(InvitationBody, ({ token }) => {
        const found = door.look(token)
        return 'refused' in found ? refuse(found) : ok(found)
      }),
    ),
    'POST /api/join': slowed(
      parsed(JoinBody, async ({ token, name }, call) => entered(await door.join(token, name, call.session, call.kind))),
    ),
    'GET /api/demo': (call) => (me(call.session).isDemo ? ok(door.people()) : no('not-found')),
    'POST /api/demo': slowed(
      parsed(DemoBody, async ({ personId }, call) => entered(await door.pretend(personId, call.session, call.kind))),
      choosing,
    ),
    'POST /api/sign-out': parsed(SignOutBody, async (_body, { session }) => {
      if (!session) return { status: 200, body: me(null), token: null }
      const left = await door.signOut(session)
      return left ? entered(left) : { status: 200, body: me(null), token: null }
    }),
    'GET /api/devices': signedIn((_call, who, session) =>
      // Whoever finds somebody still signed in on a shared tablet learns nothing of their other devices.
      who.personId === null || session.isBench ? no('not-allowed') : ok(door.devices(session)),
    ),
    'POST /api/devices': signedIn((call, who, session) =>
      parsed(DevicesBody, async (body) => {
        if (who.personId === null || session.isBench) return no('not-allowed')
        if ('endAllOf' in body) {
          if (who.role !== 'manager') return no('not-allowed')
          await door.endDevices(body.endAllOf, () => true)
          return ok()
        }
        const here = deviceIdOf(session)
        await door.endDevices(who.personId, (id) => ('end' in body ? id === body.end : id !== here))
        return ok(door.devices(session))
      })(call),
    ),
    'POST /api/pin': slowed(
      signedIn((call, who, session) =>
        parsed(PinBody, async ({ pin }) => {
          // On a shared tablet a first PIN may be chosen; whoever finds somebody still signed in there changes none.
          if (!who.personId || (session.isBench && door.me(session).hasPin)) return no('not-allowed')
          await door.setPin(who.personId, pin)
          return ok()
        })(call),
      ),
    ),
    'GET /api/bench-tablet': (call) => {
      if (!mayHandOver(call)) return no(call.session ? 'not-allowed' : 'signed-out')
      return ok({ people: door.people().people.filter(({ hasPin }) => hasPin) })
    },
    'POST /api/bench-tablet': signedIn((call, who, session) =>
      parsed(BenchBody, async ({ isBench }) =>
        isStaff(who.role) ? entered(await door.setBench(isBench, session)) : no('not-allowed'),
      )(call),
    ),
    'POST /api/switch': slowed(
      parsed(SwitchBody, async ({ personId, pin }, { session }) =>
        session ? entered(await door.switchTo(personId, pin, session)) : no('signed-out'),
      ),
    ),
    'POST /api/invite': signedIn((call, who, session) =>
      parsed(InviteBody, async ({ personId }) => {
        // A few digits on a shared tablet must not turn into a lasting way in elsewhere.
        if (session.isBench) return no('not-allowed')
        const isOwn = who.personId === personId
        if (!isOwn && who.role !== 'manager') return no('not-allowed')
        if (!door.people().people.some(({ id }) => id === personId)) return no('not-found')
        return link(call, await door.invite(personId, who.personId))
      })(call),
    ),
    'POST /api/wall-link': signedIn((call, who) =>
      parsed(WallLinkBody, async ({ signOut }) => {
        if (who.role !== 'manager') return no('not-allowed')
        if (signOut) await door.signOutWalls()
        return link(call, await door.invite(null, who.personId))
      })(call),
    ),
    'POST /api/calendar': slowed(
      signedIn((call, who) =>
        parsed(CalendarBody, async ({ address }) =>
          who.personId !== null && (who.role === 'volunteer' || isStaff(who.role))
            ? ok(await fetchCalendar(address))
            : no('not-allowed'),
        )(call),
      ),
      fetching,
    ),
    'GET /api/calendar-address': signedIn((_call, who) => {
      if (who.personId === null) return no('not-allowed')
      const madeAt = door.calendars.madeAt(who.personId)
      return ok({ madeAt: madeAt === null ? null : new Date(madeAt).toISOString() })
    }),
    'POST /api/calendar-address': slowed(
      signedIn((call, who, session) =>
        parsed(CalendarAddressBody, async ({ isWanted }) => {
          // A few digits on a shared tablet must not turn into a lasting look elsewhere.
          if (who.personId === null || session.isBench) return no('not-allowed')
          if (isWanted) return ok({ link: call.origin + calendarPath(await door.calendars.make(who.personId)) })
          await door.calendars.end(who.personId)
          return ok()
        })(call),
      ),
    ),
    'GET /api/archive': slowed(
      signedIn(async ({ query }, who) => read(await readings.archive(who, query))),
      asking,
    ),
    'GET /api/log': slowed(
      signedIn(async ({ query }, who) => read(await readings.log(who, query))),
      asking,
    ),
    'GET /api/history': slowed(
      signedIn(async ({ query }, who) => read(await readings.history(who, query))),
      asking,
    ),
  }

  function mayHandOver({ session }: Call): boolean {
    const role = door.identify(session)?.role
    return session?.isBench === true || role === 'manager' || role === 'preparator' || role === 'volunteer'
  }

  return async (call) => {
    const asked = `${call.method} ${call.path}`
    const name = calls.find((one) => one === asked)
    return name ? routes[name](call) : no('not-found')
  }
}

/** Where a calendar program finds what belongs to a secret. */
const calendarPath = (token: string) => `/api/calendar/${token}.ics`
/** The secret that a path carries; null for any other path. */
export const calendarTokenOf = (path: string): string | null =>
  /^\/api\/calendar\/([\w-]+)\.ics$/.exec(path)?.[1] ?? null

const read = (found: unknown): Answer => (found === null ? no('not-allowed') : ok(found))

function parsed<S extends z.ZodMiniType>(
  schema: S,
  handle: (body: z.output<S>, call: Call) => Promise<Answer> | Answer,
): Handler {
  return (call) => {
    const body = schema.safeParse(call.body)
    return body.success ? handle(body.data, call) : no('bad-request')
  }
}
