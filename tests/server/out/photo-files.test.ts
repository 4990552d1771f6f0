// A lab with its photographs goes out as JSON Lines and files beside it, and both come in again the same.
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { type Change, put } from '#lib/words'
import { foundLab } from '../../../server/found.ts'
import { writeEverything } from '../../../server/out/files.ts'
import { photosOfExport, readPhotoFiles, writePhotoFiles } from '../../../server/out/photo-files.ts'
import { folderShelf, photoFolder, placeIn } from '../../../server/photos/folder.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { fakeClock } from '../../kit/fake-clock.ts'
import { fakeChance } from '../../kit/fake-lab.ts'
import { aPhoto } from '../../kit/makers-photos.ts'
import { freshFolder } from '../../kit/server.ts'

const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
const plain = (background: string, form: 'jpeg' | 'png') =>
  sharp({ create: { width: 40, height: 30, channels: 3, background } })
    .toFormat(form)
    .toBuffer()

/** A folder of photographs with two kept ones and what lies beside them. */
async function twoKept() {
  const photos = join(freshFolder(), 'photos')
  const files = [await plain('#a86', 'jpeg'), await plain('#888', 'png')]
  const store = photoFolder({ folder: photos, clock: { now: () => 0 } })
  for (const bytes of files) {
    const upload = { hash: hashOf(bytes), size: bytes.length, personId: 'ana' }
    const answer = await store.take(
      upload,
      0,
      (async function* () {
        yield bytes
      })(),
    )
    expect(answer.state).toBe('kept')
  }
  return { photos, files, hashes: files.map(hashOf) }
}

test('originals come out by hash and in again to the byte; small pictures are made anew where they are wanted', async () => {
  const { photos, files, hashes } = await twoKept()
  const store = memoryStore()
  const world = { clock: fakeClock(), chance: fakeChance(1) }
  const lab = await foundLab(store, world, 'Europe/Lisbon', 'A lab')
  const named: Change[] = hashes.map((hash, n) => put('photo', aPhoto({ id: `photo${n}`, hash })))
  const entry = { opId: 'p', kind: 'mark', op: {}, personId: 'ana', at: '2026-03-12T09:00:00.000Z', subjects: [] }
  await store.append(lab, await store.head(lab), [{ ...entry, changes: named }])
  const file = join(freshFolder(), 'out', 'lab.jsonl')
  const said = await writeEverything(store, lab, folderShelf(photos), file, entry.at)
  expect(said).toBe(`is in ${file}, its photographs (2) in ${file}.photos: keep both together.`)
  expect(readdirSync(photosOfExport(file)).toSorted()).toEqual([`${hashes[0]}.jpg`, `${hashes[1]}.png`].toSorted())

  const other = join(freshFolder(), 'photos')
  expect(await readPhotoFiles(photosOfExport(file), folderShelf(other), new Set(hashes))).toBe(0)
  hashes.forEach((hash, n) => {
    expect(readFileSync(placeIn(other, hash)).equals(files[n] ?? Buffer.alloc(0))).toBe(true)
  })
  const small = await photoFolder({ folder: other, clock: { now: () => 0 } }).small(hashes[0] ?? '', 320)
  expect(small?.form).toBe('jpeg')
})

test('a file that is not what its name says brings nothing in; what is not there is counted', async () => {
  const { photos, hashes } = await twoKept()
  const [one = '', two = ''] = hashes
  const out = join(freshFolder(), 'lab.jsonl.photos')
  expect(await writePhotoFiles(folderShelf(photos), out)).toBe(2)
  const other = join(freshFolder(), 'photos')
  writeFileSync(join(out, `${two}.png`), '#!/bin/sh\necho renamed\n')
  await expect(readPhotoFiles(out, folderShelf(other), new Set(hashes))).rejects.toThrow(
    'is not the photograph that its name says',
  )
  expect(existsSync(other)).toBe(false)
  rmSync(join(out, `${two}.png`))
  mkdirSync(join(out, 'notes'))
  expect(await readPhotoFiles(out, folderShelf(other), new Set(hashes))).toBe(1)
  expect(existsSync(placeIn(other, one))).toBe(true)
  // What no record names stays outside.
  const third = join(freshFolder(), 'photos')
  expect(await readPhotoFiles(out, folderShelf(third), new Set())).toBe(0)
  expect(existsSync(third)).toBe(false)
})
