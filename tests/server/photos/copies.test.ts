// Backups carry photographs beside them, each copied once, and a restore brings them back.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { writeCopy } from '../../../server/copies.ts'
import { copyPhotos, photosBeside } from '../../../server/photos/copies.ts'
import { folderShelf } from '../../../server/photos/folder.ts'
import { photosIn } from '../../../server/photos/open.ts'
import { openLibsql } from '../../../server/store/libsql.ts'
import { seed, seedChanges } from '../../kit/fake-lab.ts'
import { aPhoto, uploadOf } from '../../kit/picture-files.ts'
import { storeWorker } from '../../kit/store-worker.ts'

const root = mkdtempSync(join(tmpdir(), 'talus-copies-'))
afterAll(() => rmSync(root, { recursive: true, force: true }))

const files = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .flatMap((one) => (one.isFile() ? [one.name] : []))
    .sort()

const kept = (folder: string, hash: string) => join(photosIn(folder), 'kept', hash.slice(0, 2), hash)

/** Keeps a picture in a folder; answers its hash. */
function keep(folder: string, bytes: Uint8Array): string {
  const { hash } = uploadOf(bytes)
  mkdirSync(join(photosIn(folder), 'kept', hash.slice(0, 2)), { recursive: true })
  writeFileSync(kept(folder, hash), bytes)
  writeFileSync(`${kept(folder, hash)}.320.jpg`, 'small')
  return hash
}

test('two backups of a lab share its photographs, and a restore into another folder has them', async () => {
  const data = join(root, 'data')
  const store = await openLibsql({ folder: data, worker: await storeWorker() })
  await seed(store, seedChanges())
  const backups = join(root, 'backups')
  expect(await writeCopy(store, folderShelf(photosIn(data)), join(backups, 'none.talus'))).toBe('')

  const [first, second] = [await aPhoto(), await aPhoto('png')]
  const one = keep(data, first)
  mkdirSync(join(photosIn(data), 'coming'))
  writeFileSync(join(photosIn(data), 'coming', `bea.${'cd'.repeat(32)}.9`), 'half')
  expect(await writeCopy(store, folderShelf(photosIn(data)), join(backups, 'monday.talus'))).toContain(
    'Its photographs (1) lie in ',
  )
  const beside = join(backups, 'photos-fake')
  expect(files(beside)).toEqual([one])
  const since = statSync(join(beside, 'kept', one.slice(0, 2), one)).mtimeMs
  const two = keep(data, second)
  await writeCopy(store, folderShelf(photosIn(data)), join(backups, 'tuesday.talus'))
  await store.close()
  expect(files(beside)).toEqual([one, two].sort())
  expect(statSync(join(beside, 'kept', one.slice(0, 2), one)).mtimeMs).toBe(since)

  const other = join(root, 'other')
  const copied = await copyPhotos(
    folderShelf(photosBeside(join(backups, 'tuesday.talus'), 'fake')),
    folderShelf(photosIn(other)),
  )
  expect(copied).toEqual({ photos: 2, spoiled: [] })
  expect([readFileSync(kept(other, one)), readFileSync(kept(other, two))]).toEqual([first, second])
})
