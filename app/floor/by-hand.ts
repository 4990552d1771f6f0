// Seating by hand, before and after the day is posted: before, a hold says where somebody is to sit; after, they sit
// there at once, and the op itself takes a hold of theirs along. Where others would have to make way, the sheet asks.
import type { OpBody, OpOf } from '#lib/ops'
import type { Floor } from '#lib/views'
import type { Finding, Records } from '#lib/words'
import type { Try } from '../_shell/use-try.ts'
import type { Taken } from './carry-layer.tsx'
import type { FloorAt } from './use-floor.ts'
import type { WhatIfQuestion } from './what-if/use-what-if.ts'

export type HandTurn = Omit<OpOf<'seat'>, 'id' | 'kind' | 'hold'>

/** Seats on a posted day; before it is posted, a hold says where they are to sit. True when it was done. */
export function seatByHand(attempt: Try['attempt'], records: Records, turn: HandTurn): boolean {
  return attempt({ kind: records.day.has(turn.date) ? 'seat' : 'hold', ...turn })
}

/** The turns that would be other ones if this were laid down at that place; none for a piece nobody works on. */
export function turnsTo(
  { records, date }: Pick<FloorAt, 'records' | 'date'>,
  floor: Floor,
  thing: Taken,
  placeId: string,
): readonly HandTurn[] {
  const place = records.place.get(placeId)
  if (!place) return []
  return floor.places
    .flatMap((one) => one.sitters)
    .filter((sitter) => (thing.kind === 'person' ? sitter.personId : sitter.pieceId) === thing.id)
    .map(({ shiftId, personId, pieceId, stepId }) => ({ date, shiftId, personId, pieceId, stepId, placeId: place.id }))
}

/** What laying it down would mean for the line-up. */
export function aheadOf(at: Pick<FloorAt, 'records' | 'date'>, floor: Floor, from?: WhatIfQuestion['from']) {
  return (thing: Taken, placeId: string): WhatIfQuestion | null => {
    const turns = turnsTo(at, floor, thing, placeId)
    return turns.length === 0 ? null : { date: at.date, turns, from }
  }
}

export type HandWays = {
  readonly attempt: Try['attempt']
  readonly wouldRefuse: (body: OpBody) => readonly Finding[]
  /** Asks whether others shall make way; left away for whoever cannot post. */
  readonly onMakeWay?: ((turns: readonly HandTurn[]) => void) | undefined
}

/** Puts people at their new places: at once where nobody is in the way, else by asking. */
export function putByHand(
  { attempt, wouldRefuse, onMakeWay }: HandWays,
  records: Records,
  turns: readonly HandTurn[],
): void {
  const [first] = turns
  if (!first) return
  const isPosted = records.day.has(first.date)
  const isInTheWay = isPosted && (turns.length > 1 || wouldRefuse({ kind: 'seat', ...first }).length > 0)
  if (isInTheWay && onMakeWay && turns.every((turn) => wouldRefuse({ kind: 'hold', ...turn }).length === 0)) {
    onMakeWay(turns)
    return
  }
  for (const turn of turns) if (!seatByHand(attempt, records, turn)) return
}

/** Brings a piece to another place: with the hands that work on it in the shift, or alone as it lies there today. */
export function bringPiece(
  ways: HandWays,
  at: Pick<FloorAt, 'records' | 'date' | 'isToday'>,
  floor: Floor,
  to: { readonly pieceId: string; readonly placeId: string },
): void {
  const { records } = at
  const place = records.place.get(to.placeId)
  const piece = records.specimen.get(to.pieceId) ?? records.jacket.get(to.pieceId)
  if (!place || !piece) return
  const turns = turnsTo(at, floor, { kind: 'piece', id: piece.id }, place.id)
  if (turns.length > 0) putByHand(ways, records, turns)
  else if (at.isToday) ways.attempt({ kind: 'shelve', pieceId: piece.id, shelf: piece.shelf, placeId: place.id })
}
