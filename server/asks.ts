// Questions that are answered by computing: a draw-up, for one. The answer streams; whoever asked can stop it, and
// going away stops it too. What a question means is told by whoever answers it; here is only who asked and when to end.
import type { When, Who } from '#lib/ops'
import type { Records } from '#lib/words'
import type { Span, Spans } from './traces.ts'
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
  /** What the answering begins is within the question. */
  readonly spans?: Spans
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

/** What questions are answered with. */
interface BehindAsks {
  readonly asks: AskTable
  readonly log: Log
  readonly spans: Spans
}

/** The questions of one connection. */
export class Asks {
  readonly #running = new Map<string, AbortController>()
  readonly #behind: BehindAsks
  readonly #atOnce: number

  constructor(behind: BehindAsks, atOnce: number) {
    this.#behind = behind
    this.#atOnce = atOnce
  }

  /** Starts to answer; `say` gets each part, the last one with `done`. */
  start(
    { ask, what, body }: { ask: string; what: string; body: unknown },
    context: Omit<AskContext, 'signal' | 'spans'>,
    say: (body: unknown, done: boolean) => void,
  ): void {
    const { asks, spans } = this.#behind
    const asker = Object.hasOwn(asks, what) ? asks[what] : undefined
    // Of a question that is none, what it says may be anything.
    const span = spans.begin('ask', { 'talus.kind': asker ? what : 'unknown' })
    if (!asker || this.#running.has(ask) || this.#running.size >= this.#atOnce) {
      const refused = asker ? 'busy' : 'unknown'
      span.note({ 'talus.outcome': refused })
      span.end()
      say({ refused }, true)
      return
    }
    const abort = new AbortController()
    this.#running.set(ask, abort)
    const { signal } = abort
    void this.#run(ask, asker(body, { ...context, signal, spans: span }), { signal, span, say })
  }

  async #run(
    ask: string,
    answers: AsyncGenerator<unknown, unknown, void>,
    { signal, span, say }: { signal: AbortSignal; span: Span; say: (body: unknown, done: boolean) => void },
  ): Promise<void> {
    let outcome = 'stopped'
    try {
      for (;;) {
        const { value, done = false } = await answers.next()
        if (signal.aborted) return
        if (done) outcome = isRefusal(value) ? 'refused' : 'answered'
        say(value, done)
        if (done) return
      }
    } catch (error) {
      if (signal.aborted) return
      outcome = 'fault'
      this.#behind.log('error', `A question failed: ${error instanceof Error ? error.stack : String(error)}`)
      say({ refused: 'fault' }, true)
    } finally {
      this.#running.delete(ask)
      span.note({ 'talus.outcome': outcome })
      span.end(outcome === 'fault')
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

const isRefusal = (value: unknown): boolean => typeof value === 'object' && value !== null && 'refused' in value
