// Where photographs are kept: whole files under the name of their content, so that each is kept once, however often it
// is sent. An upload comes in pieces; what has come in stays, so a lost network goes on where it ended. Whole files lie on
// a shelf: a folder, or storage that speaks S3.
import type { Readable } from 'node:stream'
import type { PhotoAnswer, PhotoForm, smallSides } from '#lib/words'
import type { PictureSize } from './picture.ts'

/** Bytes that one person may send in 24 hours. */
export const DAY_BYTES_MAX = 4 * 1024 * 1024 * 1024
/** Uploads that one person may have begun and not ended. */
export const OPEN_UPLOADS_MAX = 40

type SmallSide = (typeof smallSides)[number]

/** True for the name of a whole photograph: SHA-256 of its content, 64 small hex digits. */
export const isHash = (name: string): boolean => /^[0-9a-f]{64}$/.test(name)

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
  /** False while it knows that nothing can be kept or read. */
  readonly isWell: () => boolean
}

/** The shelf cannot keep or read now; nothing was lost, and the message is for eyes. */
export class ShelfTrouble extends Error {}

/** Files under names of hex digits, dots and letters. Every call throws a ShelfTrouble while the shelf is out of reach. */
export interface Shelf {
  readonly find: (name: string) => Promise<{ readonly size: number; readonly form: PhotoForm } | null>
  /** What a picture that lies there says of itself. */
  readonly seen: (name: string) => Promise<PictureSize | null>
  /** Takes a copy of a local file: durable when it fulfils, whole or not there at all. */
  readonly put: (name: string, file: string, seen: PictureSize) => Promise<void>
  readonly stream: (name: string) => Readable
  /** Lends a file of the local disk with the content; null when there is none. */
  readonly withLocal: <T>(name: string, use: (file: string) => Promise<T>) => Promise<T | null>
  /** The whole photographs, by hash. What is made of them (a name with a dot) is not among them. */
  readonly whole: () => AsyncGenerator<{ readonly hash: string; readonly size: number }>
  readonly isWell: () => boolean
}
