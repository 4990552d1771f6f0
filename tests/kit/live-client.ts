// Somebody at the built server without a browser: signs in over http, opens the board's socket, sends acts and waits for
// their answers. For tests of what only the real process can show; screens are tested in a real browser.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import WebSocket from 'ws'
import * as sync from 'y-protocols/sync'
import * as Y from 'yjs'
import { makeId } from '#lib/base'
import { readAll } from '#lib/doc'
import type { OpBody } from '#lib/ops'
import { type Finding, type PersonId, type Records, type Role, ServerMessage, TALUS_FRAME } from '#lib/words'
import { within } from './server.ts'

const SYNC = 0

/** An http client with a cookie of its own. */
export interface Caller {
  readonly get: (path: string) => Promise<{ readonly status: number; readonly body: unknown }>
  readonly post: (path: string, body: unknown) => Promise<{ readonly status: number; readonly body: unknown }>
  readonly cookie: () => string
}

/** A stranger at the server's door. */
export function caller(url: string): Caller {
  let cookie = ''
  const call = async (path: string, init: RequestInit) => {
    const headers = { ...init.headers, ...(cookie ? { cookie } : {}) }
    const response = await fetch(url + path, { ...init, headers })
    const set = response.headers.get('set-cookie')
    if (set) cookie = set.split(';')[0] ?? ''
    return { status: response.status, body: (await response.json()) as unknown }
  }
  return {
    get: (path) => call(path, {}),
    post: (path, body) =>
      call(path, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-talus': '1' },
        body: JSON.stringify(body),
      }),
    cookie: () => cookie,
  }
}

/** Everybody a visitor of the demo lab may be. */
export async function peopleOf(url: string): Promise<readonly { readonly id: PersonId; readonly role: Role }[]> {
  const { body } = await caller(url).get('/api/demo')
  return (body as { people: { id: PersonId; role: Role }[] }).people
}

/** A visitor of the demo lab who is this person. */
export async function signedIn(url: string, personId: string): Promise<Caller> {
  const visitor = caller(url)
  const { status } = await visitor.post('/api/demo', { personId })
  if (status !== 200) throw new Error(`Being ${personId} was answered ${status}`)
  return visitor
}

export interface LiveClient {
  /** The board as this client has it. */
  readonly records: () => Records
  /** Its copy, for whoever must know at once that something came. */
  readonly doc: Y.Doc
  /** Sends an act; what it is answered, null when it was kept. Fails when the connection ends first. */
  readonly act: (body: OpBody, id?: string) => Promise<readonly Finding[] | null>
  /** Resolves once the board `isSo`. */
  readonly until: (isSo: (records: Records) => boolean) => Promise<void>
  /** Every message of ours that came. */
  readonly heard: readonly ServerMessage[]
  /** Resolves when the document was born again: this copy stands still from here on. */
  readonly reborn: Promise<void>
  readonly ended: Promise<{ readonly code: number; readonly reason: string }>
  readonly close: () => void
}

/**
 * Opens the board for whoever the caller is; resolves when it is here. Fails when the connection ends first.
 * @param name the name and port it is asked under, where that is another than the address's
 */
export async function openBoard(
  url: string,
  { cookie }: Pick<Caller, 'cookie'>,
  name = new URL(url).host,
): Promise<LiveClient> {
  const doc = new Y.Doc()
  const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/board`, {
    headers: { cookie: cookie(), origin: `http://${name}`, host: name },
  })
  const heard: ServerMessage[] = []
  const waiting = new Map<string, { resolve: (found: readonly Finding[] | null) => void; reject: (e: Error) => void }>()

  let epoch: string | null = null
  let bearAgain = () => {}
  const reborn = new Promise<void>((done) => {
    bearAgain = done
  })
  const hear = (message: ServerMessage) => {
    heard.push(message)
    if (message.type === 'hello') {
      epoch ??= message.epoch
      if (message.epoch !== epoch) bearAgain()
    }
    if (message.type === 'kept') for (const { id } of message.items) waiting.get(id)?.resolve(null)
    if (message.type === 'refused') for (const { id, findings } of message.items) waiting.get(id)?.resolve(findings)
  }
  let isHere = () => {}
  const here = new Promise<void>((done) => {
    isHere = done
  })
  socket.on('message', (data: Buffer) => {
    const decoder = decoding.createDecoder(data)
    const type = decoding.readVarUint(decoder)
    if (type === TALUS_FRAME) hear(ServerMessage.parse(JSON.parse(decoding.readVarString(decoder))))
    if (type !== SYNC) return
    const answer = encoding.createEncoder()
    encoding.writeVarUint(answer, SYNC)
    if (sync.readSyncMessage(decoder, answer, doc, 'server') === sync.messageYjsSyncStep2) isHere()
    // Longer than its own head: there is something to say.
    if (encoding.length(answer) > 1) socket.send(encoding.toUint8Array(answer))
  })
  const ended = new Promise<{ code: number; reason: string }>((done) => {
    socket.on('close', (code, reason) => {
      for (const { reject } of waiting.values()) reject(new Error(`The connection ended with ${code}.`))
      done({ code, reason: String(reason) })
    })
  })
  socket.once('open', () => {
    const first = encoding.createEncoder()
    encoding.writeVarUint(first, SYNC)
    sync.writeSyncStep1(first, doc)
    socket.send(encoding.toUint8Array(first))
  })
  const endedFirst = new Promise<never>((_, fail) => {
    // Comes before the end, and says more: what the server answered instead of a board.
    socket.on('error', fail)
    void ended.then(({ code, reason }) => fail(new Error(`The connection ended with ${code} ${reason}`)))
  })
  try {
    await within(Promise.race([here, endedFirst]))
    if (readAll(doc).lab.size === 0) throw new Error('The board came without its lab.')
  } catch (error) {
    socket.terminate()
    throw error
  }

  return {
    records: () => readAll(doc),
    doc,
    act(body, id = makeId(Date.now(), () => Math.floor(Math.random() * 32))) {
      const encoder = encoding.createEncoder()
      encoding.writeVarUint(encoder, TALUS_FRAME)
      encoding.writeVarString(encoder, JSON.stringify({ type: 'ops', ops: [{ ...body, id }] }))
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject })
        socket.send(encoding.toUint8Array(encoder))
      })
    },
    until: (isSo) =>
      new Promise((done) => {
        const look = () => {
          if (!isSo(readAll(doc))) return
          doc.off('update', look)
          done()
        }
        doc.on('update', look)
        look()
      }),
    heard,
    reborn,
    ended,
    close: () => socket.terminate(),
  }
}

/** The board of the demo lab as this person has it. */
export async function boardAs(url: string, personId: string): Promise<LiveClient> {
  return openBoard(url, await signedIn(url, personId))
}

/** The board of the demo lab as one of its managers has it. */
export async function managersBoard(url: string): Promise<LiveClient> {
  const manager = (await peopleOf(url)).find(({ role }) => role === 'manager')
  return boardAs(url, manager?.id ?? '')
}
