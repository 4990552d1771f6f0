// The server's door for files, in memory: pieces stay when the network is lost, as the real one keeps them.
import { createHash } from 'node:crypto'
import type { PhotoRefusal } from '#lib/words'
import type { Uploads } from '../../../../app/_board/core/ports.ts'

/** A door without anybody behind it. */
export const noUploads: Uploads = { hash: async () => '', ask: async () => null, send: async () => null }

/** Where nothing is lost on the way but what `loseAfterBytes` says. */
export function fakeUploads() {
  const here = new Map<string, Uint8Array>()
  const facts = {
    sentBytes: 0,
    refuses: null as PhotoRefusal | null,
    loseAfterBytes: Number.POSITIVE_INFINITY,
    /** What counts a file can be fetched. */
    isCounting: true,
  }
  const bytesOf = async (blob: Blob) => new Uint8Array(await blob.arrayBuffer())
  const answer = (hash: string, size: number) => {
    if (facts.refuses !== null) return { state: 'refused', why: facts.refuses } as const
    const offset = here.get(hash)?.length ?? 0
    if (offset < size) return { state: 'coming', offset } as const
    return { state: 'kept', photo: { hash, size, form: 'jpeg', widthPx: 40, heightPx: 30 } } as const
  }
  const uploads: Uploads = {
    hash: async (file) =>
      facts.isCounting
        ? createHash('sha256')
            .update(await bytesOf(file))
            .digest('hex')
        : null,
    ask: async (hash, size) => answer(hash, size),
    send: async (hash, size, offset, piece) => {
      const before = here.get(hash) ?? new Uint8Array()
      if (offset !== before.length) return { state: 'refused', why: 'wrong-offset', offset: before.length }
      const bytes = await bytesOf(piece)
      facts.sentBytes += bytes.length
      here.set(hash, new Uint8Array([...before, ...bytes]))
      // It came, and nobody heard the answer.
      return facts.sentBytes > facts.loseAfterBytes ? null : answer(hash, size)
    },
  }
  return { uploads, facts }
}
