// A whole lab into a file of this machine, and out of one into an empty folder: it appears there complete, or not at all.
import { randomUUID } from 'node:crypto'
import { createReadStream, existsSync, mkdirSync } from 'node:fs'
import { open, rename, rm } from 'node:fs/promises'
import { dirname } from 'node:path'
import { intoEmpty, WrongCopy } from '../copies.ts'
import type { Shelf } from '../photos/contract.ts'
import { sealed } from '../sealing.ts'
import type { Store } from '../store/contract.ts'
import { openLibsql } from '../store/libsql.ts'
import { systemChance } from '../system-world.ts'
import { type BroughtIn, bringIn, bringInAsOf, WrongFile } from './bring-in.ts'
import { everythingOf } from './everything.ts'
import { photosOfExport, readPhotoFiles, writePhotoFiles } from './photo-files.ts'

/**
 * Writes the lab as JSON Lines into a new file, and the photographs of its shelf into a folder beside it; says where.
 */
export async function writeEverything(
  store: Store,
  lab: string,
  shelf: Shelf,
  file: string,
  at: string,
): Promise<string> {
  if (existsSync(file)) throw new WrongCopy(`${file} exists already. Name a new file.`)
  mkdirSync(dirname(file), { recursive: true })
  const part = `${file}.${randomUUID()}.part`
  const out = await open(part, 'wx', 0o600)
  try {
    for await (const lines of everythingOf(store, lab, await nameOf(store, lab), at)) await out.write(lines)
    await out.sync()
    await out.close()
    // After the records: a photograph is kept before any record names it.
    const beside = photosOfExport(file)
    const photos = await writePhotoFiles(shelf, beside)
    await rename(part, file)
    return `is in ${file}${photos === 0 ? '.' : `, its photographs (${photos}) in ${beside}: keep both together.`}`
  } finally {
    await out.close().catch(() => {})
    await rm(part, { force: true })
  }
}

async function nameOf(store: Store, lab: string): Promise<string> {
  const { records } = await store.snapshot(lab, 'board', 'lab')
  const [found] = records
  const record = found?.record
  return typeof record === 'object' && record !== null && 'name' in record ? String(record.name) : lab
}

/**
 * Makes the lab of a file in a folder that holds none, as it was at a moment (ISO instant) where one is given; `missing`:
 * photographs its records name that are not beside it.
 */
export async function readEverything(
  file: string,
  folder: string,
  shelf: Shelf,
  moment: string | null = null,
): Promise<BroughtIn & { readonly missing: number }> {
  if (!existsSync(file)) throw new WrongCopy(`There is no file ${file}.`)
  return intoEmpty(folder, async (aside) => {
    const store = await openLibsql({ folder: aside })
    try {
      const open = () => createReadStream(file)
      const into = sealed(store, systemChance)
      const brought = await (moment === null ? bringIn(into, open) : bringInAsOf(into, open, moment))
      const missing = await readPhotoFiles(photosOfExport(file), shelf, brought.photos)
      return { ...brought, missing }
    } catch (error) {
      if (error instanceof WrongFile) throw new WrongCopy(`${file}: ${error.message} Nothing was brought in.`)
      throw error
    } finally {
      await store.close()
    }
  })
}
