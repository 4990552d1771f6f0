// Photographs as files of the local disk: copied whole or not at all, counted, told by their first bytes, made aside.
import { createHash, randomUUID } from 'node:crypto'
import { constants, createReadStream } from 'node:fs'
import { copyFile, type FileHandle, mkdir, open, readdir, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { PHOTO_HEAD_BYTES, type PhotoForm, photoFormOf } from '#lib/words'

/**
 * Copies a file to another place, in a folder that is made where it is missing: it appears there whole or not at all, after
 * its bytes are on the disk.
 */
export async function copyFileWhole(from: string, to: string): Promise<void> {
  await mkdir(dirname(to), { recursive: true })
  const part = `${to}.${randomUUID()}.part`
  try {
    await copyFile(from, part, constants.COPYFILE_FICLONE)
    await sync(part, 'r+')
    await rename(part, to)
    await sync(dirname(to), 'r')
  } finally {
    await rm(part, { force: true })
  }
}

async function sync(path: string, flags: 'r' | 'r+'): Promise<void> {
  const handle = await open(path, flags)
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** SHA-256 of a file, small hex digits. */
export async function hashOf(file: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const part of createReadStream(file)) hash.update(part as Buffer)
  return hash.digest('hex')
}

/** The form of picture that a file's first bytes tell; null for none. */
export async function formIn(handle: FileHandle): Promise<PhotoForm | null> {
  const head = Buffer.alloc(PHOTO_HEAD_BYTES)
  const { bytesRead } = await handle.read(head, 0, PHOTO_HEAD_BYTES, 0)
  return photoFormOf(head.subarray(0, bytesRead))
}

/** Names in a folder; none where it is not there. */
export const namesIn = (folder: string): Promise<readonly string[]> => readdir(folder).catch(() => [])

/** Lends a new folder, named after what it is for, and takes it away again. */
export async function aside<T>(folder: string, what: string, use: (aside: string) => Promise<T>): Promise<T> {
  const lent = join(folder, `${what}-${randomUUID()}`)
  await mkdir(lent, { recursive: true })
  try {
    return await use(lent)
  } finally {
    await rm(lent, { recursive: true, force: true })
  }
}
