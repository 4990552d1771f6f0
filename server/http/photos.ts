// Photographs over HTTP, beside the small JSON calls: asking how much is here, sending the next piece, reading a picture.
//
//   GET /api/uploads/HASH?size=N            how much of it is here        PhotoAnswer
//   PUT /api/uploads/HASH?size=N&offset=M   the bytes from M on           PhotoAnswer
//   GET /api/photos/HASH?of=PIECE[&side=320|1600]   the picture, upright, without position or maker's notes, for whoever
//                                           may read a record of that piece that names it
import type { IncomingMessage, ServerResponse } from 'node:http'
import { pipeline } from 'node:stream/promises'
import { type PhotoAnswer, type PhotoRefusal, smallSides } from '#lib/words'
import type { Identity } from '../door/index.ts'
import type { PhotoStore, Upload } from '../photos/contract.ts'
import type { MayLook } from '../photos/looking.ts'
import { type Answer, refuse } from './api.ts'
import { barePolicy } from './headers.ts'

/** Which of the two a path asks for, and of which file; null for every other path. */
export function photoPathOf(pathname: string): { readonly what: 'uploads' | 'photos'; readonly hash: string } | null {
  const found = /^\/api\/(uploads|photos)\/([0-9a-f]{64})$/.exec(pathname)
  return found ? { what: found[1] as 'uploads' | 'photos', hash: found[2] as string } : null
}

const statuses: Partial<Record<PhotoRefusal, number>> = {
  'too-big': 413,
  'too-long': 413,
  'not-an-image': 415,
  'too-many-pixels': 422,
  damaged: 422,
  'wrong-hash': 422,
  'wrong-offset': 409,
  busy: 409,
  'too-many-open': 429,
  'too-much-today': 429,
}

const said = (body: PhotoAnswer): Answer => {
  if (body.state === 'refused') return { status: statuses[body.why] ?? 400, body }
  return { status: body.state === 'kept' ? 200 : 202, body }
}

/**
 * Takes what is sent of a photograph, or says how much is here. Only persons send, and not those who merely read; the
 * caller has judged origin and method.
 */
export async function answerUpload(
  store: PhotoStore,
  request: IncomingMessage,
  query: URLSearchParams,
  hash: string,
  who: Identity | null,
): Promise<Answer> {
  if (!who) return refuse({ refused: 'signed-out' })
  if (!who.personId || who.role === 'researcher') return refuse({ refused: 'not-allowed' })
  const upload: Upload = { hash, size: countOf(query.get('size')), personId: who.personId }
  if (request.method === 'GET') return said(await store.ask(upload))
  return said(await store.take(upload, countOf(query.get('offset')), request))
}

/** Sends a kept picture; answers null when it did, else why not. */
export async function sendPhoto(
  { store, mayLook }: { readonly store: PhotoStore; readonly mayLook: MayLook },
  request: IncomingMessage,
  response: ServerResponse,
  query: URLSearchParams,
  hash: string,
  who: Identity | null,
): Promise<Answer | null> {
  if (!who) return refuse({ refused: 'signed-out' })
  const asked = query.get('side')
  const side = smallSides.find((one) => String(one) === asked)
  if (asked !== null && side === undefined) return refuse({ refused: 'bad-request' })
  // Whether there is such a file is not told to whoever may not see it.
  if (!(await mayLook(who, query.get('of') ?? '', hash))) return refuse({ refused: 'not-found' })
  const bytes = side === undefined ? await store.outgoing(hash) : await store.small(hash, side)
  if (!bytes) return refuse({ refused: 'not-found' })
  const tag = `"${hash}.${side ?? 'out'}"`
  response.setHeader('content-security-policy', barePolicy)
  response.setHeader('etag', tag)
  // Content never changes under its name, but the next person at a shared tablet is asked for anew.
  response.setHeader('cache-control', 'private, no-cache')
  response.setHeader('vary', 'cookie')
  if (request.headers['if-none-match'] === tag) {
    response.writeHead(304)
    response.end()
    return null
  }
  response.writeHead(200, { 'content-type': `image/${bytes.form}`, 'content-length': bytes.size })
  await pipeline(bytes.stream(), response).catch(() => response.destroy())
  return null
}

/** A whole number of bytes; -1, which nothing takes, for anything else. */
const countOf = (text: string | null): number => (text !== null && /^\d{1,12}$/.test(text) ? Number(text) : -1)
