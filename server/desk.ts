// What beside the document happens on a board's socket: ops for the gate, questions to be computed, presence. Reads the
// messages; a message that is none ends the connection, with the reason.
import type { Who } from '#lib/ops'
import { ClientMessage, faceFor } from '#lib/words'
import type { Answer } from './answers.ts'
import { type AskContext, Asks, type AskTable } from './asks.ts'
import type { Presence, Present } from './presence.ts'
import { redact } from './redact.ts'
import type { Connection } from './sync/connection.ts'
import { readAwareness, type Said } from './sync/frames.ts'
import type { Limits } from './sync/limits.ts'
import type { Spans } from './traces.ts'
import type { Log } from './world.ts'

/** What a desk needs of its room. */
export interface Behind {
  readonly asks: AskTable
  readonly limits: Limits
  readonly log: Log
  readonly spans: Spans
  readonly presence: Presence
  /** Puts an op in line at the gate; false when it was not taken. */
  readonly submit: (op: unknown, who: () => Who | null, answer: (answer: Answer) => void) => boolean
  /** Who acts on this connection, as of now; null when they may not be heard any more. */
  readonly who: () => Who | null
  readonly nameOf: (personId: string) => string
  readonly askContext: (who: Who) => Omit<AskContext, 'signal' | 'spans'>
}

export class Desk {
  readonly #connection: Connection
  readonly #behind: Behind
  readonly #asks: Asks
  /** Null for the Wall, which is nobody. */
  readonly #present: Present | null

  constructor(connection: Connection, behind: Behind) {
    this.#connection = connection
    this.#behind = behind
    this.#asks = new Asks(behind, behind.limits.asksAtOnce)
    const { personId, role } = connection.visitor
    this.#present =
      personId === null
        ? null
        : {
            personId,
            name: () => behind.nameOf(personId),
            send: (frame) => connection.send(frame),
            isShown: faceFor(role, 'board') === 'crew',
          }
  }

  /** Comes into presence, as one who is shown the others. */
  join(): void {
    if (this.#present) this.#behind.presence.join(this.#present)
  }

  leave(): void {
    this.#asks.stopAll()
    if (this.#present) this.#behind.presence.leave(this.#present)
  }

  hear(said: Exclude<Said, { what: 'step 1' | 'update' }>): void {
    try {
      if (said.what === 'message') this.#hearMessage(parseMessage(said.text))
      else if (this.#present) this.#behind.presence.hear(this.#present, said.update)
      // The Wall is nobody anywhere; what it says must be sayable all the same.
      else readAwareness(said.update, 1)
    } catch (error) {
      if (said.what === 'message' && !(error instanceof BadMessage))
        this.#behind.log('error', `A message failed: ${error instanceof Error ? error.stack : error}`)
      this.#connection.end('bad-message')
    }
  }

  #hearMessage(message: ClientMessage): void {
    switch (message.type) {
      case 'ops':
        if (!message.ops.every((op) => this.#submit(op))) this.#connection.end('too-much')
        return
      case 'ask': {
        const who = this.#behind.who()
        if (!who) return
        const say = (body: unknown, done: boolean) =>
          this.#connection.say({ type: 'answer', ask: message.ask, body, done })
        this.#asks.start(message, this.#behind.askContext(who), say)
        return
      }
      case 'stop':
        this.#asks.stop(message.ask)
    }
  }

  #submit(op: unknown): boolean {
    const connection = this.#connection
    const id = nameOf(op)
    const answer = (given: Answer) => connection.answer(id, redact(given, connection.visitor.role))
    return connection.purse.ops.take(1) && this.#behind.submit(op, this.#behind.who, answer)
  }
}

class BadMessage extends Error {}

function parseMessage(text: string): ClientMessage {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    throw new BadMessage('not JSON')
  }
  const parsed = ClientMessage.safeParse(value)
  if (!parsed.success) throw new BadMessage('not a message')
  return parsed.data
}

/** What a refusal calls an op whose id is no id. */
function nameOf(op: unknown): string {
  const id = typeof op === 'object' && op !== null && 'id' in op ? op.id : ''
  return typeof id === 'string' ? id.slice(0, 100) : ''
}
