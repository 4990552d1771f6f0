// Exposure maps, stroke by stroke: whoever may write on a piece draws; whoever drew a stroke, and the staff, wipe it out.
import { photosShown, STROKES_MAX, strokesOf } from '#lib/rules'
import { put, type Records } from '#lib/words'
import { by, defineOp } from './op.ts'
import { isStaff, must, sheetOf, unknown, unless } from './parts.ts'
import { judgeWriter } from './records.ts'

const needs = (_records: Records, { pieceId }: { readonly pieceId: string }) => sheetOf(pieceId)

export const drawStroke = defineOp<'drawStroke'>({
  kind: 'drawStroke',
  roles: by.crew,
  needs,
  judge: (records, { strokeId, pieceId, photoHash, view }, who, when) => {
    const isThere = photosShown(records.photo.values(), pieceId).some(({ photo }) => photo.hash === photoHash)
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...unless((photoHash === null) !== (view === null), 'O', 'one-ground', { piece: pieceId }),
      ...(photoHash === null || isThere ? [] : [unknown('photo', photoHash)]),
      ...unless(strokesOf(records.stroke.values(), pieceId).length < STROKES_MAX, 'O', 'too-many', { piece: pieceId }),
      ...unless(!records.stroke.has(strokeId), 'R6', 'only-added', { record: strokeId }),
    ]
  },
  apply: (_records, { id: _id, kind: _kind, strokeId, ...stroke }, who, when) => [
    put('stroke', { ...stroke, id: strokeId, by: who.personId, at: when.at, withdraws: null }),
  ],
})

export const wipeStroke = defineOp<'wipeStroke'>({
  kind: 'wipeStroke',
  roles: by.crew,
  needs,
  judge: (records, { strokeId, pieceId, withdraws }, who, when) => {
    const old = strokesOf(records.stroke.values(), pieceId).find(({ id }) => id === withdraws)
    if (!old) return [unknown('stroke', withdraws)]
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...unless(isStaff(who) || old.by === who.personId, 'O', 'not-yours', { person: old.by }),
      ...unless(!records.stroke.has(strokeId), 'R6', 'only-added', { record: strokeId }),
    ]
  },
  apply: (records, { strokeId, withdraws }, who, when) => {
    const old = must(records.stroke.get(withdraws), 'a stroke')
    return [put('stroke', { ...old, id: strokeId, points: [], by: who.personId, at: when.at, withdraws })]
  },
})
