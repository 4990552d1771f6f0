// Where a piece lies: on a shelf or at a place that bears it and has room for it.
import { judgeRack, massKgOf, type Piece, pieceOf } from '#lib/rules'
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
import { begunWork, isSameName, isStaff, isTheirsToday, must, unknown, unless } from './parts.ts'

/** A change of where a piece lies, whichever kind it is. */
export function lay(piece: Piece, shelf: string, placeId: Place['id'] | null, despite?: string): Change {
  // A reason goes with the shelf it was given for.
  const { standsDespite: _former, ...rest } = piece
  const laid = { ...rest, shelf, placeId, ...(despite === undefined ? {} : { standsDespite: despite }) }
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

/** What stands against a piece coming to stand on a rack. */
function onRack(
  records: Records,
  piece: Piece,
  shelf: string,
  placeId: Place['id'] | null,
  despite: string | undefined,
): readonly Finding[] {
  return judgeRack(records, { ...piece, shelf, placeId, standsDespite: despite ?? '' })
}

export const shelve = defineOp<'shelve'>({
  kind: 'shelve',
  roles: by.crew,
  judge: (records, { pieceId, placeId, shelf, despite }, who, when) => {
    const piece = pieceOf(records, pieceId)
    if (!piece) return [unknown('piece', pieceId)]
    const isTheirs = isStaff(who) || isTheirsToday(records, who.personId, pieceId, when.date)
    if (!isTheirs) return [finding('O', 'not-yours', { piece: pieceId })]
    if (placeId === piece.placeId)
      return isSameName(shelf, piece.shelf) ? [] : onRack(records, piece, shelf, placeId, despite)
    const work = begunWork(records).find((one) => one.pieceId === pieceId)
    if (work) return [finding('O', 'still-worked', { piece: pieceId, person: work.personId })]
    if (piece.isTied) return [finding('O', 'piece-tied', { piece: pieceId, at: piece.placeId ?? '' })]
    return placeId === null ? onRack(records, piece, shelf, placeId, despite) : judgeLying(records, piece, placeId)
  },
  apply: (records, { pieceId, shelf, placeId, despite }) => [
    lay(must(pieceOf(records, pieceId), 'a piece'), shelf, placeId, despite),
  ],
  inverse: (records, { pieceId }, id) => {
    const piece = pieceOf(records, pieceId)
    if (!piece) return null
    const { shelf, placeId, standsDespite } = piece
    return {
      id,
      kind: 'shelve',
      pieceId,
      shelf,
      placeId,
      ...(standsDespite === undefined ? {} : { despite: standsDespite }),
    }
  },
})
