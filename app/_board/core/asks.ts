// Questions that the server answers by computing (draw up a day, search): one message out, answers streaming in until
// the last. A question that a lost connection left open is asked again on the next one; the answers are made from a
// seed, so asking twice gives the same.
import type { ClientMessage } from '#lib/words'
import type { Stop } from './cell.ts'

export type Answered = (body: unknown, isDone: boolean) => void
type Open = { readonly what: string; readonly body: unknown; readonly answered: Answered }

export class Asks {
  readonly #open = new Map<string, Open>()
  #send: ((message: ClientMessage) => boolean) | null = null

  /** A connection is there, or (null) is gone. */
  connect(send: ((message: ClientMessage) => boolean) | null): void {
    this.#send = send
    if (!send) return
    for (const [ask, { what, body }] of this.#open) send({ type: 'ask', ask, what, body })
  }

  /** Asks under a fresh id; stopping tells the server that nobody waits any more. */
  start(ask: string, what: string, body: unknown, answered: Answered): Stop {
    this.#open.set(ask, { what, body, answered })
    this.#send?.({ type: 'ask', ask, what, body })
    return () => {
      if (this.#open.delete(ask)) this.#send?.({ type: 'stop', ask })
    }
  }

  /** Nobody waits any more: the person changed. */
  clear(): void {
    this.#open.clear()
  }

  /** Takes one answer; answers to what nobody asks any more fall away. */
  answer(ask: string, body: unknown, isDone: boolean): void {
    const open = this.#open.get(ask)
    if (!open) return
    if (isDone) this.#open.delete(ask)
    open.answered(body, isDone)
  }
}
