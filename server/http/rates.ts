// How often one device, or one address where nobody is signed in, may ask for what costs the server work beside the
// small calls (api.ts has theirs): pages, pictures, sockets. A lab sits behind one address as a rule, so whoever is
// signed in is counted by their device: a stranger in the same network uses up nothing but their own.
import type { Session } from '../door/index.ts'
import { buckets } from '../door/throttle.ts'
import type { Clock } from '../world.ts'

const limits = {
  pages: { burst: 240, perMinute: 120 },
  pictures: { burst: 600, perMinute: 1200 },
  /** A tablet with a few tabs, each with several documents, that comes again after a restart. */
  sockets: { burst: 200, perMinute: 240 },
} as const

type Rated = keyof typeof limits

export interface Rates {
  /** Milliseconds until this caller may ask again; 0 when they may now. */
  readonly take: (what: Rated, session: Session | null, address: string) => number
}

/** The one key somebody is counted by. */
export const callerKey = (session: Session | null, address: string): string => session?.device ?? address

export function makeRates(clock: Clock): Rates {
  const of = {
    pages: buckets(clock, limits.pages),
    pictures: buckets(clock, limits.pictures),
    sockets: buckets(clock, limits.sockets),
  }
  return { take: (what, session, address) => of[what].take(callerKey(session, address)) }
}
