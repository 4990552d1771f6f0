// Jackets that come in from a spreadsheet, many in one act, and the taking back of what one import brought.
import * as z from 'zod/mini'
import { Jacket, OpId, PieceId, RecordId } from '#lib/words'

/** Rows in one act: what the gate judges between two edits of other people. */
export const ImportRows = z.strictObject({
  id: OpId,
  kind: z.literal('importRows'),
  importId: RecordId,
  jackets: z.array(Jacket).check(z.minLength(1), z.maxLength(250)),
})
export const UndoImport = z.strictObject({
  id: OpId,
  kind: z.literal('undoImport'),
  importId: RecordId,
  pieceIds: z.array(PieceId).check(z.minLength(1), z.maxLength(500)),
})
