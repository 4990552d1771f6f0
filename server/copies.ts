// Backups: one file that holds the whole lab, written while everything goes on, and put back later. Both work beside a
// running server, which is asked through its console, and without one.
import { randomUUID } from 'node:crypto'
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { copyFile, open, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { Shelf } from './photos/contract.ts'
import { copyPhotos, photosBeside, sayOfSpoiled } from './photos/copies.ts'
import { folderShelf } from './photos/folder.ts'
import { labsIn } from './reads.ts'
import type { Store } from './store/contract.ts'
import { hasData, openLibsql } from './store/libsql.ts'
import { dataFile } from './store/sql/open.ts'

/** A copy that cannot be made or used; the message is for eyes. */
export class WrongCopy extends Error {}

/**
 * Writes the whole lab of a store into a new file: it appears there complete, or not at all. The photographs of `shelf` go
 * into the folder for them beside it; answers where that is and how many there are.
 */
export async function writeCopy(store: Store, shelf: Shelf, file: string): Promise<string> {
  if (existsSync(file)) throw new WrongCopy(`${file} exists already. Name a new file.`)
  mkdirSync(dirname(file), { recursive: true })
  const part = `${file}.${randomUUID()}.part`
  try {
    await store.backup(part)
    const handle = await open(part, 'r+')
    await handle.sync()
    await handle.close()
    // After the records: a photograph is kept before any record names it.
    const [lab] = await labsIn(store)
    const beside = photosBeside(file, lab ?? '')
    const copied = await copyPhotos(shelf, folderShelf(beside))
    await rename(part, file)
    const { photos } = copied
    return (
      (photos === 0 ? '' : ` Its photographs (${photos}) lie in ${beside}: keep both together.`) + sayOfSpoiled(copied)
    )
  } finally {
    await rm(part, { force: true })
  }
}

/** A copy that was looked at and lies ready beside the data; `use` puts it in place, `drop` forgets it. */
export interface ReadyCopy {
  readonly isDemo: boolean
  /** Where it lies, as a data folder of its own. */
  readonly folder: string
  /** Copies the photographs that lie beside the backup to a shelf; says how many came. What is there stays. */
  readonly bringPhotos: (to: Shelf) => Promise<string>
  /** Puts the copy in place of the data, which must be closed; the former data stays in the folder it answers. */
  readonly use: () => { readonly former: string; readonly undo: () => void }
  readonly drop: () => void
}

/** Copies a backup beside the data in `folder` and opens it once, so that nothing unusable ever takes its place. */
export async function readyCopy(file: string, folder: string): Promise<ReadyCopy> {
  if (!existsSync(file)) throw new WrongCopy(`There is no file ${file}.`)
  const aside = join(folder, `restoring-${randomUUID()}`)
  mkdirSync(aside, { recursive: true })
  const drop = () => rmSync(aside, { recursive: true, force: true })
  try {
    await copyFile(file, dataFile(aside))
    const labId = await labIn(aside, file)
    const bringPhotos = async (to: Shelf) => {
      const copied = await copyPhotos(folderShelf(photosBeside(file, labId)), to)
      const { photos } = copied
      return (
        (photos === 0 ? ' No photographs lie beside it.' : ` Its photographs (${photos}) came with it.`) +
        sayOfSpoiled(copied)
      )
    }
    return { isDemo: labId.startsWith('demo-'), folder: aside, bringPhotos, drop, use: () => swap(aside, folder, drop) }
  } catch (error) {
    drop()
    throw error
  }
}

/** The demo and real labs never take each other's place. */
export function checkKind(present: string | null, isDemo: boolean, folder: string): void {
  if (present === null || present.startsWith('demo-') === isDemo) return
  throw new WrongCopy(
    isDemo
      ? `The file holds the demo lab, and ${folder} a real one. Restore it into another folder.`
      : `The file holds a real lab, and ${folder} the demo. Restore it into another folder.`,
  )
}

async function labIn(folder: string, file: string): Promise<string> {
  let labs: readonly string[]
  try {
    const store = await openLibsql({ folder })
    labs = await labsIn(store)
    await store.close()
  } catch (error) {
    throw new WrongCopy(`${file} is not a backup of Talus: ${error instanceof Error ? error.message : String(error)}`)
  }
  const [lab] = labs
  if (!lab) throw new WrongCopy(`${file} holds no lab.`)
  return lab
}

/** Fills a folder beside the data and, once that is done, puts it in place; a folder that holds a lab is refused. */
export async function intoEmpty<T>(folder: string, fill: (aside: string) => Promise<T>): Promise<T> {
  if (hasData(folder)) throw new WrongCopy(`${folder} holds a lab already. Name an empty folder with --data DIR.`)
  const aside = join(folder, `bringing-in-${randomUUID()}`)
  mkdirSync(aside, { recursive: true, mode: 0o700 })
  try {
    const made = await fill(aside)
    move(aside, folder)
    return made
  } finally {
    rmSync(aside, { recursive: true, force: true })
  }
}

const parts = (folder: string) => ['', '-wal', '-shm'].map((end) => dataFile(folder) + end)

function swap(aside: string, folder: string, drop: () => void): { former: string; undo: () => void } {
  const former = putAside(folder, 'before-restore')
  move(aside, folder)
  drop()
  return {
    former,
    undo() {
      for (const part of parts(folder)) rmSync(part, { force: true })
      move(former, folder)
      rmSync(former, { recursive: true, force: true })
    },
  }
}

/** Puts the data of a folder, which must be closed, into a folder of its own within it; answers which. */
export function putAside(folder: string, why: 'before-restore' | 'moved'): string {
  const former = join(folder, `${why}-${new Date().toISOString().replace(/[:.]/g, '-')}`)
  mkdirSync(former)
  move(folder, former)
  return former
}

function move(from: string, to: string): void {
  parts(from).forEach((part, n) => {
    if (existsSync(part)) renameSync(part, parts(to)[n] ?? '')
  })
}
