// Files that leave the house: who asks, and the bytes as they are made. A file that breaks off in the middle ends its
// connection, so that the browser calls it failed and nobody takes half of it for the whole.
import type { ServerResponse } from 'node:http'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { Identity } from '../door/index.ts'
import type { Outlets } from '../out/outlets.ts'
import type { Log } from '../world.ts'
import { type Answer, refuse } from './api.ts'
import { barePolicy } from './headers.ts'

/** The file that a path names; null for any other path. */
export const outPathOf = (path: string): string | null => /^\/api\/out\/([a-z0-9-]+\.[a-z]+)$/.exec(path)?.[1] ?? null

/** Sends the file; answers why not where it may not be sent. */
export async function sendOut(
  outlets: Outlets,
  response: ServerResponse,
  { name, origin, of }: { readonly name: string; readonly origin: string; readonly of: readonly string[] },
  who: Identity | null,
  log: Log,
): Promise<Answer | null> {
  if (!who) return refuse({ refused: 'signed-out' })
  const found = outlets(who, name, origin, of)
  if (found === null) return refuse({ refused: 'not-found' })
  if (found === 'not-allowed') return refuse({ refused: 'not-allowed' })
  response.writeHead(200, {
    'content-type': found.type,
    'content-disposition': `attachment; filename="${found.name}"`,
    'cache-control': 'no-store',
    'content-security-policy': barePolicy,
  })
  await pipeline(Readable.from(found.parts), response).catch((error: unknown) => {
    response.destroy()
    // Whoever asked may have gone away; that is nobody's fault.
    if (!response.closed || !isHangUp(error)) log('warn', 'a file broke off', { file: name, error: String(error) })
  })
  return null
}

const isHangUp = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ERR_STREAM_PREMATURE_CLOSE'
