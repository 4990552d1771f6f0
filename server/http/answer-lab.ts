// What a lab answers once it is known to be meant: pictures, somebody's calendar, files, calls, pages. Who asks is read off
// the cookie here, once for all of them.
import type { IncomingMessage, ServerResponse } from 'node:http'
import { type DoorRefusal, type Me, WRITE_HEADER } from '#lib/words'
import type { Door, Identity, Session } from '../door/index.ts'
import { ShelfTrouble } from '../photos/contract.ts'
import type { Log } from '../world.ts'
import { isOwnOrigin, type Whence } from './address.ts'
import { calendarTokenOf, refuse, tooOften } from './api.ts'
import { readJson } from './body.ts'
import { cookieName, readCookie, setCookie } from './cookies.ts'
import { deviceKindOf } from './device-kind.ts'
import { barePolicy, makeNonce, policyOf } from './headers.ts'
import { notNow, slowDown } from './in-words.ts'
import type { LabAtPort } from './lab-at-port.ts'
import { outPathOf, sendOut } from './out.ts'
import type { Pages } from './pages.ts'
import { answerUpload, photoPathOf, sendPhoto } from './photos.ts'
import { putBack } from './prefix.ts'
import type { Rates } from './rates.ts'
import type { NoteRefusal } from './refusals.ts'
import { sendJson } from './send-json.ts'

/** Header by which pages learn who is here; from outside it is thrown away. */
const SESSION_HEADER = 'x-talus-session'

/** A request that is for a lab of this process. */
export interface Visit {
  readonly lab: LabAtPort
  readonly port: {
    readonly build: string
    readonly isDev: boolean
    readonly prefix: string
    readonly pages: Pages
    readonly rates: Rates
    readonly noteRefusal: NoteRefusal
    readonly log: Log
  }
  readonly request: IncomingMessage
  readonly response: ServerResponse
  readonly url: URL
  readonly whence: Whence & { readonly origin: string }
}

/** The same while the lab is open, with who asks. */
type Inside = Visit & {
  readonly opened: NonNullable<ReturnType<LabAtPort['open']>>
  readonly session: Session | null
  readonly who: Identity | null
}

/** Answers it. */
export async function answerLab(visit: Visit): Promise<void> {
  const { lab, request, response, url, whence } = visit
  if (!url.pathname.startsWith('/api/')) return servePage(visit)
  const opened = lab.open()
  if (!opened) return no(visit, 'not-now')
  const token = calendarTokenOf(url.pathname)
  if (token) return answerCalendar(visit, opened.calendar, token)
  const session = sessionOf(opened.door, request, cookieName(lab.labId(), whence.isSecure))
  const inside: Inside = { ...visit, opened, session, who: opened.door.identify(session) }
  const photo = photoPathOf(url.pathname)
  if (photo)
    return answerPhoto(inside, photo).catch((error: unknown) => {
      if (!(error instanceof ShelfTrouble) || response.headersSent) throw error
      // What came of an upload stays here and goes on the shelf when it is asked after again.
      response.setHeader('connection', 'close')
      no(visit, 'not-now')
    })
  const file = outPathOf(url.pathname)
  return file ? answerFile(inside, file) : answerCall(inside)
}

/** Who comes, by their cookie of this name. */
export const sessionOf = (door: Door, request: IncomingMessage, cookie: string): Session | null =>
  door.sessionOf(readCookie(request.headers.cookie, cookie))

const no = ({ response }: Visit, refused: DoorRefusal['refused']): void => sendJson(response, refuse({ refused }))

/** Another site's page can neither set this header nor hide where it comes from. */
const isOwnWrite = ({ request, whence }: Visit): boolean =>
  (request.headers.origin === undefined || isOwnOrigin(request, whence)) && request.headers[WRITE_HEADER] === '1'

async function answerPhoto(inside: Inside, { what, hash }: NonNullable<ReturnType<typeof photoPathOf>>): Promise<void> {
  const { port, opened, request, response, url, whence, session, who } = inside
  const { mayLook, photos } = opened
  const waitMs = port.rates.take('pictures', session, whence.address)
  if (waitMs > 0) {
    response.setHeader('connection', 'close')
    return sendJson(response, tooOften(waitMs))
  }
  if (request.method === 'GET' && what === 'photos') {
    const refusal = await sendPhoto({ store: photos, mayLook }, request, response, url.searchParams, hash, who)
    if (refusal) sendJson(response, refusal)
    return
  }
  const isSending = request.method === 'PUT' && what === 'uploads' && isOwnWrite(inside)
  if (!isSending && !(request.method === 'GET' && what === 'uploads')) {
    response.setHeader('connection', 'close')
    return no(inside, 'not-allowed')
  }
  const answer = await answerUpload(photos, request, url.searchParams, hash, who)
  // What was refused half-way is not listened to any further.
  if (isSending && answer.status >= 400) response.setHeader('connection', 'close')
  sendJson(response, answer)
}

/** A calendar program has no cookie: the address alone says whose it is. */
function answerCalendar(visit: Visit, calendar: Inside['opened']['calendar'], token: string): void {
  const { request, response } = visit
  const isAsked = request.method === 'GET' || request.method === 'HEAD'
  const text = isAsked ? calendar(token) : null
  if (text === null) {
    no(visit, 'not-found')
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

async function answerFile(inside: Inside, name: string): Promise<void> {
  const { port, opened, request, response, url, whence, who } = inside
  if (request.method !== 'GET') return no(inside, 'not-allowed')
  const of = (url.searchParams.get('ids') ?? '').split(',').filter(Boolean)
  const origin = whence.origin + port.prefix
  const refusal = await sendOut(opened.outlets, response, { name, of, origin }, who, port.log)
  if (refusal) sendJson(response, refusal)
}

async function answerCall(inside: Inside): Promise<void> {
  const { lab, port, opened, request, response, url, whence, session } = inside
  const method = request.method ?? 'GET'
  let body: unknown = null
  if (method !== 'GET') {
    if (!isOwnWrite(inside)) return no(inside, 'not-allowed')
    const read = await readJson(request)
    if (!read.ok) {
      response.setHeader('connection', 'close')
      return no(inside, read.why)
    }
    body = read.value
  }
  const said = await opened.api({
    ...{ method, path: url.pathname, query: url.searchParams, body, session },
    kind: deviceKindOf(request.headers['user-agent']),
    address: whence.address,
    origin: whence.origin + port.prefix,
  })
  if (said.token !== undefined)
    response.setHeader('set-cookie', setCookie(cookieName(lab.labId(), whence.isSecure), said.token, whence.isSecure))
  const why = whyOf(said.body)
  // Paths that are none are without number.
  port.noteRefusal(why === 'not-found' ? '/api/…' : url.pathname, said.status, why)
  sendJson(response, said)
}

async function servePage(visit: Visit): Promise<void> {
  const { lab, port, request, response, url, whence } = visit
  if (request.method !== 'GET' && request.method !== 'HEAD') return no(visit, 'not-allowed')
  // These would let a visitor tell Next who is here, or talk to its inner workings.
  for (const name of Object.keys(request.headers)) {
    if (name === SESSION_HEADER || name.startsWith('x-middleware-') || name === 'x-nonce') delete request.headers[name]
  }
  if (!url.pathname.startsWith('/_next/')) {
    const nonce = makeNonce()
    const policy = policyOf(nonce, port.isDev)
    request.headers['content-security-policy'] = policy
    request.headers['x-nonce'] = nonce
    response.setHeader('content-security-policy', policy)
    const door = lab.open()?.door
    if (!door) return notNow(response)
    const session = sessionOf(door, request, cookieName(lab.labId(), whence.isSecure))
    const waitMs = port.rates.take('pages', session, whence.address)
    if (waitMs > 0) return slowDown(response, waitMs)
    request.headers[SESSION_HEADER] = headerOf({ ...door.me(session), build: port.build })
  }
  request.url = putBack(request.url ?? '/', port.prefix)
  await port.pages.serve(request, response)
}

/** The code of an answer that says no. */
const whyOf = (body: unknown): string =>
  typeof body === 'object' && body !== null && 'refused' in body ? String(body.refused) : ''

/** JSON in the letters that a header may hold. */
const headerOf = (me: Me): string =>
  JSON.stringify(me).replace(/[^\x20-\x7e]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`)
