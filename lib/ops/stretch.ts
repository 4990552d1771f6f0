// What a finished stretch of work does to the records: the work is finished, a log is added, the step's hours and
// hands and the year's tally grow. The same arithmetic serves finish, the server's closing of what was forgotten, and
// corrections, which add the difference.
import { type Change, type Log, type PersonId, put, type Records, type StepId, type Work } from '#lib/words'

/** People remembered on a step: the record's own bound. */
const HANDS_MAX = 60

/** Minutes at the bench until an instant: finished stretches and the present one. */
export function minutesUntil(work: Readonly<Work>, atMs: number): number {
  const running = work.since === null ? 0 : Math.max(0, Math.round((atMs - Date.parse(work.since)) / 60_000))
  return work.minutes + running
}

/** The log of a work, finished at an instant. */
export function logOf(
  work: Readonly<Work>,
  told: Pick<Log, 'id' | 'finishedAt' | 'minutes' | 'runningMinutes' | 'note' | 'movedRock' | 'jar' | 'despite'>,
): Log {
  const { pieceId, stepId, personId, placeId, techniqueId, date, shiftId, startedAt } = work
  return { ...told, pieceId, stepId, personId, placeId, techniqueId, date, shiftId, startedAt, corrects: null }
}

/** Work finished with the minutes told. */
export function finishedWork(work: Readonly<Work>, minutes: number, runningMinutes: number): Change {
  return put('work', { ...work, state: 'finished', since: null, minutes, runningMinutes })
}

/** A step with `minutes` more (or fewer) by a person; unchanged when the step is no longer on the board. */
export function stepWith(
  records: Records,
  stepId: StepId,
  personId: PersonId,
  minutes: number,
  isDone: boolean | null,
): readonly Change[] {
  const step = records.step.get(stepId)
  if (!step) return []
  const own = step.by.find((one) => one.personId === personId)
  const mine = Math.max(0, (own?.minutes ?? 0) + minutes)
  // A correction of hours that are older than the step's memory of hands adds nobody to it.
  const isKnown = own !== undefined || isDone !== null
  const hands = isKnown ? [...step.by.filter((one) => one.personId !== personId), { personId, minutes: mine }] : step.by
  const by = [...hands].sort((a, b) => b.minutes - a.minutes || (a.personId < b.personId ? -1 : 1)).slice(0, HANDS_MAX)
  const state = isDone === null ? step.state : isDone ? 'done' : step.state === 'waiting' ? 'begun' : step.state
  return [put('step', { ...step, by, state, doneMinutes: Math.max(0, step.doneMinutes + minutes) })]
}

/** The person's year with `minutes` and `stretches` more. */
export function tallyWith(
  records: Records,
  personId: PersonId,
  date: string,
  minutes: number,
  stretches: number,
): Change {
  const year = Number(date.slice(0, 4))
  const id = `${year}.${personId}`
  const former = records.tally.get(id)
  return put('tally', {
    id,
    personId,
    year,
    minutes: Math.max(0, (former?.minutes ?? 0) + minutes),
    stretches: (former?.stretches ?? 0) + stretches,
  })
}
