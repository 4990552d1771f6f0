// Pieces come in and become better known: jackets with their field numbers, specimens with theirs.
import { forceOf, judgeRack, type Piece, pieceOf } from '#lib/rules'
import { type Finding, finding, put, type Records } from '#lib/words'
import { by, defineOp } from './op.ts'
import { formerOf, inUse, isSameName, must, patched, unknown, unless } from './parts.ts'
import { judgeLying } from './shelve.ts'
import { judgeNewSteps } from './steps-check.ts'

function judgeNew(records: Records, piece: Piece): readonly Finding[] {
  const { placeId } = piece
  return [
    ...unless(!pieceOf(records, piece.id), 'O', 'id-taken', { piece: piece.id }),
    ...(placeId === null ? judgeRack(records, piece) : judgeLying(records, piece, placeId)),
    ...judgeKnown(piece),
  ]
}

/** What must be true of a piece however it got its fields. */
function judgeKnown(piece: Piece): readonly Finding[] {
  const { lowKg, highKg } = piece.mass
  return [
    ...unless(lowKg <= highKg, 'O', 'mass-order', { piece: piece.id }, { lowKg, highKg }),
    ...unless(!piece.isTied || piece.placeId !== null, 'O', 'tied-nowhere', { piece: piece.id }),
  ]
}

/** Another shelf must bear it; a weighing where it stands is a fact and is kept whatever it says. */
function judgeMovedRack(records: Records, before: Piece, after: Piece): readonly Finding[] {
  return isSameName(before.shelf, after.shelf) ? [] : judgeRack(records, after)
}

function fieldNumberTaken(records: Records, fieldNumber: string | undefined, exceptId: string): readonly Finding[] {
  if (fieldNumber === undefined) return []
  for (const jacket of records.jacket.values()) {
    if (jacket.id !== exceptId && isSameName(jacket.fieldNumber, fieldNumber)) {
      return [finding('O', 'number-taken', { piece: jacket.id, number: fieldNumber })]
    }
  }
  return []
}

function numberTaken(records: Records, number: string | undefined, exceptId: string): readonly Finding[] {
  if (number === undefined) return []
  for (const specimen of records.specimen.values()) {
    if (specimen.id !== exceptId && isSameName(specimen.number, number)) {
      return [finding('O', 'number-taken', { piece: specimen.id, number })]
    }
  }
  return []
}

/** Numbers are unique on the board; what comes back from the archive is asked again. */
export function judgeNumbers(records: Records, piece: Piece): readonly Finding[] {
  return 'fieldNumber' in piece
    ? fieldNumberTaken(records, piece.fieldNumber, piece.id)
    : numberTaken(records, piece.number, piece.id)
}

export const addJacket = defineOp<'addJacket'>({
  kind: 'addJacket',
  roles: by.staff,
  judge: (records, { jacket, steps }) => [
    ...judgeNew(records, jacket),
    ...judgeNumbers(records, jacket),
    ...judgeNewSteps(records, jacket.id, steps, []),
  ],
  apply: (_records, { jacket, steps }) => [put('jacket', jacket), ...steps.map((step) => put('step', step))],
})

export const editJacket = defineOp<'editJacket'>({
  kind: 'editJacket',
  roles: by.staff,
  keepsDays: true,
  judge: (records, { pieceId, patch }) => {
    const jacket = records.jacket.get(pieceId)
    if (!jacket) return [unknown('piece', pieceId)]
    return [
      ...fieldNumberTaken(records, patch.fieldNumber, pieceId),
      ...judgeKnown(patched(jacket, patch)),
      ...judgeMovedRack(records, jacket, patched(jacket, patch)),
    ]
  },
  apply: (records, { pieceId, patch }) => [
    put('jacket', patched(must(records.jacket.get(pieceId), 'a jacket'), patch)),
  ],
  inverse: (records, { pieceId, patch }, id) => {
    const jacket = records.jacket.get(pieceId)
    return jacket ? { id, kind: 'editJacket', pieceId, patch: formerOf(jacket, patch) } : null
  },
})

function judgeJacketOf(records: Records, jacketId: string | null | undefined, former?: string | null) {
  if (jacketId === null || jacketId === undefined || jacketId === former) return []
  const isThere = records.jacket.has(jacketId) || records.resting.get(jacketId)?.jacket
  return isThere ? [] : [unknown('jacket', jacketId)]
}

export const addSpecimen = defineOp<'addSpecimen'>({
  kind: 'addSpecimen',
  roles: by.staff,
  // The jacket it came from may be at rest.
  needs: (records, { specimen: { jacketId } }) =>
    jacketId !== null && !records.jacket.has(jacketId) ? [{ home: 'archive', id: jacketId }] : [],
  judge: (records, { specimen, steps }) => [
    ...judgeNew(records, specimen),
    ...judgeNumbers(records, specimen),
    ...judgeJacketOf(records, specimen.jacketId),
    ...judgeCeiling(records, specimen.forceCeiling),
    ...judgeNewSteps(records, specimen.id, steps, []),
  ],
  apply: (_records, { specimen, steps }) => [put('specimen', specimen), ...steps.map((step) => put('step', step))],
})

/** A ceiling is a technique of the ladder. */
export function judgeCeiling(records: Records, techniqueId: string): readonly Finding[] {
  return unless(forceOf(records, techniqueId) !== null, 'O', 'not-on-ladder', { technique: techniqueId })
}

export const editSpecimen = defineOp<'editSpecimen'>({
  kind: 'editSpecimen',
  roles: by.staff,
  keepsDays: true,
  needs: (records, { pieceId, patch: { jacketId } }) => {
    const isNews = jacketId && jacketId !== records.specimen.get(pieceId)?.jacketId && !records.jacket.has(jacketId)
    return isNews ? [{ home: 'archive', id: jacketId }] : []
  },
  judge: (records, { pieceId, patch }) => {
    const specimen = records.specimen.get(pieceId)
    if (!specimen) return [unknown('piece', pieceId)]
    return [
      ...numberTaken(records, patch.number, pieceId),
      ...judgeJacketOf(records, patch.jacketId, specimen.jacketId),
      ...judgeKnown(patched(specimen, patch)),
      ...judgeMovedRack(records, specimen, patched(specimen, patch)),
    ]
  },
  apply: (records, { pieceId, patch }) => [
    put('specimen', patched(must(records.specimen.get(pieceId), 'a specimen'), patch)),
  ],
  inverse: (records, { pieceId, patch }, id) => {
    const specimen = records.specimen.get(pieceId)
    return specimen ? { id, kind: 'editSpecimen', pieceId, patch: formerOf(specimen, patch) } : null
  },
})

export const openJacket = defineOp<'openJacket'>({
  kind: 'openJacket',
  roles: by.staff,
  judge: (records, { pieceId }) => judgeState(records, pieceId, 'sealed'),
  apply: (records, { pieceId }) => [
    put('jacket', { ...must(records.jacket.get(pieceId), 'a jacket'), state: 'opened' }),
  ],
})

export const emptyJacket = defineOp<'emptyJacket'>({
  kind: 'emptyJacket',
  roles: by.staff,
  judge: (records, { pieceId }, _who, when) => [
    ...judgeState(records, pieceId, 'opened'),
    ...inUse(records, pieceId, when.date),
  ],
  apply: (records, { pieceId }) => [
    put('jacket', { ...must(records.jacket.get(pieceId), 'a jacket'), state: 'empty' }),
  ],
})

function judgeState(records: Records, pieceId: string, state: 'sealed' | 'opened'): readonly Finding[] {
  const jacket = records.jacket.get(pieceId)
  if (!jacket) return [unknown('piece', pieceId)]
  return unless(jacket.state === state, 'O', `jacket-${jacket.state}`, { piece: pieceId })
}
