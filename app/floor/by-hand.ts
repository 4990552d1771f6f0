// Seating by hand as a whole. A seat given by hand is kept by the next draw-up; a hold of the same person that says
// something else would bring them back, so it goes along, and whoever is taken off a seat is let go first.
import type { OpOf } from '#lib/ops'
import type { Records } from '#lib/words'
import type { Try } from '../_shell/use-try.ts'

export type HandTurn = Omit<OpOf<'seat'>, 'id' | 'kind'>

/** Seats on a posted day; before it is posted, a hold says where they are to sit. True when it was done. */
export function seatByHand(attempt: Try['attempt'], records: Records, turn: HandTurn): boolean {
  if (!records.day.has(turn.date)) return attempt({ kind: 'hold', ...turn })
  if (!attempt({ kind: 'seat', ...turn })) return false
  const hasHold = records.hold.has(`${turn.date}.${turn.shiftId}.${turn.personId}`)
  return !hasHold || attempt({ kind: 'hold', ...turn })
}

/** Takes somebody off the seat, and off the hold that would bring them back. */
export function unseatByHand(attempt: Try['attempt'], records: Records, assignmentId: string): boolean {
  if (records.hold.has(assignmentId) && !attempt({ kind: 'unhold', holdId: assignmentId })) return false
  return attempt({ kind: 'unseat', assignmentId })
}
