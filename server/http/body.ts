// Reads a request's JSON, small and in bounded time of ours: what is too long is cut off while it comes in.
import type { IncomingMessage } from 'node:http'

/** Longest body of a call, bytes. */
const BODY_MAX = 16_384

export type Body =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly why: 'too-much' | 'bad-request' | 'not-json' }

/** The parsed body. */
export async function readJson(request: IncomingMessage): Promise<Body> {
  if (Number(request.headers['content-length'] ?? 0) > BODY_MAX) return { ok: false, why: 'too-much' }
  if (!/^application\/json\b/i.test(request.headers['content-type'] ?? '')) return { ok: false, why: 'not-json' }
  const parts: Buffer[] = []
  let size = 0
  try {
    for await (const part of request) {
      const bytes = part as Buffer
      size += bytes.length
      if (size > BODY_MAX) return { ok: false, why: 'too-much' }
      parts.push(bytes)
    }
    return { ok: true, value: JSON.parse(Buffer.concat(parts).toString('utf8')) }
  } catch {
    return { ok: false, why: 'bad-request' }
  }
}
