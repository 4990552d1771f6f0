// The others: people of the lab who edit while it is under attack, and how long each edit takes to be seen by somebody
// else. Their records are their own, so that what stands there in the end must be what they wrote last.
import * as encoding from 'lib0/encoding'
import WebSocket from 'ws'
import * as Y from 'yjs'
import { makeId, type Random } from '#lib/base'
import { observe } from '#lib/doc'
import { type Caller, type LiveClient, openBoard } from '../kit/live-client.ts'

const EVERY_MS = 500

export interface Honest {
  /** Ids of the edits that were kept. */
  readonly kept: ReadonlyMap<string, string>
  /** Times from edit to seen since last asked, ms. */
  readonly takeSeen: () => number[]
  readonly recentIds: () => readonly string[]
  /** Ends editing; answers what is not as it was written. */
  readonly end: () => Promise<readonly string[]>
}

/** Starts `count` people editing the note of a jacket each. */
export async function editAll(url: string, callers: readonly Caller[], count: number, random: Random): Promise<Honest> {
  const boards = await Promise.all(
    Array.from({ length: count }, (_, n) => openBoard(url, callers[n % callers.length] as Caller)),
  )
  let watcher = boards[0] as LiveClient
  const pieces = [...watcher.records().jacket.keys()].slice(0, count)
  const under = new Map<string, number>()
  const wanted = new Map<string, string>()
  const kept = new Map<string, string>()
  const refused: string[] = []
  let seen: number[] = []
  const sending = new Set<Promise<unknown>>()
  let isRunning = true
  const watch = () => {
    observe(watcher.doc, (changes) => {
      for (const { kind, record } of changes) {
        const at = kind === 'jacket' && record ? under.get(record.note) : undefined
        if (at === undefined || kind !== 'jacket' || !record) continue
        seen.push(performance.now() - at)
        under.delete(record.note)
      }
    })
    // As every client does when the document was born again.
    void watcher.reborn.then(async () => {
      if (!isRunning) return
      watcher.close()
      watcher = await openBoard(url, callers[0] as Caller)
      watch()
    })
  }
  watch()
  const edit = (board: LiveClient, pieceId: string, n: number) => {
    const note = `${n} ${pieceId}`
    const id = makeId(Date.now(), () => random.below(32))
    under.set(note, performance.now())
    wanted.set(pieceId, note)
    const sent = board
      .act({ kind: 'editJacket', pieceId, patch: { note } } as never, id)
      .then((findings) => (findings === null ? kept.set(id, note) : refused.push(`${note}: ${findings[0]?.code}`)))
      .catch((error) => refused.push(`${note}: ${error}`))
      .finally(() => sending.delete(sent))
    sending.add(sent)
  }
  const loops = boards.slice(1).map(async (board, n) => {
    const pieceId = pieces[n + 1] ?? ''
    for (let i = 1; isRunning; i++) {
      await new Promise((next) => setTimeout(next, EVERY_MS * (0.8 + 0.4 * random.unit())))
      if (isRunning) edit(board, pieceId, i)
    }
  })
  return {
    kept,
    takeSeen: () => {
      const taken = seen
      seen = []
      return taken
    },
    recentIds: () => [...kept.keys()].slice(-50),
    async end() {
      isRunning = false
      await Promise.all(loops)
      await Promise.all(sending)
      const fresh = await openBoard(url, callers[0] as Caller)
      const wrong = [...wanted].flatMap(([pieceId, note]) =>
        fresh.records().jacket.get(pieceId as never)?.note === note ? [] : [`${pieceId} does not say ${note}`],
      )
      for (const board of [...boards, watcher, fresh]) board.close()
      return [...refused, ...wrong]
    },
  }
}

/** Types a text as somebody of the lab does; answers who stands in it how far, and a way to read it again. */
export async function typeText(url: string, { cookie }: Caller, piece: string, letters: string) {
  const open = async () => {
    const doc = new Y.Doc()
    const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/text/${piece}`, {
      headers: { cookie: cookie(), origin: url },
    })
    await new Promise((done, fail) => {
      socket.once('open', done)
      socket.once('error', fail)
    })
    const send = (step: number, bytes: Uint8Array) => {
      const encoder = encoding.createEncoder()
      encoding.writeVarUint(encoder, 0)
      encoding.writeVarUint(encoder, step)
      encoding.writeVarUint8Array(encoder, bytes)
      socket.send(encoding.toUint8Array(encoder))
    }
    const synced = new Promise<void>((done) => {
      socket.on('message', (data: Buffer) => {
        if (data[0] !== 0 || data[1] === 0) return
        // Step 2 or an update: the bytes behind two types and a length.
        let at = 2
        while ((data[at] ?? 0) >= 128) at++
        Y.applyUpdate(doc, data.subarray(at + 1))
        done()
      })
    })
    send(0, Y.encodeStateVector(doc))
    await synced
    return { doc, socket, send }
  }
  const writer = await open()
  writer.doc.getText('note').insert(0, letters)
  writer.send(2, Y.encodeStateAsUpdate(writer.doc))
  const read = async () => {
    const reader = await open()
    reader.socket.terminate()
    return {
      text: reader.doc.getText('note').toString(),
      authors: [...Y.decodeStateVector(Y.encodeStateVector(reader.doc))],
    }
  }
  for (let tries = 0; (await read()).text === '' && tries < 50; tries++)
    await new Promise((next) => setTimeout(next, 50))
  writer.socket.terminate()
  return { ...(await read()), read }
}
