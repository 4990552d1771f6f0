// Photographs on their way to the server: counted here in small parts, so that the screen goes on, and sent by pieces.
import { PhotoAnswer, WRITE_HEADER } from '#lib/words'
import { addressOf } from '../../_parts/address.ts'
import type { Uploads } from '../core/ports.ts'

/** Bytes counted at once: some milliseconds on a phone. The browser's own digest is missing where a lab has no https. */
const PART_BYTES = 256 * 1024
const WAIT_MS = 55_000

const path = (hash: string, query: string) => addressOf(`/api/uploads/${hash}?${query}`)

async function ask(address: string, init: RequestInit): Promise<PhotoAnswer | null> {
  try {
    const more = { credentials: 'same-origin', cache: 'no-store', signal: AbortSignal.timeout(WAIT_MS) } as const
    const response = await fetch(address, { ...init, ...more })
    const answer = PhotoAnswer.safeParse(await response.json())
    return answer.success ? answer.data : null
  } catch {
    // Out of reach; whoever asked asks again.
    return null
  }
}

/** What counts, fetched when a photograph is there to be sent: nobody else waits for it. */
async function loadCounting() {
  const [{ sha256 }, { bytesToHex }] = await Promise.all([
    import('@noble/hashes/sha2.js'),
    import('@noble/hashes/utils.js'),
  ])
  return { sha256, bytesToHex }
}

/** The server's door for photographs. */
export const uploads: Uploads = {
  hash: async (file) => {
    const counting = await loadCounting().catch(() => null)
    if (counting === null) return null
    const sum = counting.sha256.create()
    for (let at = 0; at < file.size; at += PART_BYTES)
      sum.update(new Uint8Array(await file.slice(at, at + PART_BYTES).arrayBuffer()))
    return counting.bytesToHex(sum.digest())
  },
  ask: (hash, size) => ask(path(hash, `size=${size}`), { method: 'GET' }),
  send: (hash, size, offset, piece) =>
    ask(path(hash, `size=${size}&offset=${offset}`), {
      method: 'PUT',
      headers: { [WRITE_HEADER]: '1' },
      body: piece,
    }),
}
