// Photographs from one shelf to another: beside a backup, back from it, and to another place for good. A file that lies
// there is never copied again, so a nightly backup copies what came since the last one.
import { dirname, join } from 'node:path'
import type { Shelf } from './contract.ts'
import { hashOf } from './local-files.ts'

/** Where the photographs of a lab's backups lie, beside the backup `file`. */
export const photosBeside = (file: string, labId: string): string => join(dirname(file), `photos-${labId}`)

export interface Copied {
  /** How many lie on both shelves now. */
  readonly photos: number
  /** Hashes of files that do not hold what their name says: left where they are, and not handed on as if they were whole. */
  readonly spoiled: readonly string[]
}

/** Copies every whole photograph that is not there yet. */
export async function copyPhotos(from: Shelf, to: Shelf): Promise<Copied> {
  let photos = 0
  const spoiled: string[] = []
  for await (const { hash, size } of from.whole()) {
    const isThere = (await to.find(hash))?.size === size || (await copyOne(from, to, hash))
    if (isThere) photos++
    else spoiled.push(hash)
  }
  return { photos, spoiled }
}

async function copyOne(from: Shelf, to: Shelf, hash: string): Promise<boolean> {
  const seen = await from.seen(hash)
  const put = async (file: string) => {
    if (!seen || (await hashOf(file)) !== hash) return false
    await to.put(hash, file, seen)
    return true
  }
  return (await from.withLocal(hash, put)) ?? false
}

/** What to say of spoiled ones after a copy; empty when there are none. */
export const sayOfSpoiled = ({ spoiled }: Copied): string =>
  spoiled.length === 0
    ? ''
    : ` ${spoiled.length} could not be copied, since the files do not hold what was kept (first ${spoiled[0]}): take them from an older backup.`
