// Questions that are answered by computing: a draw-up, for one. The answer streams; whoever asked can stop it, and
// going away stops it too. What a question means is told by whoever answers it; here is only who asked and when to end.
import type { When, Who } from '#lib/ops'
import type { Records } from '#lib/words'
import type { Log } from './world.ts'

/** The records of one moment. */
interface Look {
  readonly seq: number
  readonly records: Records
}

/** What an asker may know. */
export interface AskContext {
  readonly who: Who
  readonly when: When
  /**
   * The records as they stand now, and their durable position: a copy that stays as it is, made when first asked for, so
   * that a question which is none, or not for its asker, costs nobody a copy of the whole lab.
   */
  readonly look: () => Look
  /** Aborted when the question was taken back. */
  readonly signal: AbortSignal
}

/**
 * Answers one kind of question, by `what`; judges for itself whether this person may ask. What it yields is told as it
 * comes, what it returns is the end of the answer.
 */
export type Asker = (body: unknown, context: AskContext) => AsyncGenerator<unknown, unknown, void>

export type AskTable = Readonly<Record<string, Asker>>

/**
 * An answer that is told by calls, as one that is yielded: `start` begins it and gives what stops it. Null when it was
 * stopped before its end.
 */
export async function* streamed<T>(
  signal: AbortSignal,
  start: (tell: (answer: T, isLast: boolean) => void) => () => void,
): AsyncGenerator<T, T | null, void> {
  const answers: { readonly answer: T; readonly isLast: boolean }[] = []
  let wake = () => {}
  const stop = start((answer, isLast) => {
    answers.push({ answer, isLast })
    wake()
  })
  const end = () => {
    stop()
    wake()
  }
  signal.addEventListener('abort', end)
  try {
    while (!signal.aborted) {
      const next = answers.shift()
      if (next) {
        if (next.isLast) return next.answer
        yield next.answer
      } else {
        await new Promise<void>((resolve) => {
          wake = resolve
        })
      }
    }
  } finally {
    signal.removeEventListener('abort', end)
    stop()
  }
  return null
}

/** The questions of one connection. */
export class Asks {
  readonly #running = new Map<string, AbortController>()
  readonly #table: AskTable
  readonly #atOnce: number
  readonly #log: Log

  constructor(table: AskTable, atOnce: number, log: Log) {
    this.#table = table
    this.#atOnce = atOnce
    this.#log = log
  }

  /** Starts to answer; `say` gets each part, the last one with `done`. */
  start(
    { ask, what, body }: { ask: string; what: string; body: unknown },
    context: Omit<AskContext, 'signal'>,
    say: (body: unknown, done: boolean) => void,
  ): void {
    const asker = Object.hasOwn(this.#table, what) ? this.#table[what] : undefined
    if (!asker || this.#running.has(ask) || this.#running.size >= this.#atOnce) {
      say({ refused: asker ? 'busy' : 'unknown' }, true)
      return
    }
    const abort = new AbortController()
    this.#running.set(ask, abort)
    void this.#run(ask, asker(body, { ...context, signal: abort.signal }), abort.signal, say)
  }

  async #run(
    ask: string,
    answers: AsyncGenerator<unknown, unknown, void>,
    signal: AbortSignal,
    say: (body: unknown, done: boolean) => void,
  ): Promise<void> {
    try {
      for (;;) {
        const { value, done = false } = await answers.next()
        if (signal.aborted) return
        say(value, done)
        if (done) return
      }
    } catch (error) {
      if (signal.aborted) return
      this.#log('error', `A question failed: ${error instanceof Error ? error.stack : String(error)}`)
      say({ refused: 'fault' }, true)
    } finally {
      this.#running.delete(ask)
    }
  }

  stop(ask: string): void {
    this.#running.get(ask)?.abort()
    this.#running.delete(ask)
  }

  stopAll(): void {
    for (const abort of this.#running.values()) abort.abort()
    this.#running.clear()
  }
}
