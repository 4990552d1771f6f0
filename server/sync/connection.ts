// One open socket: reads its frames, holds it to its limits, and writes to it. Knows nothing of what frames do; whoever
// opens it gives it a handler. Every fault of the other side ends here, as a reason and a close, never as an exception.
import type { Finding, Home, OpId, Role, ServerMessage } from '#lib/words'
import type { Clock } from '../world.ts'
import { type Frame, messageFrame, quietFrame, readFrame, type Said } from './frames.ts'
import type { Limits, Purse } from './limits.ts'
import { CLOSE, type Socket } from './socket.ts'

/** Where a connection leads: a document, or a text typed together. */
export type Place = Home | `text/${string}`

/** Who is at the other end; the role is the one they had when they came, changes end the connection. */
export interface Visitor {
  readonly sessionId: string
  /** Null for the Wall. */
  readonly personId: string | null
  readonly role: Role
}

type Bye = Extract<ServerMessage, { type: 'bye' }>['reason']

const closeCode: Readonly<Record<Bye, number>> = {
  'signed-out': CLOSE.signedOut,
  'role-changed': CLOSE.again,
  stopping: CLOSE.stopping,
  'bad-message': CLOSE.badMessage,
  'too-much': CLOSE.tooMuch,
}

/** A connection that was sent nothing for so long is sent a frame that says nothing. */
const QUIET_MS = 10_000
const FINDINGS_MAX = 100

export class Connection {
  readonly visitor: Visitor
  readonly place: Place
  readonly #socket: Socket
  readonly #clock: Clock
  readonly #limits: Limits
  readonly purse: Purse
  #handler: ((said: Said) => void) | null = null
  #early: Uint8Array[] = []
  #onEnd: () => void = () => {}
  #sentAt: number
  #kept: { id: OpId; seq: number; at: string }[] = []
  #refused: { id: string; findings: Finding[] }[] = []
  #isEnded = false

  constructor(
    socket: Socket,
    visitor: Visitor,
    place: Place,
    { clock, limits, purse }: { clock: Clock; limits: Limits; purse: Purse },
  ) {
    this.visitor = visitor
    this.place = place
    this.#socket = socket
    this.#clock = clock
    this.#limits = limits
    this.purse = purse
    this.#sentAt = clock.now()
    socket.onMessage((bytes) => this.#hear(bytes))
    socket.onClose(() => this.#ended())
  }

  get isEnded(): boolean {
    return this.#isEnded
  }

  /** Starts to handle frames, those first that came before. */
  handle(handler: (said: Said) => void): void {
    this.#handler = handler
    const early = this.#early
    this.#early = []
    for (const bytes of early) this.#read(bytes)
  }

  /** Called once, however it ends. */
  onEnd(listener: () => void): void {
    this.#onEnd = listener
    if (this.#isEnded) listener()
  }

  send(frame: Frame): void {
    if (this.#isEnded) return
    // A reader that does not read would have us hold the past for it; it comes again and takes the present whole.
    if (this.#socket.unsentBytes() > this.#limits.unsentBytesMax) {
      this.#socket.drop()
      this.#ended()
      return
    }
    this.#sentAt = this.#clock.now()
    this.#socket.send(frame)
  }

  say(message: ServerMessage): void {
    this.send(messageFrame(message))
  }

  /** Receipts and refusals of one batch travel in one frame each. */
  answer(
    id: string,
    answer: { ok: true; seq: number; at: string } | { ok: false; findings: readonly Finding[] },
  ): void {
    if (this.#isEnded) return
    if (this.#kept.length === 0 && this.#refused.length === 0) queueMicrotask(() => this.#sayAnswers())
    // What was kept had an id that is one.
    if (answer.ok) this.#kept.push({ id: id as OpId, seq: answer.seq, at: answer.at })
    else this.#refused.push({ id, findings: answer.findings.slice(0, FINDINGS_MAX) })
  }

  #sayAnswers(): void {
    const [kept, refused] = [this.#kept, this.#refused]
    this.#kept = []
    this.#refused = []
    if (kept.length > 0) this.say({ type: 'kept', items: kept })
    if (refused.length > 0) this.say({ type: 'refused', items: refused })
  }

  /** Keeps the client from giving up a connection on which nothing happens. */
  saySomething(): void {
    if (this.#clock.now() - this.#sentAt >= QUIET_MS) this.send(quietFrame)
  }

  /** Says why, and closes. */
  end(reason: Bye, code = closeCode[reason]): void {
    if (this.#isEnded) return
    this.#sayAnswers()
    this.say({ type: 'bye', reason })
    this.close(code, reason)
  }

  /** Closes without a word of ours. */
  close(code: number, reason: string): void {
    if (this.#isEnded) return
    this.#socket.close(code, reason)
    this.#ended()
  }

  #hear(bytes: Uint8Array): void {
    if (this.#isEnded) return
    const { frames, bytes: room } = this.purse
    if (bytes.length > this.#limits.frameBytesMax || !frames.take(1) || !room.take(bytes.length)) {
      this.end('too-much')
      return
    }
    if (this.#handler) this.#read(bytes)
    else if (this.#early.length < this.#limits.earlyFramesMax) this.#early.push(bytes)
    else this.end('too-much')
  }

  #read(bytes: Uint8Array): void {
    if (this.#isEnded || !this.#handler) return
    let said: Said
    try {
      said = readFrame(bytes)
    } catch {
      this.end('bad-message')
      return
    }
    this.#handler(said)
  }

  #ended(): void {
    if (this.#isEnded) return
    this.#isEnded = true
    this.#early = []
    this.#handler = null
    this.#onEnd()
  }
}
