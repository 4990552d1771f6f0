// One request to storage that speaks S3: signed (AWS Signature Version 4), sent, and tried once more when the network or
// the storage itself failed. Files are streamed both ways.
import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { type IncomingMessage, request as requestHttp } from 'node:http'
import { request as requestHttps } from 'node:https'
import { AwsV4Signer } from 'aws4fetch'
import { ShelfTrouble } from './contract.ts'
import type { S3Place } from './s3-place.ts'

/** Nothing said for so long, and the storage counts as out of reach. */
const SILENCE_MS = 20_000
const TRIES = 2
const AGAIN_MS = 300
const ANSWER_BYTES_MAX = 4 * 1024 * 1024
/** SHA-256 of nothing. */
const EMPTY = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'

export interface S3Asked {
  readonly method: 'GET' | 'HEAD' | 'PUT'
  /** The whole name of the file, or empty for the bucket. */
  readonly name: string
  readonly query?: Readonly<Record<string, string>>
  readonly headers?: Readonly<Record<string, string>>
  readonly body?: { readonly file: string; readonly sha256: string }
}

/** Address and headers of a request, signed; `datetime` (`20130524T000000Z`) is now unless a test says otherwise. */
export async function signed(
  { bucketUrl, region, key }: S3Place,
  { method, name, query = {}, headers = {}, body }: S3Asked,
  datetime?: string,
): Promise<{ readonly url: URL; readonly headers: Record<string, string> }> {
  const url = new URL(`${bucketUrl}/${name}`)
  for (const [one, value] of Object.entries(query)) url.searchParams.set(one, value)
  const signer = new AwsV4Signer({
    method,
    url: url.href,
    headers: { ...headers, 'x-amz-content-sha256': body?.sha256 ?? EMPTY },
    accessKeyId: key.id,
    secretAccessKey: key.secret,
    ...(key.session === null ? {} : { sessionToken: key.session }),
    service: 's3',
    region,
    ...(datetime === undefined ? {} : { datetime }),
  })
  const ready = await signer.sign()
  return { url: ready.url, headers: Object.fromEntries(ready.headers) }
}

/** Sends a request; answers with the response's head come in, its body not yet read. Throws a ShelfTrouble. */
export async function ask(place: S3Place, asked: S3Asked): Promise<IncomingMessage> {
  for (let tries = 1; ; tries++) {
    const outcome = await once(place, asked).catch((error: Error) => error)
    const isOver = outcome instanceof Error ? false : (outcome.statusCode ?? 0) < 500
    if (isOver && !(outcome instanceof Error)) return outcome
    if (tries >= TRIES) {
      if (outcome instanceof Error)
        throw new ShelfTrouble(`The storage at ${hostOf(place)} is out of reach (${codeOf(outcome)}).`)
      throw await troubleOf(place, outcome)
    }
    if (!(outcome instanceof Error)) outcome.resume()
    await new Promise((next) => setTimeout(next, AGAIN_MS))
  }
}

async function once(place: S3Place, asked: S3Asked): Promise<IncomingMessage> {
  const { url, headers } = await signed(place, asked)
  const length = asked.body ? (await stat(asked.body.file)).size : null
  return new Promise((done, fail) => {
    const sent = (url.protocol === 'https:' ? requestHttps : requestHttp)(
      url,
      { method: asked.method, headers: { ...headers, ...(length === null ? {} : { 'content-length': length }) } },
      done,
    )
    sent.setTimeout(SILENCE_MS, () => sent.destroy(new Error('silent')))
    sent.on('error', fail)
    if (!asked.body) {
      sent.end()
      return
    }
    const file = createReadStream(asked.body.file)
    file.on('error', (error) => sent.destroy(error))
    file.pipe(sent)
  })
}

/** Reads a short answer whole. */
export async function textOf(response: IncomingMessage): Promise<string> {
  const parts: Buffer[] = []
  let length = 0
  for await (const part of response) {
    length += (part as Buffer).length
    if (length > ANSWER_BYTES_MAX) throw new ShelfTrouble('The storage answered with more than an answer can be.')
    parts.push(part as Buffer)
  }
  return Buffer.concat(parts).toString()
}

/** An answer that is no, as what to tell whoever runs the server. */
export async function troubleOf(place: S3Place, response: IncomingMessage): Promise<ShelfTrouble> {
  const text = await textOf(response).catch(() => '')
  const code = /<Code>([A-Za-z]{1,60})<\/Code>/.exec(text)?.[1]
  return new ShelfTrouble(`The storage at ${hostOf(place)} answered ${response.statusCode}${code ? ` (${code})` : ''}.`)
}

const hostOf = ({ bucketUrl }: S3Place) => new URL(bucketUrl).host
const codeOf = (error: Error) => ('code' in error && typeof error.code === 'string' ? error.code : error.message)
