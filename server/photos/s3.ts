// A shelf in storage that speaks S3: `<prefix>kept/<hash>` is a whole photograph, `<hash>.320.jpg` and the like lie beside it.
// A file appears there whole or not at all, as that storage promises; what a picture says of itself is noted with it.
import { createWriteStream } from 'node:fs'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { type PhotoForm, photoForms } from '#lib/words'
import type { Clock, Log } from '../world.ts'
import { isHash, type Shelf, ShelfTrouble } from './contract.ts'
import { aside, hashOf } from './local-files.ts'
import { look, type PictureSize } from './picture.ts'
import type { S3Place } from './s3-place.ts'
import { ask, type S3Asked, textOf, troubleOf } from './s3-request.ts'

/** A shelf that was out of reach is looked at again this often, as long as somebody asks whether it is well. */
const LOOK_EVERY_MS = 10_000

export interface S3Options {
  readonly place: S3Place
  /** For what is fetched to be looked into. */
  readonly folder: string
  readonly clock: Pick<Clock, 'now'>
  readonly log: Log
}

/** The shelf; whether it is in reach shows with the first question. */
export function s3Shelf({ place, folder, clock, log }: S3Options): Shelf & { readonly look: () => Promise<void> } {
  const nameOf = (name: string) => `${place.prefix}kept/${name}`
  let isWell = true
  let lookedAt = clock.now()

  /** Asks, and remembers whether the storage could; remarks on the change alone. */
  async function told<T>(act: () => Promise<T>): Promise<T> {
    try {
      const result = await act()
      if (!isWell) log('info', 'Photographs can be kept again: their storage answers.')
      isWell = true
      return result
    } catch (error) {
      if (isWell && error instanceof ShelfTrouble)
        log(
          'warn',
          `Photographs can be neither kept nor shown: ${error.message} Edits go on; devices hold their photographs until they are kept.`,
        )
      if (error instanceof ShelfTrouble) isWell = false
      throw error
    }
  }

  /** The response to a question that may be answered with nothing; null then. */
  const found = (asked: S3Asked) =>
    told(async () => {
      const response = await ask(place, asked)
      if (response.statusCode === 200) return response
      if (response.statusCode !== 404) throw await troubleOf(place, response)
      const text = await textOf(response)
      // A bucket that is not there is no missing file. (The answer to HEAD has no words; the look at the start tells.)
      if (text.includes('NoSuchBucket'))
        throw new ShelfTrouble(`The storage at ${new URL(place.bucketUrl).host} has no such bucket.`)
      return null
    })

  const head = async (name: string) => {
    const response = await found({ method: 'HEAD', name: nameOf(name) })
    response?.resume()
    return response
  }

  async function seen(name: string): Promise<PictureSize | null> {
    const response = await head(name)
    if (!response) return null
    const noted = notedIn(response.headers)
    if (noted) return noted
    // Brought there by another program than ours: looked into.
    return withLocal(name, async (file) => {
      const picture = await look(file)
      return 'refused' in picture ? null : picture
    })
  }

  async function withLocal<T>(name: string, use: (file: string) => Promise<T>): Promise<T | null> {
    const response = await found({ method: 'GET', name: nameOf(name) })
    if (!response) return null
    return aside(folder, 'fetched', async (fetched) => {
      const file = join(fetched, name)
      await told(() => pipeline(response, createWriteStream(file)).catch(brokenOff))
      return use(file)
    })
  }

  const lookAt = async () => {
    lookedAt = clock.now()
    const response = await found({ method: 'GET', name: '', query: { 'list-type': '2', 'max-keys': '1' } })
    response?.resume()
  }

  return {
    async find(name) {
      const response = await head(name)
      if (!response) return null
      const form = notedIn(response.headers)?.form ?? (await seen(name))?.form
      return form ? { size: Number(response.headers['content-length']), form } : null
    },
    seen,
    put: async (name, file, { form, widthPx, heightPx }) => {
      // A whole photograph is named by its own sum; the storage refuses one that does not have it.
      const body = { file, sha256: isHash(name) ? name : await hashOf(file) }
      const headers = { 'content-type': `image/${form}`, [NOTE]: `${form} ${widthPx} ${heightPx}` }
      await told(async () => {
        const response = await ask(place, { method: 'PUT', name: nameOf(name), headers, body })
        if (response.statusCode !== 200) throw await troubleOf(place, response)
        response.resume()
      })
    },
    stream: (name) =>
      Readable.from(
        (async function* () {
          const response = await found({ method: 'GET', name: nameOf(name) })
          if (response) yield* response
        })(),
        { objectMode: false },
      ),
    withLocal,
    async *whole() {
      const start = nameOf('')
      for (let next: string | null = ''; next !== null; ) {
        const query = { 'list-type': '2', prefix: start, ...(next === '' ? {} : { 'continuation-token': next }) }
        const response = await found({ method: 'GET', name: '', query })
        const text: string = response ? await told(() => textOf(response).catch(brokenOff)) : ''
        for (const [, one = ''] of text.matchAll(/<Contents>([\s\S]*?)<\/Contents>/g)) {
          const hash = fieldOf(one, 'Key')?.slice(start.length) ?? ''
          if (isHash(hash)) yield { hash, size: Number(fieldOf(one, 'Size')) }
        }
        next = fieldOf(text, 'IsTruncated') === 'true' ? fieldOf(text, 'NextContinuationToken') : null
      }
    },
    isWell: () => {
      if (!isWell && clock.now() - lookedAt >= LOOK_EVERY_MS) lookAt().catch(() => {})
      return isWell
    },
    look: lookAt,
  }
}

/** What a picture says of itself, noted with its file: form, width and height. */
const NOTE = 'x-amz-meta-picture'

function notedIn(headers: Readonly<Record<string, string | string[] | undefined>>): PictureSize | null {
  const [said, width, height] = String(headers[NOTE] ?? '').split(' ')
  const form = photoForms.find((one): one is PhotoForm => one === said)
  const [widthPx, heightPx] = [Number(width), Number(height)]
  return form && widthPx > 0 && heightPx > 0 ? { form, widthPx, heightPx } : null
}

/** A field of the list's XML; the names asked for here have no letters that XML would write otherwise but `&`. */
const fieldOf = (xml: string, name: string): string | null =>
  new RegExp(`<${name}>([^<]*)</${name}>`).exec(xml)?.[1]?.replaceAll('&amp;', '&') ?? null

const brokenOff = (error: unknown): never => {
  if (error instanceof ShelfTrouble) throw error
  throw new ShelfTrouble('The storage broke off in the middle of a file.')
}
