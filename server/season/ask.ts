// The questions `season`, `helps` and `promise` as the room knows questions: who may ask, and what of the answer is for
// whom. Manager and preparators hear all. Volunteers hear what the board shows them anyway: dates and windows. A
// researcher hears of the pieces they follow or asked a date for, and nothing of people, load or other people's dates.
import { z } from 'zod'
import type { SeasonAnswer, SeasonRefused } from '#lib/season'
import { DueId, LocalDate, PieceId, type Records } from '#lib/words'
import { type Asker, type AskTable, streamed } from '../asks.ts'
import type { Result, Task } from './messages.ts'
import type { Seasons } from './seasons.ts'

const SeasonBody = z.strictObject({})
const HelpsBody = z.strictObject({ dueId: DueId })
const PromiseBody = z.strictObject({ pieceId: PieceId, date: LocalDate })

const parseTask: { readonly [W in Task['what']]: (body: unknown) => Task | null } = {
  season: (body) => (SeasonBody.safeParse(body).success ? { what: 'season' } : null),
  helps: (body) => {
    const { success, data } = HelpsBody.safeParse(body)
    return success ? { what: 'helps', dueId: data.dueId } : null
  },
  promise: (body) => {
    const { success, data } = PromiseBody.safeParse(body)
    return success ? { what: 'promise', pieceId: data.pieceId, date: data.date } : null
  },
}

/** The table of questions about the season. */
export function seasonAsks(seasons: Seasons): AskTable {
  const what = Object.keys(parseTask) as Task['what'][]
  return Object.fromEntries(what.map((one) => [one, askerOf(seasons, parseTask[one])]))
}

function askerOf(seasons: Seasons, parse: (body: unknown) => Task | null): Asker {
  const refuse = (refused: SeasonRefused['refused']): Result => ({ refused })
  return async function* (body, { who, when, look, signal, spans }) {
    const task = parse(body)
    if (task === null) return refuse('form')
    if (who.role === 'wall') return refuse('not-allowed')
    const { seq, records } = look()
    const own = who.role === 'researcher' ? piecesOf(records, who.personId) : null
    if (!mayAsk(who.role, task, own)) return refuse('not-allowed')
    const moment = { seq, date: when.date, minute: when.minute }
    const answers = streamed<Result>(signal, (tell) => seasons.start(records, task, moment, tell, spans))
    for (;;) {
      const { value, done } = await answers.next()
      if (value === null) return refuse('stopped')
      const seen = seenBy(who.role, own, value)
      if (done) return seen
      yield seen
    }
  }
}

function mayAsk(role: string, task: Task, own: ReadonlySet<string> | null): boolean {
  if (role === 'manager' || role === 'preparator') return true
  if (role === 'volunteer') return task.what === 'season'
  if (own === null) return false
  return task.what === 'season' || (task.what === 'promise' && own.has(task.pieceId))
}

/** Pieces a researcher waits for: followed, or with a date they asked for. */
function piecesOf(records: Records, personId: string): ReadonlySet<string> {
  const followed = [...records.watch.values()].filter((one) => one.personId === personId)
  const asked = [...records.due.values()].filter((one) => one.by === personId)
  return new Set([...followed, ...asked].map(({ pieceId }) => pieceId))
}

function seenBy(role: string, own: ReadonlySet<string> | null, answer: Result): Result {
  if (!('kind' in answer) || role === 'manager' || role === 'preparator') return answer
  if (answer.kind === 'season') return own === null ? forVolunteers(answer) : forResearchers(answer, own)
  // What other pieces would lose is between those who wait for them and the lab.
  return answer.kind === 'promise' ? { ...answer, others: [] } : { refused: 'not-allowed' }
}

const forVolunteers = (answer: SeasonAnswer): SeasonAnswer => ({
  ...answer,
  jackets: [],
  load: [],
  plan: [],
  assumed: { ...answer.assumed, renewals: [] },
})

function forResearchers(answer: SeasonAnswer, own: ReadonlySet<string>): SeasonAnswer {
  const isOwn = ({ pieceId }: { readonly pieceId: string }) => own.has(pieceId)
  return {
    ...forVolunteers(answer),
    dates: answer.dates.filter(isOwn),
    pieces: answer.pieces.filter(isOwn),
  }
}
