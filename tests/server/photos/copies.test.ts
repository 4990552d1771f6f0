// Backups carry photographs beside them, each copied once, and a restore brings them back.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { photosIn, writeCopy } from '../../../server/copies.ts'
import { copyPhotos, photosBeside } from '../../../server/photos/copies.ts'
import { openLibsql } from '../../../server/store/libsql.ts'
import { seed, seedChanges } from '../../kit/fake-lab.ts'
import { storeWorker } from '../../kit/store-worker.ts'

const root = mkdtempSync(join(tmpdir(), 'talus-copies-'))
afterAll(() => rmSync(root, { recursive: true, force: true }))

const files = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .flatMap((one) => (one.isFile() ? [one.name] : []))
    .sort()

const [one, two] = ['ab', 'cd'].map((start) => start.repeat(32)) as [string, string]
const kept = (folder: string, hash: string) => join(photosIn(folder), 'kept', hash.slice(0, 2), hash)

function keep(folder: string, hash: string, text: string): void {
  mkdirSync(join(photosIn(folder), 'kept', hash.slice(0, 2)), { recursive: true })
  writeFileSync(kept(folder, hash), text)
  writeFileSync(`${kept(folder, hash)}.320.jpg`, 'small')
}

test('two backups of a lab share its photographs, and a restore into another folder has them', async () => {
  const data = join(root, 'data')
  const store = await openLibsql({ folder: data, worker: await storeWorker() })
  await seed(store, seedChanges())
  const backups = join(root, 'backups')
  expect(await writeCopy(store, data, join(backups, 'none.talus'))).toBe('')

  keep(data, one, 'first')
  mkdirSync(join(photosIn(data), 'coming'))
  writeFileSync(join(photosIn(data), 'coming', `bea.${two}.9`), 'half')
  expect(await writeCopy(store, data, join(backups, 'monday.talus'))).toContain('Its photographs (1) lie in ')
  const beside = join(backups, 'photos-fake')
  expect(files(beside)).toEqual([one])
  const since = statSync(join(beside, 'kept', 'ab', one)).mtimeMs
  keep(data, two, 'second')
  await writeCopy(store, data, join(backups, 'tuesday.talus'))
  await store.close()
  expect(files(beside)).toEqual([one, two])
  expect(statSync(join(beside, 'kept', 'ab', one)).mtimeMs).toBe(since)

  const other = join(root, 'other')
  expect(await copyPhotos(photosBeside(join(backups, 'tuesday.talus'), 'fake'), photosIn(other))).toBe(2)
  expect([readFileSync(kept(other, one), 'utf8'), readFileSync(kept(other, two), 'utf8')]).toEqual(['first', 'second'])
})
