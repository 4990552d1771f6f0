// A client as small as it can be and still be true: a Yjs copy of the document, an outbox of ops that stays through
// lost connections, and the rule of the epoch. It speaks y-protocols through that library, not through the server's code.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import * as awarenessProtocol from 'y-protocols/awareness'
import * as syncProtocol from 'y-protocols/sync'
import * as Y from 'yjs'
import { readAll } from '#lib/doc'
import { type Finding, type Records, ServerMessage, TALUS_FRAME } from '#lib/words'
import type { Lab, Session } from '../../server/labs.ts'
import type { FakeClock } from './fake-clock.ts'
import { fakeWire, type Wire } from './fake-socket.ts'

export interface FakeOp {
  readonly id: string
  readonly kind: string
}

export class FakeClient {
  readonly session: Session
  readonly place: string
  readonly #clock: FakeClock
  readonly #delayMs: () => number
  doc = new Y.Doc()
  awareness: awarenessProtocol.Awareness | null = null
  epoch = ''
  isSynced = false
  wire: Wire | null = null
  /** Ops without an answer, in the order they were made. */
  readonly outbox: FakeOp[] = []
  readonly kept = new Map<string, number>()
  readonly refused = new Map<string, readonly Finding[]>()
  /** Every message of ours that came. */
  readonly heard: ServerMessage[] = []
  /** Everything that came, byte for byte. */
  readonly bytes: Uint8Array[] = []
  closedWith: { code: number; reason: string } | null = null

  constructor(session: Session, place: string, clock: FakeClock, delayMs: () => number = () => 0) {
    this.session = session
    this.place = place
    this.#clock = clock
    this.#delayMs = delayMs
  }

  get isOpen(): boolean {
    return this.wire?.isOpen() ?? false
  }

  records(): Records {
    return readAll(this.doc)
  }

  /** Opens a connection; the outbox goes again. */
  connect(lab: Lab): void {
    const wire = fakeWire(this.#clock, this.#delayMs)
    this.wire = wire
    this.isSynced = false
    this.closedWith = null
    wire.client.onMessage = (frame) => {
      if (wire === this.wire) this.#hear(frame, lab)
    }
    wire.client.onClose = (code, reason) => {
      if (wire === this.wire) this.closedWith = { code, reason }
    }
    lab.connect(wire.server, this.session, this.place, { epoch: this.epoch })
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, 0)
    syncProtocol.writeSyncStep1(encoder, this.doc)
    wire.client.send(encoding.toUint8Array(encoder))
    if (this.outbox.length > 0 && this.place === 'board') this.#sendOps(this.outbox)
  }

  /** Makes an op: kept in the outbox, sent when there is a line. */
  act(op: FakeOp): void {
    this.outbox.push(op)
    if (this.isOpen) this.#sendOps([op])
  }

  /** Sends anything as one of our messages. */
  say(message: unknown): void {
    this.sendText(JSON.stringify(message))
  }

  sendText(text: string): void {
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, TALUS_FRAME)
    encoding.writeVarString(encoder, text)
    this.wire?.client.send(encoding.toUint8Array(encoder))
  }

  /** Sends a Yjs update, as the provider does for what is typed. */
  sendUpdate(update: Uint8Array): void {
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, 0)
    syncProtocol.writeUpdate(encoder, update)
    this.wire?.client.send(encoding.toUint8Array(encoder))
  }

  /** Says where it is, as the provider does. */
  look(state: Readonly<Record<string, unknown>> | null): void {
    if (!this.awareness) {
      this.awareness = new awarenessProtocol.Awareness(this.doc)
      // Its own timer would keep the test alive.
      clearInterval((this.awareness as unknown as { _checkInterval: NodeJS.Timeout })._checkInterval)
    }
    this.awareness.setLocalState(state)
    this.#sendAwareness([this.doc.clientID])
  }

  #sendAwareness(clients: number[]): void {
    if (!this.awareness) return
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, 1)
    encoding.writeVarUint8Array(encoder, awarenessProtocol.encodeAwarenessUpdate(this.awareness, clients))
    this.wire?.client.send(encoding.toUint8Array(encoder))
  }

  #sendOps(ops: readonly FakeOp[]): void {
    for (let from = 0; from < ops.length; from += 100) this.say({ type: 'ops', ops: ops.slice(from, from + 100) })
  }

  #hear(frame: Uint8Array, lab: Lab): void {
    this.bytes.push(frame)
    const decoder = decoding.createDecoder(frame)
    switch (decoding.readVarUint(decoder)) {
      case 0: {
        const encoder = encoding.createEncoder()
        encoding.writeVarUint(encoder, 0)
        const step = syncProtocol.readSyncMessage(decoder, encoder, this.doc, 'server')
        if (step === syncProtocol.messageYjsSyncStep2) this.isSynced = true
        if (encoding.length(encoder) > 1) this.wire?.client.send(encoding.toUint8Array(encoder))
        return
      }
      case 1: {
        const update = decoding.readVarUint8Array(decoder)
        if (this.awareness) awarenessProtocol.applyAwarenessUpdate(this.awareness, update, 'server')
        return
      }
      case TALUS_FRAME:
        this.#hearMessage(ServerMessage.parse(JSON.parse(decoding.readVarString(decoder))), lab)
        return
      default:
        throw new Error('A frame of no known type')
    }
  }

  #hearMessage(message: ServerMessage, lab: Lab): void {
    this.heard.push(message)
    if (message.type === 'kept')
      for (const { id, seq } of message.items) this.#answered(id, () => this.kept.set(id, seq))
    if (message.type === 'refused')
      for (const { id, findings } of message.items) this.#answered(id, () => this.refused.set(id, findings))
    if (message.type === 'hello' && this.epoch !== message.epoch) {
      const isFresh = this.epoch === '' && !this.isSynced
      this.epoch = message.epoch
      if (isFresh) return
      // Another birth of the document: the copy is dropped, the outbox stays.
      this.doc = new Y.Doc()
      this.wire?.client.close()
      this.connect(lab)
    }
  }

  #answered(id: string, note: () => void): void {
    note()
    const at = this.outbox.findIndex((op) => op.id === id)
    if (at >= 0) this.outbox.splice(at, 1)
  }
}
