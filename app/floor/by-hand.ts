// Seating by hand, before and after the day is posted: before, a hold says where somebody is to sit; after, they sit
// there at once, and the op itself takes a hold of theirs along.
import type { OpOf } from '#lib/ops'
import type { Records } from '#lib/words'
import type { Try } from '../_shell/use-try.ts'

export type HandTurn = Omit<OpOf<'seat'>, 'id' | 'kind' | 'hold'>

/** Seats on a posted day; before it is posted, a hold says where they are to sit. True when it was done. */
export function seatByHand(attempt: Try['attempt'], records: Records, turn: HandTurn): boolean {
  return attempt({ kind: records.day.has(turn.date) ? 'seat' : 'hold', ...turn })
}
