// Photographs of backups: whole files under their hashes, in one folder beside the backups of a lab. A file that lies there
// is never copied again, so a nightly backup copies what came since the last one.
import { randomUUID } from 'node:crypto'
import { constants } from 'node:fs'
import { copyFile, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'

/** Where the photographs of a lab's backups lie, beside the backup `file`. */
export const photosBeside = (file: string, labId: string): string => join(dirname(file), `photos-${labId}`)

/** Where a folder of photographs keeps the file of a hash. */
export const photoIn = (photos: string, hash: string): string => join(photos, 'kept', hash.slice(0, 2), hash)

/** The hashes of the whole photographs in a folder of photographs. */
export async function* keptPhotos(photos: string): AsyncGenerator<string> {
  // Small pictures and what goes out are made again when first wanted.
  for (const shelf of await names(join(photos, 'kept')))
    for (const name of await names(join(photos, 'kept', shelf))) if (/^[0-9a-f]{64}$/.test(name)) yield name
}

/** Copies every whole photograph from one folder of photographs to another; answers how many lie there then. */
export async function copyPhotos(from: string, to: string): Promise<number> {
  let count = 0
  for await (const hash of keptPhotos(from)) {
    await copyWhole(photoIn(from, hash), photoIn(to, hash))
    count++
  }
  return count
}

/** Copies a file whose name says its content: it appears whole or not at all, and what is there in its length stays. */
export async function copyWhole(from: string, to: string): Promise<void> {
  const [here, there] = await Promise.all([stat(from), stat(to).catch(() => null)])
  if (there?.size === here.size) return
  await mkdir(dirname(to), { recursive: true })
  const part = `${to}.${randomUUID()}.part`
  try {
    await copyFile(from, part, constants.COPYFILE_FICLONE)
    const handle = await open(part, 'r+')
    await handle.sync()
    await handle.close()
    await rename(part, to)
  } finally {
    await rm(part, { force: true })
  }
}

const names = (folder: string): Promise<readonly string[]> => readdir(folder).catch(() => [])
