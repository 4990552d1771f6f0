// A lift that somebody measured, written on the piece's Sheet.
import { LIFT_FORMULA } from '#lib/limits'
import { put } from '#lib/words'
import { knownPiece } from './care.ts'
import { by, defineOp } from './op.ts'
import { sheetForGate, unless } from './parts.ts'

export const measureLift = defineOp<'measureLift'>({
  kind: 'measureLift',
  roles: by.staff,
  needs: (_records, { lift: { pieceId } }) => sheetForGate(pieceId),
  judge: (records, { lift }) => [
    ...knownPiece(records, lift.pieceId),
    ...unless(!records.lift.has(lift.id), 'R6', 'only-added', { record: lift.id }),
  ],
  apply: (_records, { lift }, who, when) => [
    put('lift', { ...lift, formula: LIFT_FORMULA, by: who.personId, at: when.at }),
  ],
})
