// The exposure map of a piece: strokes drawn by hand on its photographs, or on a sheet of paper for a view that nobody has
// photographed. Each stroke is a record, so what two people draw at once is there from both. Only added to: a stroke that
// is wiped out is named by a later record.
import * as z from 'zod/mini'
import { Instant, PersonId, PieceId, RecordId } from './atoms.ts'
import { PhotoHash, PhotoView } from './photos.ts'

/** What a stroke says. `worked` is where hands were, with their owner and day; `outline` is for paper: the piece itself. */
export const strokeKinds = ['bone shows', 'follow', 'keep off', 'stop line', 'worked', 'outline'] as const
const StrokeKind = z.enum(strokeKinds)
export type StrokeKind = z.infer<typeof StrokeKind>

/** Points lie from 0 to this along the width and along the height of what is drawn on. */
export const STROKE_SPAN = 10_000
/** Most points of one stroke. */
export const STROKE_POINTS_MAX = 400

const Along = z.int().check(z.gte(0), z.lte(STROKE_SPAN))

/** From left to right, and from top to bottom. */
export const StrokePoint = z.tuple([Along, Along])
export type StrokePoint = Readonly<z.infer<typeof StrokePoint>>

/** One stroke of a map. */
export const Stroke = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  /** The photograph it is drawn on, by its file, so that a corrected caption moves nothing; null for paper. */
  photoHash: z.nullable(PhotoHash),
  /** The view that the paper shows; null on a photograph, which says its own. */
  view: z.nullable(PhotoView),
  what: StrokeKind,
  points: z.array(StrokePoint).check(z.maxLength(STROKE_POINTS_MAX)),
  by: PersonId,
  at: Instant,
  /** The stroke that this record wipes out; it has no points of its own. Null for a stroke. */
  withdraws: z.nullable(RecordId),
})
export type Stroke = z.infer<typeof Stroke>
