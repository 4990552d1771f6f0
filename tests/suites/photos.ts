// What every store of photographs promises: in pieces, over lost networks, kept once, and refused with nothing left behind.
import { readdirSync, utimesSync } from 'node:fs'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { PHOTO_BYTES_MAX } from '#lib/words'
import type { PhotoStore } from '../../server/photos/contract.ts'
import { aPhoto, collect, pngSaying, sent, uploadOf } from '../kit/picture-files.ts'

/** A place for photographs, fresh for each test. */
export interface PhotosPlace {
  /** The data folder's own, where uploads are gathered. */
  readonly folder: string
  /** Opens the store, again as after a start. */
  readonly open: () => Promise<PhotoStore>
  /** Names of what lies on the shelf. */
  readonly names: () => Promise<readonly string[]>
  readonly takeAway: (name: string) => Promise<void>
  readonly end: () => Promise<void>
}

/** The tests, for one kind of store. */
export function photosSuite(make: () => Promise<PhotosPlace>): void {
  let place: PhotosPlace
  let store: PhotoStore
  /** What lies on the shelf, and what is left of what came in or was made. */
  const names = async () => {
    const left = readdirSync(place.folder, { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile() && !one.parentPath.includes(join(place.folder, 'kept')))
      .map(({ name }) => name)
    return [...(await place.names()), ...left].sort()
  }

  beforeEach(async () => {
    place = await make()
    store = await place.open()
  })
  afterEach(() => place.end())

  describe('coming in', () => {
    test('a lost network goes on where it ended, and the file is kept once', async () => {
      const bytes = await aPhoto()
      const upload = uploadOf(bytes)
      expect(await store.ask(upload)).toEqual({ state: 'coming', offset: 0 })
      expect(await store.take(upload, 0, sent(bytes, 1500))).toEqual({ state: 'coming', offset: 1500 })
      // The server was started again meanwhile.
      store = await place.open()
      expect(await store.ask(upload)).toEqual({ state: 'coming', offset: 1500 })
      const photo = { hash: upload.hash, size: bytes.length, form: 'jpeg', widthPx: 40, heightPx: 60 }
      expect(await store.take(upload, 1500, sent(bytes.subarray(1500)))).toEqual({ state: 'kept', photo })
      expect(await store.ask({ ...upload, personId: 'ali' })).toEqual({ state: 'kept', photo })
      expect(await names()).toEqual([upload.hash, `${upload.hash}.1600.jpg`, `${upload.hash}.320.jpg`])
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
      expect(await names()).toEqual([])
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
      const [stale = ''] = readdirSync(join(place.folder, 'coming'))
      const before = new Date(Date.now() - 8 * 86_400_000)
      utimesSync(join(place.folder, 'coming', stale), before, before)
      expect(await store.ask(nth(40))).toEqual({ state: 'coming', offset: 0 })
      expect(readdirSync(join(place.folder, 'coming'))).not.toContain(stale)
    })
  })

  describe('going out', () => {
    test('a picture leaves upright, without its place or anything else of the camera’s', async () => {
      const bytes = await aPhoto()
      const before = await sharp(bytes).metadata()
      expect(before.exif?.includes('Invented camera')).toBe(true)
      // Tag 0x8825 points at the position (EXIF 2.32, 4.6.3), in either byte order.
      const hasPlace = (exif: Buffer | undefined) =>
        exif?.includes('2588', 0, 'hex') || exif?.includes('8825', 0, 'hex')
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
      await place.takeAway(`${hash}.320.jpg`)
      expect((await store.small(hash, 320))?.form).toBe('jpeg')
      expect(await store.small('f'.repeat(64), 320)).toBeNull()
    })
  })
}
