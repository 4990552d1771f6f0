// The photographs of a lab beside its JSON Lines: each original once, under the hash of its content, as a file that any
// program opens. On the way back each is what its name says, or nothing is brought in.
import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { PhotoForm } from '#lib/words'
import { WrongCopy } from '../copies.ts'
import type { Shelf } from '../photos/contract.ts'
import { copyFileWhole, hashOf, namesIn } from '../photos/local-files.ts'
import { look, type PictureSize } from '../photos/picture.ts'

/** Where the photographs of an export lie. */
export const photosOfExport = (file: string): string => `${file}.photos`

const endings: Readonly<Record<PhotoForm, string>> = { jpeg: 'jpg', png: 'png', webp: 'webp' }

/** Copies every whole photograph of a shelf into `to`; answers how many lie there then. What is there in its length stays. */
export async function writePhotoFiles(photos: Shelf, to: string): Promise<number> {
  let count = 0
  for await (const { hash, size } of photos.whole()) {
    const form = (await photos.find(hash))?.form
    if (!form) continue
    const file = join(to, `${hash}.${endings[form]}`)
    if ((await stat(file).catch(() => null))?.size !== size)
      await photos.withLocal(hash, (from) => copyFileWhole(from, file))
    count++
  }
  return count
}

/**
 * Brings in those of `wanted` that lie in `from`; answers how many of them do not. Throws WrongCopy for a file that is
 * not what its name says, before any is copied.
 */
export async function readPhotoFiles(from: string, photos: Shelf, wanted: ReadonlySet<string>): Promise<number> {
  const there = new Map<string, string>()
  const seen = new Map<string, PictureSize>()
  for (const name of await namesIn(from)) {
    const hash = /^([0-9a-f]{64})\.(?:jpg|png|webp)$/.exec(name)?.[1]
    if (hash !== undefined && wanted.has(hash)) there.set(hash, join(from, name))
  }
  for (const [hash, file] of there) {
    const picture = await look(file)
    if ((await hashOf(file)) !== hash || 'refused' in picture)
      throw new WrongCopy(`${file} is not the photograph that its name says. Nothing was brought in.`)
    seen.set(hash, picture)
  }
  for (const [hash, picture] of seen)
    if ((await photos.find(hash)) === null) await photos.put(hash, there.get(hash) ?? '', picture)
  return wanted.size - there.size
}
