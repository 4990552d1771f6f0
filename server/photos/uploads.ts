// Photographs as they come in and go out, over whatever shelf the whole files lie on. What has come of an upload lies in
// `coming/<person>.<hash>.<size>` of the data folder until the file is whole, checked and on the shelf: a shelf out of reach
// keeps nobody's file from being sent, and it is put there when it is asked after again.
import { mkdir, open, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { PHOTO_BYTES_MAX, PHOTO_HEAD_BYTES, type PhotoAnswer, type PhotoRefusal, smallSides } from '#lib/words'
import { oneAtATime } from '../one-at-a-time.ts'
import type { Clock } from '../world.ts'
import {
  DAY_BYTES_MAX,
  isHash,
  OPEN_UPLOADS_MAX,
  type PhotoBytes,
  type PhotoStore,
  type Shelf,
  type Upload,
} from './contract.ts'
import { aside, formIn, hashOf, namesIn } from './local-files.ts'
import { look, type PictureSize, writeOutgoing, writeSmall } from './picture.ts'

const DAY_MS = 86_400_000
/** What was begun and not gone on with for so long is dropped. */
const STALE_MS = 7 * DAY_MS

export interface UploadOptions {
  /** For what is coming in or being made. */
  readonly folder: string
  readonly shelf: Shelf
  readonly clock: Pick<Clock, 'now'>
}

const refused = (why: PhotoRefusal, offset?: number): PhotoAnswer => ({
  state: 'refused',
  why,
  ...(offset === undefined ? {} : { offset }),
})

/** The store of photographs over a shelf; its folder is made with the first. */
export function photoStore({ folder, shelf, clock }: UploadOptions): PhotoStore {
  const coming = join(folder, 'coming')
  const smallName = (hash: string, side: number) => `${hash}.${side}.jpg`
  const outName = (hash: string) => `${hash}.out`
  const comingName = ({ personId, hash, size }: Upload) => join(coming, `${personId}.${hash}.${size}`)
  /** Uploads that a request is writing at this moment. */
  const writing = new Set<string>()
  // A large picture takes a core and a hundred megabytes while it is decoded.
  const encode = oneAtATime()
  const sent = new Map<string, { since: number; bytes: number }>()

  const sentToday = (personId: string) => {
    const last = sent.get(personId)
    if (last && clock.now() - last.since < DAY_MS) return last
    const fresh = { since: clock.now(), bytes: 0 }
    sent.set(personId, fresh)
    return fresh
  }

  async function kept(hash: string): Promise<PhotoAnswer | null> {
    const there = await shelf.find(hash)
    const seen = there && (await shelf.seen(hash))
    return there && seen && { state: 'kept', photo: { hash, size: there.size, ...seen } }
  }

  /** Why an upload may not even begin. */
  async function judge(upload: Upload): Promise<PhotoRefusal | null> {
    const { hash, size, personId } = upload
    if (!isHash(hash) || !/^[0-9a-z][0-9a-z-]{0,39}$/.test(personId)) return 'bad-name'
    if (!Number.isSafeInteger(size) || size < PHOTO_HEAD_BYTES) return 'empty'
    if (size > PHOTO_BYTES_MAX) return 'too-big'
    if (sentToday(personId).bytes + size > DAY_BYTES_MAX) return 'too-much-today'
    const others = (await begunBy(personId)).filter((name) => join(coming, name) !== comingName(upload))
    return others.length >= OPEN_UPLOADS_MAX ? 'too-many-open' : null
  }

  /** Names of what a person has begun; what has gone stale is dropped on the way. */
  async function begunBy(personId: string): Promise<readonly string[]> {
    const begun = (await namesIn(coming)).filter((name) => name.startsWith(`${personId}.`))
    const fresh: string[] = []
    for (const name of begun) {
      const file = join(coming, name)
      const since = (await stat(file).catch(() => null))?.mtimeMs ?? 0
      if (Date.now() - since < STALE_MS || writing.has(file)) fresh.push(name)
      else await rm(file, { force: true })
    }
    return fresh
  }

  async function ask(upload: Upload): Promise<PhotoAnswer> {
    const why = await judge(upload)
    if (why) return refused(why)
    const there = await kept(upload.hash)
    if (there) return there
    const file = comingName(upload)
    const offset = (await sizeOf(file)) ?? 0
    // All of it came while the shelf was out of reach.
    if (offset === upload.size && !writing.has(file)) return alone(file, () => settle(file, upload))
    return { state: 'coming', offset }
  }

  /** Does something with an upload's file while nobody else does. */
  async function alone<T>(file: string, act: () => Promise<T>): Promise<T> {
    writing.add(file)
    try {
      return await act()
    } finally {
      writing.delete(file)
    }
  }

  async function take(upload: Upload, offset: number, source: AsyncIterable<Uint8Array>): Promise<PhotoAnswer> {
    const first = await ask(upload)
    if (first.state !== 'coming') return first
    const file = comingName(upload)
    if (writing.has(file)) return refused('busy')
    return alone(file, async () => {
      const here = (await sizeOf(file)) ?? 0
      if (offset !== here) return refused('wrong-offset', here)
      await mkdir(coming, { recursive: true })
      const reached = await append(file, here, upload, source)
      if (typeof reached === 'string') {
        await rm(file, { force: true })
        return refused(reached)
      }
      return reached < upload.size ? { state: 'coming', offset: reached } : settle(file, upload)
    })
  }

  /** Writes what comes after what is here; answers how far it reaches, or why the whole file is not wanted. */
  async function append(
    file: string,
    here: number,
    { size, personId }: Upload,
    source: AsyncIterable<Uint8Array>,
  ): Promise<number | PhotoRefusal> {
    const today = sentToday(personId)
    const handle = await open(file, 'a+')
    let reached = here
    let isTold = here >= PHOTO_HEAD_BYTES
    try {
      for await (const part of untilCut(source)) {
        if (reached + part.length > size) return 'too-long'
        today.bytes += part.length
        if (today.bytes > DAY_BYTES_MAX) return 'too-much-today'
        await handle.appendFile(part)
        reached += part.length
        if (isTold || reached < PHOTO_HEAD_BYTES) continue
        // A script of any length is told by its first bytes, before the rest has come.
        if ((await formIn(handle)) === null) return 'not-an-image'
        isTold = true
      }
      await handle.sync()
      return reached
    } finally {
      await handle.close()
    }
  }

  /**
   * The whole file is here: is it what was named, and a picture down to its last row? Then it goes on the shelf, after its
   * small pictures; what is refused is dropped, and stays when the shelf cannot take it now.
   */
  async function settle(file: string, { hash, size }: Upload): Promise<PhotoAnswer> {
    const drop = async (why: PhotoRefusal) => {
      await rm(file, { force: true })
      return refused(why)
    }
    if ((await hashOf(file)) !== hash) return drop('wrong-hash')
    const seen = await look(file)
    if ('refused' in seen) return drop(seen.refused)
    if (!(await putSmall(hash, file, seen))) return drop('damaged')
    await shelf.put(hash, file, seen)
    await rm(file, { force: true })
    return { state: 'kept', photo: { hash, size, ...seen } }
  }

  /** Makes the small pictures of a local file and puts them on the shelf; false when it is not whole. */
  const putSmall = (hash: string, file: string, seen: PictureSize): Promise<boolean> =>
    encode(() =>
      aside(folder, 'making', async (making) => {
        const made = (side: number) => join(making, smallName(hash, side))
        if (!(await writeSmall(file, made))) return false
        for (const side of smallSides) await shelf.put(smallName(hash, side), made(side), { ...seen, form: 'jpeg' })
        return true
      }),
    )

  async function bytesOf(name: string): Promise<PhotoBytes | null> {
    const there = await shelf.find(name)
    return there && { ...there, stream: () => shelf.stream(name) }
  }

  /** What is made of a whole file, made when it is first wanted; null when there is no such file. */
  async function made(
    hash: string,
    name: string,
    make: (file: string, seen: PictureSize) => Promise<unknown>,
  ): Promise<PhotoBytes | null> {
    if (!isHash(hash)) return null
    // One that is finished waits behind nobody's encoding.
    const ready = await bytesOf(name)
    if (ready) return ready
    const seen = await shelf.seen(hash)
    if (!seen) return null
    await shelf.withLocal(hash, (file) => make(file, seen))
    return bytesOf(name)
  }

  return {
    ask,
    take,
    whole: async (hash) => (isHash(hash) ? bytesOf(hash) : null),
    small: (hash, side) => made(hash, smallName(hash, side), (file, seen) => putSmall(hash, file, seen)),
    outgoing: (hash) =>
      made(hash, outName(hash), (file, seen) =>
        encode(async () => {
          // Whoever asked at the same time may have made it meanwhile.
          if (await shelf.find(outName(hash))) return
          await aside(folder, 'making', async (making) => {
            const out = join(making, outName(hash))
            await writeOutgoing(file, out, seen.form)
            await shelf.put(outName(hash), out, seen)
          })
        }),
      ),
    isWell: shelf.isWell,
  }
}

/** What a source gives until it ends or its network does. */
async function* untilCut(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const parts = source[Symbol.asyncIterator]()
  for (;;) {
    const next = await parts.next().catch(() => null)
    if (!next || next.done) return
    yield next.value
  }
}

const sizeOf = async (file: string): Promise<number | null> => (await stat(file).catch(() => null))?.size ?? null
