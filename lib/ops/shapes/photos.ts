// The acts on photographs: add one whose file is kept, say something else of it, withdraw it.
import * as z from 'zod/mini'
import { OpId, Photo, PieceId, RecordId } from '#lib/words'

/** What is said of a photograph beside its file. */
const said = {
  view: Photo.shape.view,
  scaleBarMm: Photo.shape.scaleBarMm,
  caption: Photo.shape.caption,
  takenAt: Photo.shape.takenAt,
  takenBy: Photo.shape.takenBy,
  owner: Photo.shape.owner,
  licence: Photo.shape.licence,
}

/** Puts a photograph on the Sheet; its file has been sent before. */
export const AddPhoto = z.strictObject({
  id: OpId,
  kind: z.literal('addPhoto'),
  photoId: RecordId,
  pieceId: PieceId,
  entryId: Photo.shape.entryId,
  hash: Photo.shape.hash,
  form: Photo.shape.form,
  widthPx: Photo.shape.widthPx,
  heightPx: Photo.shape.heightPx,
  bytes: Photo.shape.bytes,
  ...said,
})

/** A new record of the same file that names the one it corrects; `withdrawn` takes the photograph off the Sheet. */
export const CorrectPhoto = z.strictObject({
  id: OpId,
  kind: z.literal('correctPhoto'),
  photoId: RecordId,
  corrects: RecordId,
  pieceId: PieceId,
  withdrawn: Photo.shape.withdrawn,
  ...said,
})
