// Photographs in a folder beside the embedded store. `kept/ab/<hash>` is a whole file, checked; `<hash>.320.jpg` and the
// like lie beside it; `coming/<person>.<hash>.<size>` is what came of an upload. A file is in `kept` whole or not at all:
// it gets there by one rename, after its bytes are on the disk.
import { createHash, randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { type FileHandle, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { PHOTO_BYTES_MAX, PHOTO_HEAD_BYTES, type PhotoAnswer, type PhotoRefusal, photoFormOf } from '#lib/words'
import type { Clock } from '../world.ts'
import { DAY_BYTES_MAX, OPEN_UPLOADS_MAX, type PhotoBytes, type PhotoStore, type Upload } from './contract.ts'
import { look, writeOutgoing, writeSmall } from './picture.ts'

const DAY_MS = 86_400_000
/** What was begun and not gone on with for so long is dropped. */
const STALE_MS = 7 * DAY_MS

export interface FolderOptions {
  readonly folder: string
  readonly clock: Pick<Clock, 'now'>
}

const refused = (why: PhotoRefusal, offset?: number): PhotoAnswer => ({
  state: 'refused',
  why,
  ...(offset === undefined ? {} : { offset }),
})

/** Opens the folder; it is made with the first photograph. */
export function photoFolder({ folder, clock }: FolderOptions): PhotoStore {
  const coming = join(folder, 'coming')
  const keptName = (hash: string) => join(folder, 'kept', hash.slice(0, 2), hash)
  const smallName = (hash: string, side: number) => `${keptName(hash)}.${side}.jpg`
  const comingName = ({ personId, hash, size }: Upload) => join(coming, `${personId}.${hash}.${size}`)
  /** Uploads that a request is writing at this moment. */
  const writing = new Set<string>()
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
    const size = await sizeOf(keptName(hash))
    if (size === null) return null
    const seen = await look(keptName(hash))
    return 'refused' in seen ? null : { state: 'kept', photo: { hash, size, ...seen } }
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
    const begun = (await names(coming)).filter((name) => name.startsWith(`${personId}.`))
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
    return (await kept(upload.hash)) ?? { state: 'coming', offset: (await sizeOf(comingName(upload))) ?? 0 }
  }

  async function take(upload: Upload, offset: number, source: AsyncIterable<Uint8Array>): Promise<PhotoAnswer> {
    const first = await ask(upload)
    if (first.state !== 'coming') return first
    const file = comingName(upload)
    if (writing.has(file)) return refused('busy')
    writing.add(file)
    try {
      const here = (await sizeOf(file)) ?? 0
      if (offset !== here) return refused('wrong-offset', here)
      await mkdir(coming, { recursive: true })
      const reached = await append(file, here, upload, source)
      if (typeof reached === 'string') {
        await rm(file, { force: true })
        return refused(reached)
      }
      if (reached < upload.size) return { state: 'coming', offset: reached }
      const answer = await settle(file, upload)
      if (answer.state === 'refused') await rm(file, { force: true })
      return answer
    } finally {
      writing.delete(file)
    }
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
        if (photoFormOf(await firstOf(handle)) === null) return 'not-an-image'
        isTold = true
      }
      await handle.sync()
      return reached
    } finally {
      await handle.close()
    }
  }

  /** The whole file is here: is it what was named, and a picture down to its last row? */
  async function settle(file: string, { hash, size }: Upload): Promise<PhotoAnswer> {
    if ((await hashOf(file)) !== hash) return refused('wrong-hash')
    const seen = await look(file)
    if ('refused' in seen) return refused(seen.refused)
    const to = keptName(hash)
    await mkdir(dirname(to), { recursive: true })
    if (!(await encode(() => writeSmall(file, (side) => smallName(hash, side))))) {
      for (const name of await names(dirname(to)))
        if (name.startsWith(`${hash}.`)) await rm(join(dirname(to), name), { force: true })
      return refused('damaged')
    }
    await rename(file, to)
    await syncFolder(dirname(to))
    return { state: 'kept', photo: { hash, size, ...seen } }
  }

  async function bytesOf(file: string): Promise<PhotoBytes | null> {
    const handle = await open(file, 'r').catch(() => null)
    if (!handle) return null
    try {
      const form = photoFormOf(await firstOf(handle))
      return form && { size: (await handle.stat()).size, form, stream: () => createReadStream(file) }
    } finally {
      await handle.close()
    }
  }

  return {
    ask,
    take,
    whole: async (hash) => (isHash(hash) ? bytesOf(keptName(hash)) : null),
    async small(hash, side) {
      if (!isHash(hash) || (await sizeOf(keptName(hash))) === null) return null
      const there = await bytesOf(smallName(hash, side))
      if (there) return there
      // A copy brought back without its small pictures: they are made again when first wanted.
      await encode(async () => {
        if ((await sizeOf(smallName(hash, side))) === null)
          await writeSmall(keptName(hash), (one) => smallName(hash, one))
      })
      return bytesOf(smallName(hash, side))
    },
    async outgoing(hash) {
      if (!isHash(hash)) return null
      const there = await bytesOf(keptName(hash))
      if (!there) return null
      const made = `${keptName(hash)}.out`
      // One that is finished waits behind nobody's encoding.
      const ready = await bytesOf(made)
      if (ready) return ready
      await encode(async () => {
        // Whoever asked at the same time may have made it meanwhile.
        if ((await sizeOf(made)) !== null) return
        const part = `${made}.${randomUUID()}.part`
        try {
          await writeOutgoing(keptName(hash), part, there.form)
          await rename(part, made)
        } finally {
          await rm(part, { force: true })
        }
      })
      return bytesOf(made)
    },
  }
}

/** Runs one job after the other: a large picture takes a core and a hundred megabytes while it is decoded. */
function oneAtATime(): <T>(job: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve()
  return (job) => {
    const next = last.then(job)
    last = next.catch(() => {})
    return next
  }
}

const isHash = (hash: string) => /^[0-9a-f]{64}$/.test(hash)

/** What a source gives until it ends or its network does. */
async function* untilCut(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const parts = source[Symbol.asyncIterator]()
  for (;;) {
    const next = await parts.next().catch(() => null)
    if (!next || next.done) return
    yield next.value
  }
}

async function firstOf(handle: FileHandle): Promise<Buffer> {
  const head = Buffer.alloc(PHOTO_HEAD_BYTES)
  const { bytesRead } = await handle.read(head, 0, PHOTO_HEAD_BYTES, 0)
  return head.subarray(0, bytesRead)
}

async function hashOf(file: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const part of createReadStream(file)) hash.update(part as Buffer)
  return hash.digest('hex')
}

const sizeOf = async (file: string): Promise<number | null> => (await stat(file).catch(() => null))?.size ?? null

const names = (folder: string): Promise<readonly string[]> => readdir(folder).catch(() => [])

async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}
