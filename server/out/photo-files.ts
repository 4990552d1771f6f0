// The photographs of a lab beside its JSON Lines: each original once, under the hash of its content, as a file that any
// program opens. On the way back each is what its name says, or nothing is brought in.
import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { open, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { PHOTO_HEAD_BYTES, type PhotoForm, photoFormOf } from '#lib/words'
import { WrongCopy } from '../copies.ts'
import { copyWhole, keptPhotos, photoIn } from '../photos/copies.ts'

/** Where the photographs of an export lie. */
export const photosOfExport = (file: string): string => `${file}.photos`

const endings: Readonly<Record<PhotoForm, string>> = { jpeg: 'jpg', png: 'png', webp: 'webp' }

/** Copies every whole photograph of a data folder's photographs into `to`; answers how many lie there then. */
export async function writePhotoFiles(photos: string, to: string): Promise<number> {
  let count = 0
  for await (const hash of keptPhotos(photos)) {
    const from = photoIn(photos, hash)
    const form = await formOf(from)
    if (!form) continue
    await copyWhole(from, join(to, `${hash}.${endings[form]}`))
    count++
  }
  return count
}

/**
 * Brings in those of `wanted` that lie in `from`; answers how many of them do not. Throws WrongCopy for a file that is
 * not what its name says, before any is copied.
 */
export async function readPhotoFiles(from: string, photos: string, wanted: ReadonlySet<string>): Promise<number> {
  const there = new Map<string, string>()
  for (const name of await readdir(from).catch(() => [])) {
    const hash = /^([0-9a-f]{64})\.(?:jpg|png|webp)$/.exec(name)?.[1]
    if (hash !== undefined && wanted.has(hash)) there.set(hash, join(from, name))
  }
  for (const [hash, file] of there)
    if ((await hashOf(file)) !== hash || !(await formOf(file)))
      throw new WrongCopy(`${file} is not the photograph that its name says. Nothing was brought in.`)
  for (const [hash, file] of there) await copyWhole(file, photoIn(photos, hash))
  return wanted.size - there.size
}

async function formOf(file: string): Promise<PhotoForm | null> {
  const handle = await open(file, 'r')
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(PHOTO_HEAD_BYTES), 0, PHOTO_HEAD_BYTES, 0)
    return photoFormOf(buffer.subarray(0, bytesRead))
  } finally {
    await handle.close()
  }
}

async function hashOf(file: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const part of createReadStream(file)) hash.update(part as Buffer)
  return hash.digest('hex')
}
