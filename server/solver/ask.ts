// The questions `drawUp` and `whatIf` as the room knows questions: who may ask, what the answers look like, and when
// they end.
import { mayReadSafety } from '#lib/rules'
import { type Asker, type AskTable, streamed } from '../asks.ts'
import { discreet } from './discreet.ts'
import type { Task } from './messages.ts'
import { type Answer, parseTask, type Refused, type Solver } from './solver.ts'

/** Answers what is computed to those who may hold and move work. */
export function solverAsks(solver: Solver): AskTable {
  const what = Object.keys(parseTask) as Task['what'][]
  return Object.fromEntries(what.map((one) => [one, askerOf(solver, parseTask[one])]))
}

function askerOf(solver: Solver, parse: (body: unknown) => Task | null): Asker {
  const refuse = (refused: Refused['refused']): Answer => ({ refused })
  return async function* (body, { who, when, look, signal, spans }) {
    if (who.role !== 'manager' && who.role !== 'preparator') {
      return refuse('not-allowed')
    }
    const task = parse(body)
    if (task === null) {
      return refuse('form')
    }
    const { seq, records } = look()
    const mayReadAll = mayReadSafety(records, who.personId)
    const moment = { seq, date: when.date, minute: when.minute }
    const last = yield* streamed<Answer>(signal, (tell) =>
      solver.start(
        records,
        task,
        moment,
        (answer, isLast) => tell(mayReadAll ? answer : discreet(records, who.personId, answer), isLast),
        spans,
      ),
    )
    return last ?? refuse('stopped')
  }
}
