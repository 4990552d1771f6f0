// Photographs of a piece: the record beside the file, which the server keeps under the hash of its content. Only added
// to: other words, another view or a withdrawal is a new record that names the one it corrects, of the same file.
import * as z from 'zod/mini'
import { Instant, OptionalLine, PersonId, PieceId, RecordId } from './atoms.ts'

/** The kinds of picture that are taken: what browsers show and phones make, each decoded by one known reader. */
export const photoForms = ['jpeg', 'png', 'webp'] as const
export type PhotoForm = (typeof photoForms)[number]

/** Largest photograph, bytes. A 40-megapixel JPEG is about 20 MB, a 100-megapixel PNG may reach this. */
export const PHOTO_BYTES_MAX = 128 * 1024 * 1024
/** Most pixels that are decoded: above any camera of a lab, far below what fills a small server's memory. */
export const PHOTO_PIXELS_MAX = 120_000_000
/** Longest side of the small pictures that are made of each, pixels: one for a strip, one to look at. */
export const smallSides = [320, 1600] as const

/** From where a piece is seen: the anatomical terms of direction, then what is no side of an animal. */
export const photoViews = [
  'dorsal',
  'ventral',
  'left lateral',
  'right lateral',
  'anterior',
  'posterior',
  'medial',
  'lateral',
  'proximal',
  'distal',
  'occlusal',
  'whole',
  'detail',
  'label',
] as const
export const PhotoView = z.enum(photoViews)
export type PhotoView = z.infer<typeof PhotoView>

/** SHA-256 of the whole file. */
export const PhotoHash = z.string().check(z.regex(/^[0-9a-f]{64}$/))

/** One photograph on a piece's Sheet. Never changed or removed; a correction names the old. */
export const Photo = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  /** The entry or log of the treatment record that it belongs to. */
  entryId: z.nullable(RecordId),
  hash: PhotoHash,
  form: z.enum(photoForms),
  /** As it is looked at, after the camera's turn. */
  widthPx: z.int().check(z.gte(1), z.lte(PHOTO_PIXELS_MAX)),
  heightPx: z.int().check(z.gte(1), z.lte(PHOTO_PIXELS_MAX)),
  bytes: z.int().check(z.gte(1), z.lte(PHOTO_BYTES_MAX)),
  view: PhotoView,
  /** Length of the scale bar that was laid beside the piece; null where there is none. */
  scaleBarMm: z.nullable(z.number().check(z.gt(0), z.lte(5000))),
  caption: OptionalLine,
  takenAt: z.nullable(Instant),
  /** Who held the camera, where it was somebody of the lab. */
  takenBy: z.nullable(PersonId),
  by: PersonId,
  at: Instant,
  /** Whose picture it is, and on what terms others may use it; empty where the lab says nothing else. */
  owner: OptionalLine,
  licence: OptionalLine,
  corrects: z.nullable(RecordId),
  /** Taken off the Sheet; the file and what stood here before stay on record. */
  withdrawn: z.boolean(),
})
export type Photo = z.infer<typeof Photo>

/** Why nothing was taken; of a refused file nothing is left behind, but for `wrong-offset`, `busy` and what passes. */
const photoRefusals = [
  'too-big',
  'empty',
  'not-an-image',
  'too-many-pixels',
  'damaged',
  'wrong-hash',
  /** The piece does not begin where the last one ended; `offset` in the answer says where that is. */
  'wrong-offset',
  /** More came than was named. */
  'too-long',
  'too-many-open',
  'too-much-today',
  /** The same file of the same person is being written by another request. */
  'busy',
  'bad-name',
  /** The device has no room to hold it until it is sent; never said by the server. */
  'no-room',
  /** The device that holds it cannot read it any more; never said by the server. */
  'unreadable',
] as const
const PhotoRefusal = z.enum(photoRefusals)
export type PhotoRefusal = z.infer<typeof PhotoRefusal>

/** A file that is kept. */
const KeptPhoto = z.strictObject({
  hash: PhotoHash,
  size: Photo.shape.bytes,
  form: Photo.shape.form,
  widthPx: Photo.shape.widthPx,
  heightPx: Photo.shape.heightPx,
})

/** What the server says of an upload: kept; so many bytes are here, the next piece begins there; or why not. */
export const PhotoAnswer = z.discriminatedUnion('state', [
  z.strictObject({ state: z.literal('kept'), photo: KeptPhoto }),
  z.strictObject({ state: z.literal('coming'), offset: z.int().check(z.gte(0)) }),
  z.strictObject({ state: z.literal('refused'), why: PhotoRefusal, offset: z.optional(z.int().check(z.gte(0))) }),
])
export type PhotoAnswer = z.infer<typeof PhotoAnswer>

/** First bytes that are needed to tell a form. */
export const PHOTO_HEAD_BYTES = 12

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
const letters = (head: Uint8Array, from: number) => String.fromCharCode(...head.subarray(from, from + 4))

/** The form of a picture by its first bytes (PHOTO_HEAD_BYTES of them), never by its name; null for anything else. */
export function photoFormOf(head: Uint8Array): PhotoForm | null {
  if (head.length < PHOTO_HEAD_BYTES) return null
  if (head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff) return 'jpeg'
  if (PNG.every((byte, n) => head[n] === byte)) return 'png'
  return letters(head, 0) === 'RIFF' && letters(head, 8) === 'WEBP' ? 'webp' : null
}
