// Pieces that lie in a bath, dry or cure are not offered for other work: a drawn line-up leaves them alone while their
// clock runs. No rule forbids it, and where somebody was seated at one by hand, that was decided.
import { minuteOf } from '#lib/base'
import { clocksRunning } from '#lib/rules'
import type { RecordOf } from '#lib/words'
import type { DayFrame } from './day-frame.ts'
import type { ProblemInput } from './problem.ts'

type Forbids = NonNullable<ProblemInput['forbids']>

/** What the day's line-up does not offer: the shifts of which a clock takes at least half, but for the clock's own step. */
export function underClocks(frame: DayFrame, pieces: ProblemInput['pieces']): Forbids {
  const stepsOf = new Map(pieces.map(({ id, steps }) => [id, steps.map((step) => step.id)]))
  const decided = new Set([...frame.kept, ...frame.fixed].map(({ pieceId, shiftId }) => `${pieceId} ${shiftId}`))
  return clocksRunning(frame.records).flatMap((clock) =>
    frame.shifts.flatMap(({ id: shift, start, end }): Forbids => {
      const steps = stepsOf.get(clock.pieceId)
      if (!steps || decided.has(`${clock.pieceId} ${shift}`)) return []
      const [from, to] = [minuteOf(start), minuteOf(end)]
      if (2 * minutesUnder(frame.date, clock, from, to) < to - from) return []
      return steps.filter((step) => step !== clock.stepId).map((step) => ({ shift, piece: clock.pieceId, step }))
    }),
  )
}

/** Minutes between two of a date in which the clock runs, by its planned end. */
function minutesUnder(date: string, { begun, ends }: RecordOf<'clock'>, from: number, to: number): number {
  if (begun.date > date || ends.date < date) return 0
  const first = begun.date < date ? from : Math.max(from, minuteOf(begun.time))
  const last = ends.date > date ? to : Math.min(to, minuteOf(ends.time))
  return Math.max(0, last - first)
}
