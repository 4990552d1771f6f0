// Where a piece lies: on a shelf or at a place that bears it and has room for it.
import { massKgOf, type Piece, pieceOf } from '#lib/rules'
import {
  type Change,
  type Finding,
  finding,
  type Jacket,
  type Place,
  put,
  type Records,
  type Specimen,
} from '#lib/words'
import { by, defineOp } from './op.ts'
import { begunWork, isStaff, isTheirsToday, must, unknown, unless } from './parts.ts'

/** A change of where a piece lies, whichever kind it is. */
export function lay(piece: Piece, shelf: string, placeId: Place['id'] | null): Change {
  const laid = { ...piece, shelf, placeId }
  // The spread keeps the kind of the piece; only a jacket has a field number.
  return 'fieldNumber' in laid ? put('jacket', laid as Jacket) : put('specimen', laid as Specimen)
}

/** All pieces that lie at a place. */
export function lyingAt(records: Records, placeId: string): readonly Piece[] {
  return [...records.jacket.values(), ...records.specimen.values()].filter((piece) => piece.placeId === placeId)
}

/** What stands against a piece coming to lie at a place: no such place, another piece at an exclusive one, the load. */
export function judgeLying(records: Records, piece: Piece, placeId: string): readonly Finding[] {
  const place = records.place.get(placeId)
  if (!place) return [unknown('place', placeId)]
  const others = lyingAt(records, placeId).filter((other) => other.id !== piece.id)
  const first = others[0]
  return place.isExclusive && first
    ? [finding('R1', 'exclusive-taken', { place: placeId, piece: piece.id, other: first.id })]
    : judgeLoad(place, piece, others)
}

/** What stands against a place bearing one more piece beside `others`. */
export function judgeLoad(place: Readonly<Place>, piece: Piece, others: readonly Piece[]): readonly Finding[] {
  const massKg = others.reduce((sum, other) => sum + massKgOf(other), massKgOf(piece))
  const numbers = { massKg, loadKgMax: place.loadKgMax }
  return unless(massKg <= place.loadKgMax + 1e-6, 'O', 'place-load', { place: place.id, piece: piece.id }, numbers)
}

export const shelve = defineOp<'shelve'>({
  kind: 'shelve',
  roles: by.crew,
  judge: (records, { pieceId, placeId }, who, when) => {
    const piece = pieceOf(records, pieceId)
    if (!piece) return [unknown('piece', pieceId)]
    const isTheirs = isStaff(who) || isTheirsToday(records, who.personId, pieceId, when.date)
    if (!isTheirs) return [finding('O', 'not-yours', { piece: pieceId })]
    if (placeId === piece.placeId) return []
    const work = begunWork(records).find((one) => one.pieceId === pieceId)
    if (work) return [finding('O', 'still-worked', { piece: pieceId, person: work.personId })]
    if (piece.isTied) return [finding('O', 'piece-tied', { piece: pieceId, at: piece.placeId ?? '' })]
    return placeId === null ? [] : judgeLying(records, piece, placeId)
  },
  apply: (records, { pieceId, shelf, placeId }) => [lay(must(pieceOf(records, pieceId), 'a piece'), shelf, placeId)],
  inverse: (records, { pieceId }, id) => {
    const piece = pieceOf(records, pieceId)
    return piece ? { id, kind: 'shelve', pieceId, shelf: piece.shelf, placeId: piece.placeId } : null
  },
})
