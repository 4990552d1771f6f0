// How much one connection may ask of the server. The sums are far above what a person does, an hour's outbox sent at
// once included, and far below what would slow the others down.
import type { Clock } from '../world.ts'

/** An allowance that fills up again with time. */
export interface Allowance {
  readonly perSecond: number
  readonly atOnce: number
}

export interface Limits {
  readonly frames: Allowance
  readonly bytes: Allowance
  readonly ops: Allowance
  /** Whole documents sent. */
  readonly syncs: Allowance
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
  frameBytesMax: 1024 * 1024,
  unsentBytesMax: 4 * 1024 * 1024,
  earlyFramesMax: 50,
  connectionsPerSession: 40,
  asksAtOnce: 2,
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
