// One local file to another place of the disk: it appears there whole or not at all, after its bytes are on the disk.
import { randomUUID } from 'node:crypto'
import { constants } from 'node:fs'
import { copyFile, mkdir, open, rename, rm } from 'node:fs/promises'
import { dirname } from 'node:path'

/** Copies it, into a folder that is made where it is missing. */
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
