// Answers that were given, remembered so that an op that comes again gets the same one. Receipts are everybody's, and
// older ones are found in the store; refusals are remembered here alone, each for its author.
import type { Who } from '#lib/ops'
import type { Finding } from '#lib/words'
import type { Receipt } from './store/contract.ts'

/** How an op ended. */
export type Answer =
  | { readonly ok: true; readonly seq: number; readonly at: string }
  | { readonly ok: false; readonly findings: readonly Finding[] }

const REMEMBERED_MAX = 20_000

export class Answers {
  readonly #answers = new Map<string, Answer>()

  /** The answer an op got, as far as it is remembered. */
  find(id: string, by: Who): Answer | undefined {
    return this.#answers.get(id) ?? this.#answers.get(refusalKey(id, by))
  }

  kept(receipts: readonly Receipt[]): void {
    for (const { opId, seq, at } of receipts) this.#remember(opId, { ok: true, seq, at })
  }

  refused(id: string, by: Who, findings: readonly Finding[]): Answer {
    const answer = { ok: false, findings } as const
    this.#remember(refusalKey(id, by), answer)
    return answer
  }

  #remember(key: string, answer: Answer): void {
    this.#answers.delete(key)
    this.#answers.set(key, answer)
    if (this.#answers.size <= REMEMBERED_MAX) return
    const oldest = this.#answers.keys().next()
    if (!oldest.done) this.#answers.delete(oldest.value)
  }
}

// A refusal may name what only its author may read. An id has no space in it, so no key can be taken for another.
const refusalKey = (id: string, by: Who): string => `${by.personId} ${id}`
