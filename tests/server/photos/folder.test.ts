// Photographs in a folder: the promises of every store, and thousands of spoiled files.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { photoFormOf } from '#lib/words'
import { seededRandom } from '../../../lib/base/random.ts'
import type { PhotoStore } from '../../../server/photos/contract.ts'
import { photoFolder } from '../../../server/photos/folder.ts'
import { look } from '../../../server/photos/picture.ts'
import { aPhoto, collect, sent, uploadOf } from '../../kit/picture-files.ts'
import { photosSuite } from '../../suites/photos.ts'

const now = Date.parse('2026-03-12T09:25:00Z')
const filesOf = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true }).flatMap((one) => (one.isFile() ? [one.name] : []))

describe('a folder', () => {
  photosSuite(async () => {
    const folder = mkdtempSync(join(tmpdir(), 'talus-photos-'))
    return {
      folder,
      open: async () => photoFolder({ folder, clock: { now: () => now } }),
      names: async () => filesOf(folder).filter((name) => /^[0-9a-f]{64}/.test(name)),
      takeAway: async (name) => rmSync(join(folder, 'kept', name.slice(0, 2), name)),
      end: async () => rmSync(folder, { recursive: true, force: true }),
    }
  })
})

let folder: string
let store: PhotoStore
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'talus-photos-'))
  store = photoFolder({ folder, clock: { now: () => now } })
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))
const files = () => filesOf(folder)

test('ten thousand spoiled heads: each is told what it is, or refused', async () => {
  const dice = seededRandom(20260312)
  const good = await Promise.all((['jpeg', 'png', 'webp'] as const).map(aPhoto))
  const told = { taken: 0, refused: 0 }
  for (let n = 0; n < 10_000; n++) {
    const from = good[n % good.length] ?? Buffer.alloc(0)
    const bytes = Buffer.from(from.subarray(0, n % 5 === 0 ? dice.below(from.length) : from.length))
    for (let hit = 0; hit <= n % 7; hit++) bytes[dice.below(Math.min(bytes.length, 120))] = dice.below(256)
    const seen = photoFormOf(bytes) === null ? { refused: 'not-an-image' as const } : await look(bytes)
    if ('refused' in seen) {
      expect(['not-an-image', 'too-many-pixels']).toContain(seen.refused)
      told.refused++
    } else {
      expect(seen.widthPx * seen.heightPx).toBeGreaterThan(0)
      told.taken++
    }
  }
  // Both ends of it were really met.
  expect(told.taken).toBeGreaterThan(500)
  expect(told.refused).toBeGreaterThan(500)
}, 60_000)

/** One file spoiled in one of the ways that files are: bytes hit, cut short, doubled, run together, words put in. */
function spoiled(good: readonly Buffer[], dice: ReturnType<typeof seededRandom>): Buffer {
  const pick = () => good[dice.below(good.length)] ?? Buffer.alloc(0)
  const bytes = Buffer.from(pick())
  switch (dice.below(6)) {
    case 0: {
      for (let hit = 0; hit <= dice.below(20); hit++) bytes[dice.below(bytes.length)] = dice.below(256)
      return bytes
    }
    case 1:
      return bytes.subarray(0, dice.below(bytes.length))
    case 2: {
      // Lengths and sizes stand in four bytes: the largest, the smallest and what is just beside them.
      const size = [0, 1, 0x7fffffff, 0x80000000, 0xffffffff][dice.below(5)] ?? 0
      bytes.writeUInt32BE(size, dice.below(bytes.length - 4))
      return bytes
    }
    case 3: {
      const cut = dice.below(bytes.length)
      return Buffer.concat([bytes.subarray(0, cut), pick().subarray(cut)])
    }
    case 4:
      return Buffer.concat([bytes, Buffer.from('<script>alert(1)</script>'.repeat(dice.below(40)))])
    default: {
      const [from, to] = [dice.below(bytes.length), dice.below(bytes.length)]
      bytes.copy(bytes, to, from, from + dice.below(600))
      return bytes
    }
  }
}

const SPOILED = Number(process.env.TALUS_IMAGES ?? 200)

test(
  `${SPOILED} spoiled files through the door: kept with pictures of it, or refused with nothing left`,
  async () => {
    const dice = seededRandom(20260313)
    const good = await Promise.all((['jpeg', 'png', 'webp'] as const).map(aPhoto))
    const told = { kept: 0, refused: 0 }
    for (let n = 0; n < SPOILED; n++) {
      const bytes = spoiled(good, dice)
      const upload = uploadOf(bytes)
      const answer = await store.take(upload, 0, sent(bytes))
      if (answer.state === 'kept') {
        const out = await store.outgoing(upload.hash)
        const picture = out && (await collect(out.stream()))
        if (!picture) throw new Error(`kept, but it cannot go out: file ${n}`)
        expect(picture.includes('<script>')).toBe(false)
        expect((await sharp(picture).metadata()).exif).toBeUndefined()
        expect(files().filter((name) => name.startsWith(upload.hash))).toHaveLength(4)
        told.kept++
      } else {
        expect(answer.state).toBe('refused')
        expect(files().filter((name) => name.includes(upload.hash))).toEqual([])
        told.refused++
      }
    }
    // Both ends of it were really met.
    expect(Math.min(told.kept, told.refused)).toBeGreaterThan(SPOILED / 20)
    expect(readdirSync(join(folder, 'coming'))).toEqual([])
  },
  Math.max(600_000, SPOILED * 400),
)
