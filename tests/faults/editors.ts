// People who edit through whatever happens to their line: each keeps what it wrote until the server has answered it, comes
// again by itself, and sends it under the same id. What was told kept must be there in the end, once.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import WebSocket from 'ws'
import { makeId, type Random } from '#lib/base'
import { type ServerMessage, TALUS_FRAME } from '#lib/words'

const AGAIN_MS = 100

export interface Told {
  readonly kept: Map<string, { readonly pieceId: string; readonly note: string }>
  /** Refusals; nobody else edits these notes, so there must be none. */
  readonly refused: string[]
  /** What the server said of its state. */
  readonly states: string[]
}

export class Editor {
  readonly cookie: string
  readonly #pieceId: string
  readonly #random: Random
  readonly #told: Told
  readonly #outbox = new Map<string, string>()
  #url = ''
  #socket: WebSocket | null = null
  #isOn = false
  #n = 0

  constructor(cookie: string, pieceId: string, random: Random, told: Told) {
    this.cookie = cookie
    this.#pieceId = pieceId
    this.#random = random
    this.#told = told
  }

  get waiting(): number {
    return this.#outbox.size
  }

  /** Comes to this address, and again whenever the line ends; `origin` is the server's own. */
  open(url: string, origin = url): void {
    this.#url = url
    this.#isOn = true
    const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/board`, {
      headers: { cookie: this.cookie, origin, host: new URL(origin).host },
    })
    this.#socket = socket
    socket.on('error', () => {})
    socket.on('message', (data: Buffer) => this.#hear(data))
    socket.on('close', () => {
      if (this.#isOn && this.#socket === socket) setTimeout(() => this.#isOn && this.open(this.#url, origin), AGAIN_MS)
    })
  }

  close(): void {
    this.#isOn = false
    this.#socket?.terminate()
  }

  edit(words = ''): void {
    const id = makeId(Date.now(), () => this.#random.below(32))
    this.#outbox.set(id, `${++this.#n} ${this.#pieceId} ${words}`)
    this.#send([id])
  }

  #send(ids: readonly string[]): void {
    if (this.#socket?.readyState !== WebSocket.OPEN) return
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, TALUS_FRAME)
    const ops = ids.map((id) => ({
      id,
      kind: 'editJacket',
      pieceId: this.#pieceId,
      patch: { note: this.#outbox.get(id) },
    }))
    encoding.writeVarString(encoder, JSON.stringify({ type: 'ops', ops }))
    this.#socket.send(encoding.toUint8Array(encoder))
  }

  #hear(data: Buffer): void {
    const decoder = decoding.createDecoder(data)
    if (decoding.readVarUint(decoder) !== TALUS_FRAME) return
    const message = JSON.parse(decoding.readVarString(decoder)) as ServerMessage
    if (message.type === 'hello' && this.#outbox.size > 0) this.#send([...this.#outbox.keys()].slice(0, 100))
    if (message.type === 'state') this.#told.states.push(message.state)
    if (message.type === 'kept')
      for (const { id } of message.items) {
        const note = this.#outbox.get(id)
        if (note !== undefined) this.#told.kept.set(id, { pieceId: this.#pieceId, note })
        this.#outbox.delete(id)
      }
    if (message.type === 'refused')
      for (const { id, findings } of message.items) {
        this.#told.refused.push(`${id}: ${findings[0]?.code}`)
        this.#outbox.delete(id)
      }
  }
}
