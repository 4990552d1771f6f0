/**
 * The journal of one change: what was put, taken, carried, so that the search may look first and decide after.
 * Undoing goes backwards through it with the same four operations that made the change.
 */
import { at, type Random } from '#lib/base'
import { carry, put, rementor, type State, take } from './state.ts'

/** One change under way: the state, its journal and the turns pushed out so far. */
export interface Hand {
  readonly state: State
  readonly random: Random
  /** Four numbers an entry: kind, turn or group, then what undoing needs. */
  readonly journal: Int32Array
  entries: number
  readonly displaced: Int32Array
  /** The job each of them had, to be looked for again first. */
  readonly displacedJob: Int32Array
  displacedCount: number
  /** Whether turns that keep a must may be pushed out; only while musts are being placed. */
  mayBreakMusts: boolean
  /** People who can mentor, by technique. */
  readonly mentors: readonly Int32Array[]
}

export const PUT = 0
export const TAKE = 1
export const CARRY = 2
export const REMENTOR = 3
/** A change that would need more entries than this is given up: it is no longer a small change. */
export const ENTRIES_MAX = 200

/** A hand on a state. */
export function handOn(state: State, random: Random): Hand {
  const { model } = state
  const mentors = Array.from({ length: model.techniques }, (_, t) => {
    const list: number[] = []
    for (let p = 0; p < model.persons; p++) if (at(model.levels, p * model.techniques + t) >= 4) list.push(p)
    return Int32Array.from(list)
  })
  return {
    state,
    random,
    journal: new Int32Array((ENTRIES_MAX * 3 + 8) * 5),
    entries: 0,
    displaced: new Int32Array(ENTRIES_MAX + 8),
    displacedJob: new Int32Array(ENTRIES_MAX + 8),
    displacedCount: 0,
    mayBreakMusts: false,
    mentors,
  }
}

/** Forgets the journal: what was done stays. */
export function keep(hand: Hand): void {
  hand.entries = 0
  hand.displacedCount = 0
}

/** Takes back all that the journal holds, last first. */
export function undo(hand: Hand): void {
  const { state, journal } = hand
  while (hand.entries > 0) {
    hand.entries--
    const base = hand.entries * 5
    const subject = at(journal, base + 1)
    const kind = at(journal, base)
    if (kind === PUT) take(state, subject)
    else if (kind === TAKE) put(state, subject, at(journal, base + 2), at(journal, base + 3), at(journal, base + 4))
    else if (kind === CARRY) carry(state, subject, at(journal, base + 2))
    else rementor(state, subject, at(journal, base + 2))
  }
  hand.displacedCount = 0
}

/** Adds an entry: what kind, whom, and what undoing needs. */
export function write(hand: Hand, kind: number, subject: number, a: number, b: number, c: number): void {
  const { journal } = hand
  const base = hand.entries++ * 5
  journal[base] = kind
  journal[base + 1] = subject
  journal[base + 2] = a
  journal[base + 3] = b
  journal[base + 4] = c
}

/** Notes a turn that lost its job in this change. */
export function displace(hand: Hand, turn: number, job: number): void {
  hand.displacedJob[hand.displacedCount] = job
  hand.displaced[hand.displacedCount++] = turn
}
