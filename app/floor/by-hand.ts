// Seating by hand, before and after the day is posted: before, a hold says where somebody is to sit; after, they sit
// there at once, and the op itself takes a hold of theirs along.
import type { OpOf } from '#lib/ops'
import type { Floor } from '#lib/views'
import type { Records } from '#lib/words'
import type { Try } from '../_shell/use-try.ts'
import type { FloorAt } from './use-floor.ts'

export type HandTurn = Omit<OpOf<'seat'>, 'id' | 'kind' | 'hold'>

/** Seats on a posted day; before it is posted, a hold says where they are to sit. True when it was done. */
export function seatByHand(attempt: Try['attempt'], records: Records, turn: HandTurn): boolean {
  return attempt({ kind: records.day.has(turn.date) ? 'seat' : 'hold', ...turn })
}

/** Brings a piece to another place: with the hands that work on it in the shift, or alone as it lies there today. */
export function bringPiece(
  attempt: Try['attempt'],
  { records, date, isToday }: Pick<FloorAt, 'records' | 'date' | 'isToday'>,
  floor: Floor,
  to: { readonly pieceId: string; readonly placeId: string },
): boolean {
  const place = records.place.get(to.placeId)
  const piece = records.specimen.get(to.pieceId) ?? records.jacket.get(to.pieceId)
  if (!place || !piece) return false
  const hands = floor.places.flatMap((one) => one.sitters).filter((sitter) => sitter.pieceId === to.pieceId)
  if (hands.length === 0) {
    return isToday && attempt({ kind: 'shelve', pieceId: piece.id, shelf: piece.shelf, placeId: place.id })
  }
  return hands.every(({ shiftId, personId, pieceId, stepId }) =>
    seatByHand(attempt, records, { date, shiftId, personId, pieceId, stepId, placeId: place.id }),
  )
}
