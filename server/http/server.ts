// The one port: our own routes first (health, calls, the console's errands), then pages; sockets by upgrade. Everything
// that comes in is met here before any other code sees it: origin, size, method, and headers only the server may set.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { Duplex } from 'node:stream'
import { type Me, WRITE_HEADER } from '#lib/words'
import type { Door } from '../door/index.ts'
import { ShelfTrouble } from '../photos/contract.ts'
import { noTraces, type Span, type Traces } from '../traces.ts'
import type { Clock, Log } from '../world.ts'
import { type IsHost, type IsProxy, isForUs, isHandedOn, isOwnOrigin, type Whence, whenceOf } from './address.ts'
import { type Answer, calendarTokenOf, refuse, tooOften } from './api.ts'
import { readJson } from './body.ts'
import { cookieName, readCookie, setCookie } from './cookies.ts'
import { deviceKindOf } from './device-kind.ts'
import { forwardCall, forwardUpgrade, headersOn } from './forward.ts'
import { barePolicy, commonHeaders, makeNonce, policyOf } from './headers.ts'
import { misdirected, notNow, slowDown, unknownLab } from './in-words.ts'
import type { LabAtPort } from './lab-at-port.ts'
import { outPathOf, sendOut } from './out.ts'
import type { Pages } from './pages.ts'
import { answerUpload, photoPathOf, sendPhoto } from './photos.ts'
import { makeRates, type Rates } from './rates.ts'
import { type NoteRefusal, refusalsIn } from './refusals.ts'
import { spanOf } from './routes.ts'
import { type Arrival, refuseUpgrade, type Sockets, syncPathOf } from './sockets.ts'

/** Header by which pages learn who is here; from outside it is thrown away. */
const SESSION_HEADER = 'x-talus-session'

export interface HttpParts {
  readonly build: string
  readonly isDev: boolean
  readonly isProxy: IsProxy
  /** The lab that is asked for under a name of this machine; null where there is none of that name. */
  readonly labFor: (host: string) => Promise<LabAtPort | null>
  /** Names of this machine, under which the console asks. */
  readonly isOwnName: IsHost
  /** The console's errands under /console/: null when the request is not allowed or not known. */
  readonly errand: (request: IncomingMessage, path: string) => Promise<Answer | null>
  readonly isReady: () => boolean
  /** False while it is known that photographs can be neither kept nor shown. */
  readonly arePhotosWell: () => boolean
  readonly pages: Pages
  readonly sockets: Sockets
  readonly clock: Clock
  readonly log: Log
  readonly traces?: Traces
}

type Port = HttpParts & { readonly rates: Rates; readonly noteRefusal: NoteRefusal }
/** The port and the lab that one request is for. */
type Parts = Port & LabAtPort

/** The server, not yet listening. */
export function makeHttp(options: HttpParts): Server {
  const { traces = noTraces } = options
  const port: Port = { ...options, rates: makeRates(options.clock), noteRefusal: refusalsIn(options) }
  const server = createServer((request, response) => {
    response.on('error', () => response.destroy())
    const span = spanOf(traces, request, response)
    answer(port, request, response, span).catch((error: unknown) => {
      // One request dies of our bug; the server lives, and the log says of what.
      port.log('error', 'request failed', { path: pathForLog(request), error: String(error) })
      if (!response.headersSent) response.writeHead(500, { 'cache-control': 'no-store' })
      response.end()
    })
  })
  server.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    socket.on('error', () => socket.destroy())
    upgrade(port, request, socket, head).catch((error: unknown) => {
      port.log('error', 'upgrade failed', { path: pathForLog(request), error: String(error) })
      socket.destroy()
    })
  })
  // Slow senders of headers and bodies are cut off; see also body.ts.
  server.headersTimeout = 20_000
  server.requestTimeout = 60_000
  server.keepAliveTimeout = 20_000
  return server
}

async function answer(port: Port, request: IncomingMessage, response: ServerResponse, span: Span): Promise<void> {
  const whence = whenceOf(request, port.isProxy)
  const url = urlOf(request)
  const isOwn = url !== null && isOwnAffair(url.pathname)
  const lab = isOwn ? null : await labOf(port, whence)
  if (lab) {
    if (lab.name !== undefined) span.note({ 'talus.lab': lab.name })
    const over = lab.use()
    response.once('close', over)
    // Gone while its lab was being opened.
    if (response.destroyed) over()
  }
  const to = lab && url && handOnTo(lab, request)
  if (to) {
    const failed = () => send(response, refuse({ refused: 'not-now' }))
    return forwardCall(to, request, response, headersOn(request, whence, port.isProxy), failed)
  }
  for (const [name, value] of Object.entries(commonHeaders(whence.isSecure))) response.setHeader(name, value)
  if (!url || !whence.origin) return send(response, refuse({ refused: 'bad-request' }))
  if (isOwn) return answerForProcess(port, request, response, url.pathname, whence)
  if (!lab) return unknownLab(response)
  if (!isForUs(request, whence, port.isProxy, lab.isHost)) return misdirected(response)
  return answerFor({ ...port, ...lab }, request, response, url, whence)
}

async function answerFor(
  parts: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  whence: Whence,
): Promise<void> {
  const photo = photoPathOf(url.pathname)
  if (photo)
    return answerPhoto(parts, request, response, url, whence, photo).catch((error: unknown) => {
      if (!(error instanceof ShelfTrouble) || response.headersSent) throw error
      // What came of an upload stays here and goes on the shelf when it is asked after again.
      response.setHeader('connection', 'close')
      send(response, refuse({ refused: 'not-now' }))
    })
  const token = calendarTokenOf(url.pathname)
  if (token) return answerCalendar(parts, request, response, token)
  const file = outPathOf(url.pathname)
  if (file) return answerFile(parts, request, response, whence, { name: file, of: piecesIn(url) })
  if (url.pathname.startsWith('/api/')) return answerCall(parts, request, response, url, whence)
  return servePage(parts, request, response, url, whence)
}

/** These are answered by each process for itself, whichever lab is meant. */
const isOwnAffair = (path: string) => path === '/health' || path === '/ready' || path.startsWith('/console/')

async function answerForProcess(
  port: Port,
  request: IncomingMessage,
  response: ServerResponse,
  path: string,
  whence: Whence,
): Promise<void> {
  if (path === '/health') return send(response, { status: 200, body: { health: 'up', build: port.build } })
  if (path === '/ready') {
    const isReady = port.isReady()
    // Edits can be kept also while photographs cannot: no reason to send anybody elsewhere, but said.
    const body = { ready: isReady, photographs: port.arePhotosWell() }
    return send(response, { status: isReady ? 200 : 503, body })
  }
  if (!isForUs(request, whence, port.isProxy, port.isOwnName)) return misdirected(response)
  return send(response, (await port.errand(request, path)) ?? refuse({ refused: 'not-found' }))
}

/** The lab that a request is for, by the name it was asked under. */
const labOf = (port: Port, { origin }: Whence): Promise<LabAtPort | null> =>
  port.labFor(origin === null ? '' : new URL(origin).hostname)

/** Where a request goes that is not for this process; null when it is. */
function handOnTo({ open, elsewhere }: LabAtPort, request: IncomingMessage): string | null {
  if (isHandedOn(request) || open()) return null
  return elsewhere()
}

/** Who comes, by their cookie of this name. */
const sessionOf = (door: Door, request: IncomingMessage, cookie: string) =>
  door.sessionOf(readCookie(request.headers.cookie, cookie))

/** Another site's page can neither set this header nor hide where it comes from. */
const isOwnWrite = (request: IncomingMessage, whence: Whence) =>
  (request.headers.origin === undefined || isOwnOrigin(request, whence)) && request.headers[WRITE_HEADER] === '1'

async function answerPhoto(
  { open, labId, rates }: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  whence: Whence,
  { what, hash }: NonNullable<ReturnType<typeof photoPathOf>>,
): Promise<void> {
  const opened = open()
  if (!opened) return send(response, refuse({ refused: 'not-now' }))
  const { door, mayLook, photos } = opened
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
function answerCalendar({ open }: Parts, request: IncomingMessage, response: ServerResponse, token: string): void {
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

/** The pieces that an address names. */
const piecesIn = (url: URL): readonly string[] => (url.searchParams.get('ids') ?? '').split(',').filter(Boolean)

async function answerFile(
  { open, labId, log }: Parts,
  request: IncomingMessage,
  response: ServerResponse,
  whence: Whence,
  file: { readonly name: string; readonly of: readonly string[] },
): Promise<void> {
  const opened = open()
  if (!opened) return send(response, refuse({ refused: 'not-now' }))
  if (request.method !== 'GET') return send(response, refuse({ refused: 'not-allowed' }))
  const who = opened.door.identify(sessionOf(opened.door, request, cookieName(labId(), whence.isSecure)))
  const no = await sendOut(opened.outlets, response, { ...file, origin: whence.origin ?? '' }, who, log)
  if (no) send(response, no)
}

async function answerCall(
  { open, labId, noteRefusal }: Parts,
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
  const kind = deviceKindOf(request.headers['user-agent'])
  const call = { method, path: url.pathname, query: url.searchParams, body, session, kind, address, origin }
  const said = await opened.api(call)
  if (said.token !== undefined) response.setHeader('set-cookie', setCookie(name, said.token, whence.isSecure))
  const why = whyOf(said.body)
  // Paths that are none are without number.
  noteRefusal(why === 'not-found' ? '/api/…' : url.pathname, said.status, why)
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
    if (!door) return notNow(response)
    const session = sessionOf(door, request, cookieName(parts.labId(), whence.isSecure))
    const waitMs = parts.rates.take('pages', session, whence.address)
    if (waitMs > 0) return slowDown(response, waitMs)
    request.headers[SESSION_HEADER] = headerOf({ ...door.me(session), build: parts.build })
  }
  await parts.pages.serve(request, response)
}

async function upgrade(port: Port, request: IncomingMessage, socket: Duplex, head: Buffer): Promise<void> {
  const whence = whenceOf(request, port.isProxy)
  const lab = await labOf(port, whence)
  if (!lab) {
    refuseUpgrade(socket, 404)
    return
  }
  const over = lab.use()
  socket.once('close', over)
  // Gone while its lab was being opened.
  if (socket.destroyed) over()
  const to = urlOf(request) && handOnTo(lab, request)
  if (to) {
    forwardUpgrade(to, request, socket, head, headersOn(request, whence, port.isProxy))
    return
  }
  if (!isForUs(request, whence, port.isProxy, lab.isHost)) {
    refuseUpgrade(socket, 421)
    return
  }
  if (port.pages.upgrade(request, socket, head)) return
  const arrival = arrivalOf({ ...port, ...lab }, request, whence)
  if (typeof arrival === 'number') {
    port.noteRefusal('/sync/…', arrival, 'upgrade')
    refuseUpgrade(socket, arrival)
  } else port.sockets.accept(request, socket, head, arrival)
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
  if (!session || !who) return 401
  const arrival: Arrival = {
    session,
    who,
    path,
    params: url.searchParams,
    enter: (open) => parts.connect(open, arrival),
  }
  return arrival
}

function send(response: ServerResponse, { status, body }: Answer): void {
  const text = JSON.stringify(body)
  if (!response.hasHeader('content-security-policy')) response.setHeader('content-security-policy', barePolicy)
  response.writeHead(status, {
    'content-type': 'application/json; charset=utf-8',
    // Whoever opens an answer by its address gets a file and no page.
    'content-disposition': 'attachment; filename="talus.json"',
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

/** The code of an answer that says no. */
const whyOf = (body: unknown): string =>
  typeof body === 'object' && body !== null && 'refused' in body ? String(body.refused) : ''

/** What of a path may stand in the log: its further parts can be a secret, such as a calendar's, or what somebody typed. */
const pathForLog = (request: IncomingMessage): string =>
  (urlOf(request)?.pathname ?? '')
    .split('/')
    .slice(0, 4)
    .map((part, n) => (n < 3 && /^[a-z-]{0,20}$/.test(part) ? part : '…'))
    .join('/')

/** JSON in the letters that a header may hold. */
const headerOf = (me: Me): string =>
  JSON.stringify(me).replace(/[^\x20-\x7e]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`)
