// Where photographs are kept: whole files under the name of their content, so that each is kept once, however often it
// is sent. An upload comes in pieces; what has come in stays, so a lost network goes on where it ended.
import type { Readable } from 'node:stream'
import type { PhotoAnswer, PhotoForm, smallSides } from '#lib/words'

/** Bytes that one person may send in 24 hours. */
export const DAY_BYTES_MAX = 4 * 1024 * 1024 * 1024
/** Uploads that one person may have begun and not ended. */
export const OPEN_UPLOADS_MAX = 40

type SmallSide = (typeof smallSides)[number]

/** What is being sent, named before the first byte. */
export interface Upload {
  /** SHA-256 of the whole file, 64 small hex digits. */
  readonly hash: string
  /** Bytes of the whole file. */
  readonly size: number
  readonly personId: string
}

/** Bytes to send to a reader. */
export interface PhotoBytes {
  readonly size: number
  readonly form: PhotoForm
  readonly stream: () => Readable
}

export interface PhotoStore {
  /** How much of an upload is here already. Asked before the first piece, and again after a lost network. */
  readonly ask: (upload: Upload) => Promise<PhotoAnswer>
  /**
   * Takes one piece that begins at `offset`. When the source breaks off, what came stays and is answered as `coming`.
   * With the last byte the file is checked (content, form, pixels, every row of it) and kept, or refused and dropped.
   */
  readonly take: (upload: Upload, offset: number, source: AsyncIterable<Uint8Array>) => Promise<PhotoAnswer>
  /** The file as it was sent; null when it is not kept here. */
  readonly whole: (hash: string) => Promise<PhotoBytes | null>
  /** A small picture, turned upright, without any of the camera's data. */
  readonly small: (hash: string, side: SmallSide) => Promise<PhotoBytes | null>
  /** Full size for going out of the house: upright, colours kept, no position, no maker's notes. */
  readonly outgoing: (hash: string) => Promise<PhotoBytes | null>
}
