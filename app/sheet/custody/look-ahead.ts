// What a judgement would mean before it is kept: the dates of the piece before and after by the quick count, and the
// posted turns that would no longer be lawful.
import { chanceBy, finishWindow, paceOf } from '#lib/forecast'
import { asJudged, turnsThatFall } from '#lib/ops'
import type { RecordOf, Records } from '#lib/words'

type Judged = Parameters<typeof asJudged>[1]
export type Ahead = {
  readonly meant: RecordOf<'assessment'>['meant']
  /** Finish windows as spans; null where it cannot be told. */
  readonly before: readonly [string, string] | null
  readonly after: readonly [string, string] | null
  readonly turns: readonly RecordOf<'assignment'>[]
}

/** Looks ahead on the board of the moment. */
export function lookAhead(records: Records, judged: Judged, when: Parameters<typeof turnsThatFall>[2]): Ahead {
  const { pieceId } = judged
  const then = asJudged(records, judged, when.date)
  const [paceNow, paceThen] = [paceOf(records, when.date), paceOf(then, when.date)]
  const now = finishWindow(records, pieceId, when.date, paceNow)
  const next = finishWindow(then, pieceId, when.date, paceThen)
  const median = (one: typeof now) => (one.state === 'open' ? one.window.p50 : null)
  const span = (one: typeof now) => (one.state === 'open' ? ([one.window.p10, one.window.p90] as const) : null)
  const dues = [...records.due.values()].filter((due) => due.pieceId === pieceId && due.state === 'accepted')
  return {
    meant: dues.slice(0, 20).map((due) => ({
      dueId: due.id,
      date: due.date,
      before: chanceBy(records, pieceId, due.date, when.date, paceNow),
      after: chanceBy(then, pieceId, due.date, when.date, paceThen),
      medianBefore: median(now),
      medianAfter: median(next),
    })),
    before: span(now),
    after: span(next),
    turns: turnsThatFall(records, judged, when).flatMap((id) => records.assignment.get(id) ?? []),
  }
}
