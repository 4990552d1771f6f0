// Storage that speaks as much S3 as photographs need, written for tests from the public description: it checks each
// signature with node:crypto alone, so that signer and checker share nothing, and can be told to fail as storage does.
import { createHash, createHmac } from 'node:crypto'
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'

/** `down` hangs up, `full` answers 503, `cut` breaks off in the middle of a file, `forbidden` knows no key. */
export type S3Fault = 'down' | 'full' | 'cut' | 'forbidden' | null

export interface S3Server {
  readonly endpoint: string
  readonly bucket: string
  readonly key: { readonly id: string; readonly secret: string }
  readonly objects: Map<string, { readonly bytes: Buffer; readonly headers: Readonly<Record<string, string>> }>
  fault: S3Fault
  readonly close: () => Promise<void>
}

/** A list is answered by so many at a time. */
const PAGE = 2
const hex = (bytes: Buffer | string) => createHash('sha256').update(bytes).digest('hex')
const mac = (key: Buffer | string, text: string) => createHmac('sha256', key).update(text).digest()
const encoded = (text: string) =>
  encodeURIComponent(text).replace(/[!'()*]/g, (one) => `%${one.charCodeAt(0).toString(16).toUpperCase()}`)

/** The signature that a request must carry (Signature Version 4, "Authenticating Requests: Using the Authorization Header"). */
export function signatureOf(
  {
    method,
    path,
    query,
    headers,
  }: { method: string; path: string; query: URLSearchParams; headers: (name: string) => string },
  { scope, signedHeaders, secret }: { scope: string; signedHeaders: string; secret: string },
): string {
  const names = signedHeaders.split(';')
  const canonical = [
    method,
    path,
    [...query]
      .map(([name, value]) => `${encoded(name)}=${encoded(value)}`)
      .sort()
      .join('&'),
    ...names.map((name) => `${name}:${headers(name).trim().replace(/ +/g, ' ')}`),
    '',
    signedHeaders,
    headers('x-amz-content-sha256'),
  ].join('\n')
  const [day = '', region = '', service = '', end = ''] = scope.split('/')
  const key = [region, service, end].reduce(mac, mac(`AWS4${secret}`, day))
  const text = ['AWS4-HMAC-SHA256', headers('x-amz-date'), scope, hex(canonical)].join('\n')
  return mac(key, text).toString('hex')
}

/** Starts it, with one bucket. */
export async function s3Server(): Promise<S3Server> {
  const key = { id: 'TESTKEYOFNOBODY', secret: 'a/secret+of/nobody' }
  const bucket = 'invented-lab'
  const objects: S3Server['objects'] = new Map()
  const state: { fault: S3Fault } = { fault: null }

  function isSigned(request: IncomingMessage, url: URL, body: Buffer): boolean {
    const said =
      /^AWS4-HMAC-SHA256 Credential=([^/]+)\/([^,]+), ?SignedHeaders=([^,]+), ?Signature=([0-9a-f]{64})$/.exec(
        request.headers.authorization ?? '',
      )
    if (!said || state.fault === 'forbidden') return false
    const [, id, scope = '', signedHeaders = '', signature] = said
    const headers = (name: string) => String(request.headers[name] ?? '')
    const isWhole = headers('x-amz-content-sha256') === hex(body) && signedHeaders.split(';').includes('host')
    const asked = { method: request.method ?? '', path: url.pathname, query: url.searchParams, headers }
    return id === key.id && isWhole && signature === signatureOf(asked, { scope, signedHeaders, secret: key.secret })
  }

  function list(url: URL, response: ServerResponse): void {
    const prefix = url.searchParams.get('prefix') ?? ''
    const after = Buffer.from(url.searchParams.get('continuation-token') ?? '', 'base64').toString()
    const names = [...objects.keys()].sort().filter((name) => name.startsWith(prefix) && name > after)
    const page = names.slice(0, PAGE)
    const contents = page.map(
      (name) => `<Contents><Key>${name}</Key><Size>${objects.get(name)?.bytes.length}</Size></Contents>`,
    )
    const more = names.length > PAGE
    const token = more
      ? `<NextContinuationToken>${Buffer.from(page.at(-1) ?? '').toString('base64')}</NextContinuationToken>`
      : ''
    response.end(`<ListBucketResult><IsTruncated>${more}</IsTruncated>${token}${contents.join('')}</ListBucketResult>`)
  }

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const url = new URL(request.url ?? '', 'http://s3')
    const parts: Buffer[] = []
    for await (const part of request) parts.push(part as Buffer)
    const body = Buffer.concat(parts)
    const no = (status: number, code: string) => {
      response.writeHead(status)
      response.end(request.method === 'HEAD' ? undefined : `<Error><Code>${code}</Code></Error>`)
    }
    if (state.fault === 'down') return void request.socket.destroy()
    if (state.fault === 'full') return no(503, 'SlowDown')
    if (!isSigned(request, url, body)) return no(403, 'SignatureDoesNotMatch')
    const [, inBucket, ...rest] = url.pathname.split('/')
    if (inBucket !== bucket) return no(404, 'NoSuchBucket')
    const name = decodeURIComponent(rest.join('/'))
    if (name === '') return list(url, response)
    if (request.method === 'PUT') {
      const noted = Object.entries(request.headers).filter(
        ([one]) => one.startsWith('x-amz-meta-') || one === 'content-type',
      )
      objects.set(name, { bytes: body, headers: Object.fromEntries(noted.map(([one, value]) => [one, String(value)])) })
      response.end()
      return
    }
    const found = objects.get(name)
    if (!found) return no(404, 'NoSuchKey')
    response.writeHead(200, { ...found.headers, 'content-length': found.bytes.length })
    if (request.method === 'HEAD') return void response.end()
    if (state.fault !== 'cut') return void response.end(found.bytes)
    response.write(found.bytes.subarray(0, found.bytes.length >> 1), () => request.socket.destroy())
  }

  const server = createServer((request, response) => {
    answer(request, response).catch(() => response.destroy())
  })
  await new Promise<void>((next) => server.listen(0, '127.0.0.1', next))
  return {
    endpoint: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    bucket,
    key,
    objects,
    get fault() {
      return state.fault
    },
    set fault(fault: S3Fault) {
      state.fault = fault
    },
    close: () => {
      server.closeAllConnections()
      return new Promise((done) => server.close(() => done()))
    },
  }
}
