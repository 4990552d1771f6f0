// What browser and server say to each other over plain HTTP: who is here, joining, the demo's choice, the bench
// tablet's switch. The same schemas parse at the door and type the screens.
import * as z from 'zod/mini'
import { Line, OptionalLine, PersonId, Role } from './atoms.ts'

/** Header that every writing request carries: a page of another origin cannot set it unasked. */
export const WRITE_HEADER = 'x-talus'

/** Who is here: answered by GET /api/me, and handed to the pages with each request. */
export const Me = z.strictObject({
  /** Null on the Wall and before anybody signed in. */
  person: z.nullable(z.strictObject({ id: PersonId, name: Line, familyName: OptionalLine })),
  /** Null before anybody signed in. */
  role: z.nullable(Role),
  /** The lab's name. */
  lab: Line,
  isDemo: z.boolean(),
  /** True once this person has a PIN for shared tablets. */
  hasPin: z.boolean(),
  /** True on a shared bench tablet: people switch here by PIN, and signing out leaves it ready for the next. */
  isBench: z.boolean(),
  /** Names this state of the program; offline copies of pages are kept by it. */
  build: z.string(),
})
export type Me = z.infer<typeof Me>

/** A PIN for shared tablets. */
const Pin = z.string().check(z.regex(/^\d{4,8}$/))

const Token = z.string().check(z.regex(/^[\w-]{20,100}$/))

/** POST /api/calendar: somebody's own calendar behind an https address. Answered with its text, or with why there is none. */
export const CalendarBody = z.strictObject({ address: z.string().check(z.minLength(1), z.maxLength(2000)) })
export type CalendarRefused = 'not-https' | 'not-public' | 'no-answer' | 'too-much' | 'not-a-calendar'

/** POST /api/calendar-address: a new address for one's own calendar, or none any more; the former one ends. */
export const CalendarAddressBody = z.strictObject({ isWanted: z.boolean() })
/** GET /api/calendar-address. The address itself is told once, when it is made. */
export const CalendarAddress = z.strictObject({ madeAt: z.nullable(z.iso.datetime()) })
export type CalendarAddress = z.infer<typeof CalendarAddress>

/** POST /api/invitation: what a link opens, without using it. */
export const InvitationBody = z.strictObject({ token: Token })
/** Its answer. `asksName` when the invited person has not said their name yet; `name` is what the manager noted, if anything. */
export const Invitation = z.strictObject({
  lab: Line,
  role: Role,
  name: z.nullable(Line),
  asksName: z.boolean(),
})
export type Invitation = z.infer<typeof Invitation>

/** POST /api/join: uses the link. */
export const JoinBody = z.strictObject({ token: Token, name: z.optional(Line) })
/** POST /api/demo: whom to be, in the demo lab. */
export const DemoBody = z.strictObject({ personId: z.union([PersonId, z.literal('wall')]) })
/** POST /api/pin: sets one's own; null takes it away. */
export const PinBody = z.strictObject({ pin: z.nullable(Pin) })
/** POST /api/switch: another person at this tablet. */
export const SwitchBody = z.strictObject({ personId: PersonId, pin: Pin })
/** POST /api/bench-tablet: makes this device a shared bench tablet, or no longer (manager, preparator). */
export const BenchBody = z.strictObject({ isBench: z.boolean() })
/** POST /api/invite: a link for a person, or for another device of one's own. */
export const InviteBody = z.strictObject({ personId: PersonId })
/** POST /api/sign-out: here. */
export const SignOutBody = z.strictObject({})

/** What sort of device somebody is signed in on, as far as its browser says. */
export const DeviceKind = z.enum(['phone', 'tablet', 'computer'])
export type DeviceKind = z.infer<typeof DeviceKind>
/** GET /api/devices: where one is signed in, the last used first. */
export const Devices = z.strictObject({
  devices: z.array(
    z.strictObject({
      id: z.string(),
      kind: z.nullable(DeviceKind),
      /** The one that asks. */
      isHere: z.boolean(),
      /** A shared bench tablet: only the person goes out of it. */
      isBench: z.boolean(),
      since: z.iso.datetime(),
      /** To the hour. */
      seenAt: z.iso.datetime(),
    }),
  ),
})
export type Devices = z.infer<typeof Devices>
/** POST /api/devices: signs out one of one's devices by its id, or all others; for the manager all of somebody else's. */
export const DevicesBody = z.union([
  z.strictObject({ end: z.string().check(z.maxLength(100)) }),
  z.strictObject({ endOthers: z.literal(true) }),
  z.strictObject({ endAllOf: PersonId }),
])
/** POST /api/wall-link: a new link for screens in the room; former ones end, with `signOut` their screens too. */
export const WallLinkBody = z.strictObject({ signOut: z.optional(z.boolean()) })

/** GET /api/demo (demo lab) and GET /api/bench-tablet (shared tablet): whom one can be. */
export const People = z.strictObject({
  people: z.array(z.strictObject({ id: PersonId, name: Line, role: Role, hasPin: z.boolean() })),
})
export type People = z.infer<typeof People>

/** Why the door did not do it; sentences are made in app/_text. */
export const DoorRefusal = z.strictObject({
  refused: z.enum([
    'signed-out',
    'not-allowed',
    'not-found',
    'bad-request',
    'not-json',
    'bad-link',
    'used-link',
    'name-taken',
    'wrong-pin',
    'no-pin',
    'wait',
    'too-much',
    'not-now',
    'refused',
  ]),
  /** With `wait`: seconds until the next try. */
  waitS: z.optional(z.int()),
})
export type DoorRefusal = z.infer<typeof DoorRefusal>
