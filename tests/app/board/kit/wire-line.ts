// The twin of the line over a WebSocket: the same promises (hello first, nothing synced before it, mends itself), over
// a wire without a network and a clock that a test moves. It speaks y-protocols through that library.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import {
  messageYjsSyncStep1,
  messageYjsSyncStep2,
  readSyncMessage,
  writeSyncStep1,
  writeUpdate,
} from 'y-protocols/sync'
import type * as Y from 'yjs'
import { readServerMessage, ServerMessage, TALUS_FRAME } from '#lib/words'
import type { Line, LineEvents, OpenLine } from '../../../../app/_board/core/ports.ts'
import type { Socket } from '../../../../server/sync/socket.ts'
import type { FakeClock } from '../../../kit/fake-clock.ts'
import { fakeWire, type Wire } from '../../../kit/fake-socket.ts'

export type WireNet = {
  readonly clock: FakeClock
  readonly delayMs: () => number
  /** Takes the server's end; false when nobody answers. */
  readonly dial: (socket: Socket, home: string, epoch: string) => boolean
  /** Wires that are open, so that a test can cut them. */
  readonly wires: Set<Wire>
  /** Every message of ours that a client sent, for tests that count. */
  readonly sent: { readonly home: string; readonly text: string }[]
  readonly onError: (error: unknown) => void
  /** What the server's hello has become by another version of it. */
  readonly asTold: (hello: ServerMessage) => unknown
}

const SYNC = 0
const BACKOFF_MS = 500

/** Opens lines over wires. */
export function wireLines(net: WireNet): OpenLine {
  return (home, doc, epoch, events) => {
    const line = new WireLine(net, home, doc, epoch, events)
    line.dial()
    return line
  }
}

class WireLine implements Line {
  readonly #net: WireNet
  readonly #home: string
  readonly #doc: Y.Doc
  readonly #events: LineEvents
  readonly #onUpdate: (update: Uint8Array, origin: unknown) => void
  #epoch: string
  #wire: Wire | null = null
  #isKnown = false
  #isSyncing = false
  #isSynced = false
  #isClosed = false
  #isFinal = false

  constructor(net: WireNet, home: string, doc: Y.Doc, epoch: string, events: LineEvents) {
    this.#net = net
    this.#home = home
    this.#doc = doc
    this.#epoch = epoch
    this.#events = events
    this.#onUpdate = (update, origin) => {
      if (origin === this) return
      this.#send((encoder) => {
        encoding.writeVarUint(encoder, SYNC)
        writeUpdate(encoder, update)
      })
    }
    doc.on('update', this.#onUpdate)
  }

  dial(): void {
    if (this.#isClosed || this.#wire) return
    const wire = fakeWire(this.#net.clock, this.#net.delayMs)
    this.#wire = wire
    this.#isKnown = false
    this.#isSyncing = false
    this.#isSynced = false
    wire.client.onMessage = (frame) => {
      if (wire !== this.#wire) return
      try {
        this.#hear(frame)
      } catch (error) {
        this.#net.onError(error)
      }
    }
    wire.client.onClose = (code) => {
      if (wire === this.#wire) this.#down(code)
    }
    if (!this.#net.dial(wire.server, this.#home, this.#epoch)) {
      // As with a browser's socket, trouble is told later, never from within the call.
      this.#net.clock.after(1, () => {
        if (wire === this.#wire) this.#down(1006)
      })
      return
    }
    this.#net.wires.add(wire)
    this.check()
  }

  send(message: Parameters<Line['send']>[0]): boolean {
    if (!this.#isKnown) return false
    const text = JSON.stringify(message)
    const isSent = this.#send((encoder) => {
      encoding.writeVarUint(encoder, TALUS_FRAME)
      encoding.writeVarString(encoder, text)
    })
    if (isSent) this.#net.sent.push({ home: this.#home, text })
    return isSent
  }

  here(): void {}

  check(): void {
    this.#send((encoder) => {
      encoding.writeVarUint(encoder, SYNC)
      writeSyncStep1(encoder, this.#doc)
    })
  }

  nudge(): void {
    if (this.#wire?.isOpen()) return
    this.#isFinal = false
    this.#wire = null
    this.dial()
  }

  close(): void {
    if (this.#isClosed) return
    this.#isClosed = true
    this.#doc.off('update', this.#onUpdate)
    this.#wire?.client.close()
    this.#wire = null
  }

  #send(write: (encoder: encoding.Encoder) => void): boolean {
    if (!this.#wire?.isOpen()) return false
    const encoder = encoding.createEncoder()
    write(encoder)
    this.#wire.client.send(encoding.toUint8Array(encoder))
    return true
  }

  #down(code: number): void {
    if (this.#wire) this.#net.wires.delete(this.#wire)
    this.#wire = null
    this.#isFinal = code >= 4400 && code < 4500
    this.#events.down(this.#isFinal)
    if (this.#isFinal) return
    this.#net.clock.after(BACKOFF_MS, () => {
      if (!this.#isFinal) this.dial()
    })
  }

  #hear(frame: Uint8Array): void {
    const decoder = decoding.createDecoder(frame)
    const type = decoding.readVarUint(decoder)
    if (type === TALUS_FRAME) {
      const said = ServerMessage.parse(JSON.parse(decoding.readVarString(decoder)))
      const message = readServerMessage(said.type === 'hello' ? this.#net.asTold(said) : said)
      if (!message) throw new Error('The server said what this client does not know')
      if (message.type !== 'hello') {
        this.#events.message(message)
        return
      }
      this.#isKnown = true
      this.#isSyncing = this.#events.message(message)
      if (this.#isSyncing) this.#epoch = message.epoch
      return
    }
    if (type !== SYNC || !this.#isSyncing || this.#isClosed) return
    const isAsking = decoding.peekVarUint(decoder) === messageYjsSyncStep1
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, SYNC)
    const step = readSyncMessage(decoder, encoder, this.#doc, this)
    if (encoding.length(encoder) > 1) this.#wire?.client.send(encoding.toUint8Array(encoder))
    if (step === messageYjsSyncStep2 && !this.#isSynced) {
      this.#isSynced = true
      this.#events.synced()
    }
    if (isAsking) this.#events.asked?.()
  }
}
