// The question `drawUp` as the room knows questions: who may ask, what the answers look like, and when they end.
import type { Asker } from '../asks.ts'
import { DrawUp, type DrawUpAnswer, type Solver } from './solver.ts'

/** Answers `drawUp` to those who may hold and move work. */
export function drawUpAsker(solver: Solver): Asker {
  const refuse = (refused: 'not-allowed' | 'form' | 'stopped'): DrawUpAnswer => ({ refused })
  return async function* (body, { who, when, seq, records, signal }) {
    if (who.role !== 'manager' && who.role !== 'preparator') {
      return refuse('not-allowed')
    }
    const asked = DrawUp.safeParse(body)
    if (!asked.success) {
      return refuse('form')
    }
    const answers: { readonly answer: DrawUpAnswer; readonly isLast: boolean }[] = []
    let wake = () => {}
    const stop = solver.drawUp(records, asked.data, { seq, date: when.date, minute: when.minute }, (answer, isLast) => {
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
    return refuse('stopped')
  }
}
