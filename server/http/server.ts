// The one port: what a process answers for itself (health, the console's errands), then the lab that is meant
// (answer-lab.ts); sockets by upgrade. Everything
// that comes in is met here before any other code sees it: origin, size, method, and headers only the server may set.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { Duplex } from 'node:stream'
import { noTraces, type Span, type Traces } from '../traces.ts'
import type { Clock, Log } from '../world.ts'
import { type IsHost, type IsProxy, isForUs, isHandedOn, isOwnOrigin, type Whence, whenceOf } from './address.ts'
import { answerLab, sessionOf } from './answer-lab.ts'
import { type Answer, refuse } from './api.ts'
import { cookieName } from './cookies.ts'
import { forwardCall, forwardUpgrade, headersOn } from './forward.ts'
import { commonHeaders } from './headers.ts'
import { misdirected, unknownLab } from './in-words.ts'
import type { LabAtPort } from './lab-at-port.ts'
import type { Pages } from './pages.ts'
import { putBack, takeOff } from './prefix.ts'
import { makeRates, type Rates } from './rates.ts'
import { type NoteRefusal, refusalsIn } from './refusals.ts'
import { spanOf } from './routes.ts'
import { sendJson } from './send-json.ts'
import { type Arrival, refuseUpgrade, type Sockets, syncPathOf } from './sockets.ts'

export interface HttpParts {
  readonly build: string
  readonly isDev: boolean
  /** Path below which all is asked for; '' for none. */
  readonly prefix: string
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

/** The server, not yet listening. */
export function makeHttp(options: HttpParts): Server {
  const { traces = noTraces } = options
  const port: Port = { ...options, rates: makeRates(options.clock), noteRefusal: refusalsIn(options) }
  const server = createServer((request, response) => {
    response.on('error', () => response.destroy())
    const isBelow = takeOff(request, port.prefix)
    const span = spanOf(traces, request, response)
    answer(port, request, response, span, isBelow).catch((error: unknown) => {
      // One request dies of our bug; the server lives, and the log says of what.
      port.log('error', 'request failed', { path: pathForLog(request), error: String(error) })
      if (!response.headersSent) response.writeHead(500, { 'cache-control': 'no-store' })
      response.end()
    })
  })
  server.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    socket.on('error', () => socket.destroy())
    if (!takeOff(request, port.prefix)) return refuseUpgrade(socket, 404)
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

async function answer(
  port: Port,
  request: IncomingMessage,
  response: ServerResponse,
  span: Span,
  isBelow: boolean,
): Promise<void> {
  const whence = whenceOf(request, port.isProxy)
  const url = urlOf(request)
  // Beside the path, where there is one: what is below it a proxy shows to the world.
  const isOwn = url !== null && isOwnAffair(url.pathname) && !(isBelow && port.prefix !== '')
  const lab = isOwn || !isBelow ? null : await labOf(port, whence)
  if (lab) {
    if (lab.name !== undefined) span.note({ 'talus.lab': lab.name })
    const over = lab.use()
    response.once('close', over)
    // Gone while its lab was being opened.
    if (response.destroyed) over()
  }
  const to = lab && url && handOnTo(lab, request)
  if (to) {
    const failed = () => sendJson(response, refuse({ refused: 'not-now' }))
    return forwardCall(whereTo(to, request, port), request, response, headersOn(request, whence, port.isProxy), failed)
  }
  for (const [name, value] of Object.entries(commonHeaders(whence.isSecure))) response.setHeader(name, value)
  if (!url || !whence.origin) return sendJson(response, refuse({ refused: 'bad-request' }))
  if (isOwn) return answerForProcess(port, request, response, url.pathname, whence)
  if (!lab) return unknownLab(response)
  if (!isForUs(request, whence, port.isProxy, lab.isHost)) return misdirected(response)
  return answerLab({ port, lab, request, response, url, whence: { ...whence, origin: whence.origin } })
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
  if (path === '/health') return sendJson(response, { status: 200, body: { health: 'up', build: port.build } })
  if (path === '/ready') {
    const isReady = port.isReady()
    // Edits can be kept also while photographs cannot: no reason to send anybody elsewhere, but said.
    const body = { ready: isReady, photographs: port.arePhotosWell() }
    return sendJson(response, { status: isReady ? 200 : 503, body })
  }
  if (!isForUs(request, whence, port.isProxy, port.isOwnName)) return misdirected(response)
  return sendJson(response, (await port.errand(request, path)) ?? refuse({ refused: 'not-found' }))
}

/** The lab that a request is for, by the name it was asked under. */
const labOf = (port: Port, { origin }: Whence): Promise<LabAtPort | null> =>
  port.labFor(origin === null ? '' : new URL(origin).hostname)

/** Where a request goes that is not for this process; null when it is. */
function handOnTo({ open, elsewhere }: LabAtPort, request: IncomingMessage): string | null {
  if (isHandedOn(request) || open()) return null
  return elsewhere()
}

/** The same request at another process. */
const whereTo = (to: string, { url }: IncomingMessage, { prefix }: Port): URL =>
  new URL(putBack(url ?? '/', prefix), to)

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
    forwardUpgrade(whereTo(to, request, port), request, socket, head, headersOn(request, whence, port.isProxy))
    return
  }
  if (!isForUs(request, whence, port.isProxy, lab.isHost)) {
    refuseUpgrade(socket, 421)
    return
  }
  if (port.pages.upgrade(request, socket, head)) return
  const arrival = arrivalOf(port, lab, request, whence)
  if (typeof arrival === 'number') {
    port.noteRefusal('/sync/…', arrival, 'upgrade')
    refuseUpgrade(socket, arrival)
  } else port.sockets.accept(request, socket, head, arrival)
}

/** Who comes for what, or the status that says why not. */
function arrivalOf(port: Port, lab: LabAtPort, request: IncomingMessage, whence: Whence): Arrival | number {
  const url = urlOf(request)
  const path = url && syncPathOf(url.pathname)
  if (!url || !path) return 404
  // A browser always says where a socket's page comes from; cookies alone would let any site open one.
  if (!isOwnOrigin(request, whence)) return 403
  const door = lab.open()?.door
  if (!door) return 503
  const session = sessionOf(door, request, cookieName(lab.labId(), whence.isSecure))
  if (port.rates.take('sockets', session, whence.address) > 0) return 429
  const who = door.identify(session)
  if (!session || !who) return 401
  const arrival: Arrival = {
    session,
    who,
    path,
    params: url.searchParams,
    enter: (open) => lab.connect(open, arrival),
  }
  return arrival
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

/** What of a path may stand in the log: its further parts can be a secret, such as a calendar's, or what somebody typed. */
const pathForLog = (request: IncomingMessage): string =>
  (urlOf(request)?.pathname ?? '')
    .split('/')
    .slice(0, 4)
    .map((part, n) => (n < 3 && /^[a-z-]{0,20}$/.test(part) ? part : '…'))
    .join('/')
