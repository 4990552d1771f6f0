// The one port: our own routes first (health, calls, the console's errands), then pages; sockets by upgrade. Everything
// that comes in is met here before any other code sees it: origin, size, method, and headers only the server may set.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { Duplex } from 'node:stream'
import { type Me, WRITE_HEADER } from '#lib/words'
import type { Door } from '../door/index.ts'
import type { Outlets } from '../out/outlets.ts'
import type { PhotoStore } from '../photos/contract.ts'
import type { MayLook } from '../photos/looking.ts'
import type { Clock, Log } from '../world.ts'
import { type IsHost, type IsProxy, isForUs, isHandedOn, isOwnOrigin, type Whence, whenceOf } from './address.ts'
import { type Answer, type Call, calendarTokenOf, refuse, tooOften } from './api.ts'
import { readJson } from './body.ts'
import { cookieName, readCookie, setCookie } from './cookies.ts'
import { forwardCall, forwardUpgrade, headersOn } from './forward.ts'
import { barePolicy, commonHeaders, makeNonce, policyOf } from './headers.ts'
import { outPathOf, sendOut } from './out.ts'
import type { Pages } from './pages.ts'
import { answerUpload, photoPathOf, sendPhoto } from './photos.ts'
import { makeRates, type Rates } from './rates.ts'
import { type Arrival, refuseUpgrade, type Sockets, syncPathOf } from './sockets.ts'

/** Header by which pages learn who is here; from outside it is thrown away. */
const SESSION_HEADER = 'x-talus-session'

export interface HttpParts {
  readonly labId: () => string
  readonly build: string
  readonly isDev: boolean
  readonly isProxy: IsProxy
  /** Names under which this lab may be asked for. */
  readonly isHost: IsHost
  /** The present door and calls; null while the lab is closed for a restore. */
  readonly open: () => {
    readonly door: Door
    readonly api: (call: Call) => Promise<Answer>
    readonly mayLook: MayLook
    readonly outlets: Outlets
    /** The calendar that belongs to a secret; null where there is none. */
    readonly calendar: (token: string) => string | null
  } | null
  /** The console's errands under /console/: null when the request is not allowed or not known. */
  readonly errand: (request: IncomingMessage, path: string) => Promise<Answer | null>
  readonly isReady: () => boolean
  /** Address of the process that has the lab while this one stands by; null while it is here, or nowhere. */
  readonly elsewhere: () => string | null
  readonly photos: PhotoStore
  readonly pages: Pages
  readonly sockets: Sockets
  readonly clock: Clock
  readonly log: Log
}

type Parts = HttpParts & { readonly rates: Rates }

/** The server, not yet listening. */
export function makeHttp(options: HttpParts): Server {
  const parts: Parts = { ...options, rates: makeRates(options.clock) }
  const server = createServer((request, response) => {
    response.on('error', () => response.destroy())
    answer(parts, request, response).catch((error: unknown) => {
      // One request dies of our bug; the server lives, and the log says of what.
      parts.log('error', 'request failed', { path: urlOf(request)?.pathname ?? '', error: String(error) })
      if (!response.headersSent) response.writeHead(500, { 'cache-control': 'no-store' })
      response.end()
    })
  })
  server.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    socket.on('error', () => socket.destroy())
    try {
      upgrade(parts, request, socket, head)
    } catch (error) {
      parts.log('error', 'upgrade failed', { path: urlOf(request)?.pathname ?? '', error: String(error) })
      socket.destroy()
    }
  })
  // Slow senders of headers and bodies are cut off; see also body.ts.
  server.headersTimeout = 20_000
  server.requestTimeout = 60_000
  server.keepAliveTimeout = 20_000
  return server
}

async function answer(parts: Parts, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const whence = whenceOf(request, parts.isProxy)
  const to = handOnTo(parts, request)
  if (to) {
    const failed = () => send(response, refuse({ refused: 'not-now' }))
    return forwardCall(to, request, response, headersOn(request, whence, parts.isProxy), failed)
  }
  for (const [name, value] of Object.entries(commonHeaders(whence.isSecure))) response.setHeader(name, value)
  const url = urlOf(request)
  if (!url || !whence.origin) return send(response, refuse({ refused: 'bad-request' }))
  if (url.pathname === '/health') return send(response, { status: 200, body: { health: 'up', build: parts.build } })
  if (url.pathname === '/ready') {
    const isReady = parts.isReady()
    return send(response, { status: isReady ? 200 : 503, body: { ready: isReady } })
  }
  if (!isForUs(request, whence, parts.isProxy, parts.isHost)) return misdirected(response)
  if (url.pathname.startsWith('/console/')) {
    return send(response, (await parts.errand(request, url.pathname)) ?? refuse({ refused: 'not-found' }))
  }
  const photo = photoPathOf(url.pathname)
  if (photo) return answerPhoto(parts, request, response, url, whence, photo)
  const token = calendarTokenOf(url.pathname)
  if (token) return answerCalendar(parts, request, response, token)
  const file = outPathOf(url.pathname)
  if (file) return answerFile(parts, request, response, whence, file)
  if (url.pathname.startsWith('/api/')) return answerCall(parts, request, response, url, whence)
  return servePage(parts, request, response, url, whence)
}

/** These are answered by each process for itself. */
const isOwnAffair = (path: string) => path === '/health' || path === '/ready' || path.startsWith('/console/')

/** Where a request goes that is not for this process; null when it is. */
function handOnTo({ open, elsewhere }: HttpParts, request: IncomingMessage): string | null {
  const path = urlOf(request)?.pathname
  if (path === undefined || isOwnAffair(path) || isHandedOn(request) || open()) return null
  return elsewhere()
}

/** Who comes, by their cookie of this name. */
const sessionOf = (door: Door, request: IncomingMessage, cookie: string) =>
  door.sessionOf(readCookie(request.headers.cookie, cookie))

/** Another site's page can neither set this header nor hide where it comes from. */
const isOwnWrite = (request: IncomingMessage, whence: Whence) =>
  (request.headers.origin === undefined || isOwnOrigin(request, whence)) && request.headers[WRITE_HEADER] === '1'

async function answerPhoto(
  { open, labId, photos, rates }: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  whence: Whence,
  { what, hash }: NonNullable<ReturnType<typeof photoPathOf>>,
): Promise<void> {
  const opened = open()
  if (!opened) return send(response, refuse({ refused: 'not-now' }))
  const { door, mayLook } = opened
  const session = sessionOf(door, request, cookieName(labId(), whence.isSecure))
  const who = door.identify(session)
  const waitMs = rates.take('pictures', session, whence.address)
  if (waitMs > 0) {
    response.setHeader('connection', 'close')
    return send(response, tooOften(waitMs))
  }
  if (request.method === 'GET' && what === 'photos') {
    const no = await sendPhoto({ store: photos, mayLook }, request, response, url.searchParams, hash, who)
    if (no) send(response, no)
    return
  }
  const isSending = request.method === 'PUT' && what === 'uploads' && isOwnWrite(request, whence)
  if (!isSending && !(request.method === 'GET' && what === 'uploads')) {
    response.setHeader('connection', 'close')
    return send(response, refuse({ refused: 'not-allowed' }))
  }
  const answer = await answerUpload(photos, request, url.searchParams, hash, who)
  // What was refused half-way is not listened to any further.
  if (isSending && answer.status >= 400) response.setHeader('connection', 'close')
  send(response, answer)
}

/** A calendar program has no cookie: the address alone says whose it is. */
function answerCalendar({ open }: HttpParts, request: IncomingMessage, response: ServerResponse, token: string): void {
  const opened = open()
  const isAsked = request.method === 'GET' || request.method === 'HEAD'
  const text = isAsked && opened ? opened.calendar(token) : null
  if (text === null) {
    send(response, refuse({ refused: opened ? 'not-found' : 'not-now' }))
    return
  }
  response.writeHead(200, {
    'content-type': 'text/calendar; charset=utf-8',
    'content-length': Buffer.byteLength(text),
    'cache-control': 'private, no-cache',
    'content-security-policy': barePolicy,
  })
  response.end(request.method === 'HEAD' ? undefined : text)
}

async function answerFile(
  { open, labId, log }: HttpParts,
  request: IncomingMessage,
  response: ServerResponse,
  whence: Whence,
  file: string,
): Promise<void> {
  const opened = open()
  if (!opened) return send(response, refuse({ refused: 'not-now' }))
  if (request.method !== 'GET') return send(response, refuse({ refused: 'not-allowed' }))
  const who = opened.door.identify(sessionOf(opened.door, request, cookieName(labId(), whence.isSecure)))
  const no = await sendOut(opened.outlets, response, { name: file, origin: whence.origin ?? '' }, who, log)
  if (no) send(response, no)
}

async function answerCall(
  { open, labId }: HttpParts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  whence: Whence,
): Promise<void> {
  const opened = open()
  if (!opened || !whence.origin) return send(response, refuse({ refused: 'not-now' }))
  const method = request.method ?? 'GET'
  let body: unknown = null
  if (method !== 'GET') {
    if (!isOwnWrite(request, whence)) return send(response, refuse({ refused: 'not-allowed' }))
    const read = await readJson(request)
    if (!read.ok) {
      response.setHeader('connection', 'close')
      return send(response, refuse({ refused: read.why }))
    }
    body = read.value
  }
  const name = cookieName(labId(), whence.isSecure)
  const session = sessionOf(opened.door, request, name)
  const { address, origin } = whence
  const call = { method, path: url.pathname, query: url.searchParams, body, session, address, origin }
  const said = await opened.api(call)
  if (said.token !== undefined) response.setHeader('set-cookie', setCookie(name, said.token, whence.isSecure))
  send(response, said)
}

async function servePage(
  parts: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  whence: Whence,
): Promise<void> {
  if (request.method !== 'GET' && request.method !== 'HEAD') return send(response, refuse({ refused: 'not-allowed' }))
  // These would let a visitor tell Next who is here, or talk to its inner workings.
  for (const name of Object.keys(request.headers)) {
    if (name === SESSION_HEADER || name.startsWith('x-middleware-') || name === 'x-nonce') delete request.headers[name]
  }
  if (!url.pathname.startsWith('/_next/')) {
    const nonce = makeNonce()
    const policy = policyOf(nonce, parts.isDev)
    request.headers['content-security-policy'] = policy
    request.headers['x-nonce'] = nonce
    response.setHeader('content-security-policy', policy)
    const door = parts.open()?.door
    if (!door) {
      response.setHeader('retry-after', '5')
      return send(response, refuse({ refused: 'not-now' }))
    }
    const session = sessionOf(door, request, cookieName(parts.labId(), whence.isSecure))
    const waitMs = parts.rates.take('pages', session, whence.address)
    if (waitMs > 0) return slowDown(response, waitMs)
    request.headers[SESSION_HEADER] = headerOf({ ...door.me(session), build: parts.build })
  }
  await parts.pages.serve(request, response)
}

/** Said in words, since it stands where a page was asked for. */
function slowDown(response: ServerResponse, waitMs: number): void {
  const seconds = Math.ceil(waitMs / 1000)
  response.setHeader('content-security-policy', barePolicy)
  response.writeHead(429, {
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
    'retry-after': String(seconds),
  })
  response.end(
    `Too many pages were asked for from here. The next one can be had in ${seconds} s; nothing was changed.\n`,
  )
}

/** Said in words: whoever set up a name for the lab reads it in their browser. */
function misdirected(response: ServerResponse): void {
  response.setHeader('content-security-policy', barePolicy)
  response.writeHead(421, { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' })
  response.end('This lab does not go by that name. Whoever runs it can add it: npm start -- --hosts NAME\n')
}

function upgrade(parts: Parts, request: IncomingMessage, socket: Duplex, head: Buffer): void {
  const whence = whenceOf(request, parts.isProxy)
  const to = handOnTo(parts, request)
  if (to) {
    forwardUpgrade(to, request, socket, head, headersOn(request, whence, parts.isProxy))
    return
  }
  if (!isForUs(request, whence, parts.isProxy, parts.isHost)) {
    refuseUpgrade(socket, 421)
    return
  }
  if (parts.pages.upgrade(request, socket, head)) return
  const arrival = arrivalOf(parts, request, whence)
  if (typeof arrival === 'number') refuseUpgrade(socket, arrival)
  else parts.sockets.accept(request, socket, head, arrival)
}

/** Who comes for what, or the status that says why not. */
function arrivalOf(parts: Parts, request: IncomingMessage, whence: Whence): Arrival | number {
  const url = urlOf(request)
  const path = url && syncPathOf(url.pathname)
  if (!url || !path) return 404
  // A browser always says where a socket's page comes from; cookies alone would let any site open one.
  if (!isOwnOrigin(request, whence)) return 403
  const door = parts.open()?.door
  if (!door) return 503
  const session = sessionOf(door, request, cookieName(parts.labId(), whence.isSecure))
  if (parts.rates.take('sockets', session, whence.address) > 0) return 429
  const who = door.identify(session)
  return session && who ? { session, who, path, params: url.searchParams } : 401
}

function send(response: ServerResponse, { status, body }: Answer): void {
  const text = JSON.stringify(body)
  if (!response.hasHeader('content-security-policy')) response.setHeader('content-security-policy', barePolicy)
  response.writeHead(status, {
    'content-type': 'application/json; charset=utf-8',
    'content-length': Buffer.byteLength(text),
    'cache-control': 'no-store',
  })
  response.end(text)
}

function urlOf(request: IncomingMessage): URL | null {
  const path = request.url ?? ''
  // `//elsewhere` or a whole address would name a host of its own.
  if (!path.startsWith('/') || path.startsWith('//')) return null
  try {
    const url = new URL(path, 'http://lab')
    // Pages decode it, and would fault on what no letters stand behind.
    decodeURIComponent(url.pathname)
    return url
  } catch {
    return null
  }
}

/** JSON in the letters that a header may hold. */
const headerOf = (me: Me): string =>
  JSON.stringify(me).replace(/[^\x20-\x7e]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`)
