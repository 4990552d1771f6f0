// How much one connection, and one person over all of theirs, may ask of the server. The sums are far above what a person
// does, an hour's outbox sent at once included, and far below what would slow the others down.
import type { Clock } from '../world.ts'

/** An allowance that fills up again with time. */
export interface Allowance {
  readonly perSecond: number
  readonly atOnce: number
}

export interface Allowances {
  readonly frames: Allowance
  readonly bytes: Allowance
  readonly ops: Allowance
  /** Whole documents sent. */
  readonly syncs: Allowance
}

export interface Limits extends Allowances {
  /** One person over all devices and connections; coming again does not fill it up. */
  readonly person: Allowances
  /** Bytes of one frame; ws refuses longer ones before they are read. */
  readonly frameBytesMax: number
  /** Bytes a reader may leave untaken. */
  readonly unsentBytesMax: number
  /** Frames kept while a connection is being opened. */
  readonly earlyFramesMax: number
  /** Connections of one session: a few tabs, each with board, office, a sheet and a text. */
  readonly connectionsPerSession: number
  /** Questions being answered at a time on one connection. */
  readonly asksAtOnce: number
}

export const defaultLimits: Limits = {
  frames: { perSecond: 100, atOnce: 600 },
  bytes: { perSecond: 256 * 1024, atOnce: 4 * 1024 * 1024 },
  ops: { perSecond: 40, atOnce: 2000 },
  syncs: { perSecond: 0.5, atOnce: 10 },
  person: {
    frames: { perSecond: 200, atOnce: 2400 },
    bytes: { perSecond: 512 * 1024, atOnce: 8 * 1024 * 1024 },
    ops: { perSecond: 80, atOnce: 4000 },
    syncs: { perSecond: 2, atOnce: 120 },
  },
  frameBytesMax: 1024 * 1024,
  unsentBytesMax: 4 * 1024 * 1024,
  earlyFramesMax: 50,
  connectionsPerSession: 40,
  asksAtOnce: 2,
}

/** Persons whose allowances are remembered; those not heard for longest are forgotten. */
const PERSONS_MAX = 5_000

/** What a connection takes from: its own allowance and its person's. */
export type Purse = { readonly [K in keyof Allowances]: { readonly take: (amount: number) => boolean } }

/** The allowances of everybody in one lab. */
export class Purses {
  readonly #limits: Limits
  readonly #clock: Clock
  readonly #ofPerson = new Map<string, Record<keyof Allowances, Budget>>()

  constructor(limits: Limits, clock: Clock) {
    this.#limits = limits
    this.#clock = clock
  }

  /** A purse for one more connection of a person. */
  open(person: string): Purse {
    const shared = this.#ofPerson.get(person) ?? this.#budgets(this.#limits.person)
    this.#ofPerson.delete(person)
    this.#ofPerson.set(person, shared)
    if (this.#ofPerson.size > PERSONS_MAX)
      for (const longest of this.#ofPerson.keys()) {
        this.#ofPerson.delete(longest)
        break
      }
    const own = this.#budgets(this.#limits)
    const both = (what: keyof Allowances) => ({
      take: (amount: number) => own[what].take(amount) && shared[what].take(amount),
    })
    return { frames: both('frames'), bytes: both('bytes'), ops: both('ops'), syncs: both('syncs') }
  }

  #budgets({ frames, bytes, ops, syncs }: Allowances): Record<keyof Allowances, Budget> {
    const of = (allowance: Allowance) => new Budget(allowance, this.#clock)
    return { frames: of(frames), bytes: of(bytes), ops: of(ops), syncs: of(syncs) }
  }
}

/** What is left of an allowance. */
export class Budget {
  readonly #allowance: Allowance
  readonly #clock: Clock
  #left: number
  #at: number

  constructor(allowance: Allowance, clock: Clock) {
    this.#allowance = allowance
    this.#clock = clock
    this.#left = allowance.atOnce
    this.#at = clock.now()
  }

  /** Takes an amount; false when there is not that much left. */
  take(amount: number): boolean {
    const now = this.#clock.now()
    // A clock that was set back must not empty the allowance.
    const seconds = Math.max(0, now - this.#at) / 1000
    this.#at = now
    this.#left = Math.min(this.#allowance.atOnce, this.#left + seconds * this.#allowance.perSecond)
    if (amount > this.#left) return false
    this.#left -= amount
    return true
  }
}
