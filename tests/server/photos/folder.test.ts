// Photographs as they come in: in pieces, over lost networks, kept once, and refused with nothing left behind.
import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, rmSync, utimesSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { PHOTO_BYTES_MAX, photoFormOf } from '#lib/words'
import { seededRandom } from '../../../lib/base/random.ts'
import type { PhotoStore, Upload } from '../../../server/photos/contract.ts'
import { photoFolder } from '../../../server/photos/folder.ts'
import { look } from '../../../server/photos/picture.ts'

let folder: string
let store: PhotoStore
const now = Date.parse('2026-03-12T09:25:00Z')

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'talus-photos-'))
  store = photoFolder({ folder, clock: { now: () => now } })
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const files = () =>
  readdirSync(folder, { recursive: true, withFileTypes: true }).flatMap((one) => (one.isFile() ? [one.name] : []))

const uploadOf = (bytes: Uint8Array, more: Partial<Upload> = {}): Upload => ({
  hash: createHash('sha256').update(bytes).digest('hex'),
  size: bytes.length,
  personId: 'bea',
  ...more,
})

/** Sends in parts of `step` bytes; the network is lost after `until`. */
async function* sent(bytes: Uint8Array, until = bytes.length, step = 1000): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < until; at += step) yield bytes.subarray(at, Math.min(at + step, until))
  if (until < bytes.length) throw new Error('the network is lost')
}

/** Noise, so that the file is long for its pixels; lying on its side, with the place and the camera in it. */
async function aPhoto(form: 'jpeg' | 'png' | 'webp' = 'jpeg'): Promise<Buffer> {
  const noise = sharp({
    create: {
      width: 60,
      height: 40,
      channels: 3,
      background: '#888',
      noise: { type: 'gaussian', mean: 128, sigma: 60 },
    },
  })
  return noise
    .withExif({
      IFD0: { Make: 'Invented camera', ImageDescription: 'kept to itself' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '48/1 12/1 0/1', GPSLongitudeRef: 'E', GPSLongitude: '11/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .toFormat(form)
    .toBuffer()
}

const collect = async (stream: AsyncIterable<Uint8Array>) => {
  const parts: Uint8Array[] = []
  for await (const part of stream) parts.push(part)
  return Buffer.concat(parts)
}

describe('coming in', () => {
  test('a lost network goes on where it ended, and the file is kept once', async () => {
    const bytes = await aPhoto()
    const upload = uploadOf(bytes)
    expect(await store.ask(upload)).toEqual({ state: 'coming', offset: 0 })
    expect(await store.take(upload, 0, sent(bytes, 1500))).toEqual({ state: 'coming', offset: 1500 })
    // The server was started again meanwhile.
    store = photoFolder({ folder, clock: { now: () => now } })
    expect(await store.ask(upload)).toEqual({ state: 'coming', offset: 1500 })
    const photo = { hash: upload.hash, size: bytes.length, form: 'jpeg', widthPx: 40, heightPx: 60 }
    expect(await store.take(upload, 1500, sent(bytes.subarray(1500)))).toEqual({ state: 'kept', photo })
    expect(await store.ask({ ...upload, personId: 'ali' })).toEqual({ state: 'kept', photo })
    expect(files().sort()).toEqual([upload.hash, `${upload.hash}.1600.jpg`, `${upload.hash}.320.jpg`])
    const whole = await store.whole(upload.hash)
    expect(whole && (await collect(whole.stream()))).toEqual(bytes)
  })

  test('a piece from elsewhere is answered with where to go on', async () => {
    const bytes = await aPhoto()
    const upload = uploadOf(bytes)
    await store.take(upload, 0, sent(bytes, 1000))
    const answer = { state: 'refused', why: 'wrong-offset', offset: 1000 }
    expect(await store.take(upload, 0, sent(bytes))).toEqual(answer)
    expect(await store.take(upload, 1001, sent(bytes.subarray(1001)))).toEqual(answer)
  })

  test('two requests do not write the same file at once', async () => {
    const bytes = await aPhoto()
    const upload = uploadOf(bytes)
    const [one, other] = await Promise.all([store.take(upload, 0, sent(bytes)), store.take(upload, 0, sent(bytes))])
    expect([one.state, other.state].sort()).toEqual(['kept', 'refused'])
  })

  test('png and webp are kept too', async () => {
    for (const form of ['png', 'webp'] as const) {
      const bytes = await aPhoto(form)
      expect(await store.take(uploadOf(bytes), 0, sent(bytes))).toMatchObject({ state: 'kept', photo: { form } })
    }
  })
})

/** A PNG that says how large it is and holds next to nothing. */
function pngSaying(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
    const length = Buffer.alloc(4)
    length.writeUInt32BE(data.length)
    const sum = Buffer.alloc(4)
    sum.writeUInt32BE(crc32(body))
    return Buffer.concat([length, body, sum])
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([8, 2, 0, 0, 0], 8)
  const start = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
  return Buffer.concat([
    start,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.alloc(100_000))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff
  for (const byte of bytes) {
    rest ^= byte
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? 0xedb88320 : 0)
  }
  return (rest ^ 0xffffffff) >>> 0
}

describe('refused, with nothing left behind', () => {
  const script = Buffer.from('#!/bin/sh\necho renamed to photo.jpg\n'.repeat(400))
  const drawing = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script/></svg>')

  test.each([
    ['a renamed script', () => script, {}, 'not-an-image'],
    ['a drawing with a script in it', () => drawing, {}, 'not-an-image'],
    ['two gigabytes, as said', () => script, { size: 2 * 1024 ** 3 }, 'too-big'],
    ['one byte too many, as said', () => script, { size: PHOTO_BYTES_MAX + 1 }, 'too-big'],
    ['more than was said', () => aPhoto(), { size: 1200 }, 'too-long'],
    ['nothing', () => Buffer.alloc(0), {}, 'empty'],
    ['another file than was said', () => aPhoto(), { hash: '0'.repeat(64) }, 'wrong-hash'],
    ['a name that climbs out of the folder', () => aPhoto(), { hash: '../../../etc/passwd' }, 'bad-name'],
    ['a person that climbs out of the folder', () => aPhoto(), { personId: '../x' }, 'bad-name'],
    ['a decompression bomb', () => pngSaying(60_000, 60_000), {}, 'too-many-pixels'],
    ['a picture cut short', async () => (await aPhoto()).subarray(0, 1800), {}, 'damaged'],
    ['a picture whose rows are missing', () => pngSaying(2000, 2000), {}, 'damaged'],
  ])('%s', async (_what, make, more, why) => {
    const bytes = await make()
    expect(await store.take(uploadOf(bytes, more), 0, sent(bytes))).toMatchObject({ state: 'refused', why })
    expect(files()).toEqual([])
  })

  test('a script is told by its first bytes, before the rest has come', async () => {
    let asked = 0
    async function* endless() {
      for (;;) {
        asked++
        yield script
      }
    }
    const upload = uploadOf(script, { size: PHOTO_BYTES_MAX })
    expect(await store.take(upload, 0, endless())).toMatchObject({ why: 'not-an-image' })
    expect(asked).toBe(1)
  })

  test('a person who has begun forty ends one first; others go on, and what went stale is dropped', async () => {
    const bytes = await aPhoto()
    const nth = (n: number, personId = 'bea') => uploadOf(bytes, { hash: n.toString(16).padStart(64, '0'), personId })
    for (let n = 0; n < 40; n++) await store.take(nth(n), 0, sent(bytes, 500))
    expect(await store.ask(nth(40))).toEqual({ state: 'refused', why: 'too-many-open' })
    expect(await store.ask(nth(39))).toEqual({ state: 'coming', offset: 500 })
    expect(await store.ask(nth(40, 'ali'))).toEqual({ state: 'coming', offset: 0 })
    const stale = files()[0] ?? ''
    const before = new Date(Date.now() - 8 * 86_400_000)
    utimesSync(join(folder, 'coming', stale), before, before)
    expect(await store.ask(nth(40))).toEqual({ state: 'coming', offset: 0 })
    expect(files()).not.toContain(stale)
  })
})

describe('going out', () => {
  test('a picture leaves upright, without its place or anything else of the camera’s', async () => {
    const bytes = await aPhoto()
    const before = await sharp(bytes).metadata()
    expect(before.exif?.includes('Invented camera')).toBe(true)
    // Tag 0x8825 points at the position (EXIF 2.32, 4.6.3), in either byte order.
    const hasPlace = (exif: Buffer | undefined) => exif?.includes('2588', 0, 'hex') || exif?.includes('8825', 0, 'hex')
    expect(hasPlace(before.exif)).toBe(true)
    expect(before.orientation).toBe(6)
    const { hash } = uploadOf(bytes)
    await store.take(uploadOf(bytes), 0, sent(bytes))
    for (const made of [store.outgoing(hash), store.small(hash, 320), store.small(hash, 1600)]) {
      const out = await made
      const picture = out && (await collect(out.stream()))
      if (!picture) throw new Error('Expected a picture')
      const { exif, xmp, iptc, width, height } = await sharp(picture).metadata()
      expect({ exif, xmp, iptc }).toEqual({ exif: undefined, xmp: undefined, iptc: undefined })
      expect([width, height]).toEqual([40, 60])
    }
  })

  test('small pictures that are missing are made again', async () => {
    const bytes = await aPhoto()
    const { hash } = uploadOf(bytes)
    await store.take(uploadOf(bytes), 0, sent(bytes))
    rmSync(join(folder, 'kept', hash.slice(0, 2), `${hash}.320.jpg`))
    expect((await store.small(hash, 320))?.form).toBe('jpeg')
    expect(await store.small('f'.repeat(64), 320)).toBeNull()
  })
})

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

test(`${SPOILED} spoiled files through the door: kept with pictures of it, or refused with nothing left`, async () => {
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
}, 600_000)
