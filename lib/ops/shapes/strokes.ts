// The acts on an exposure map: draw one stroke, wipe one out.
import * as z from 'zod/mini'
import { OpId, PieceId, RecordId, STROKE_POINTS_MAX, Stroke, StrokePoint } from '#lib/words'

/** Draws a stroke on a photograph of the piece, or on the paper of a view. */
export const DrawStroke = z.strictObject({
  id: OpId,
  kind: z.literal('drawStroke'),
  strokeId: RecordId,
  pieceId: PieceId,
  photoHash: Stroke.shape.photoHash,
  view: Stroke.shape.view,
  what: Stroke.shape.what,
  points: z.array(StrokePoint).check(z.minLength(2), z.maxLength(STROKE_POINTS_MAX)),
})

/** Wipes a stroke out: it stays on record and is shown no more. */
export const WipeStroke = z.strictObject({
  id: OpId,
  kind: z.literal('wipeStroke'),
  strokeId: RecordId,
  pieceId: PieceId,
  withdraws: RecordId,
})
