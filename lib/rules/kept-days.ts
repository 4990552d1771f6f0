// An edit of the lab, a place, a skill or a piece must not make a turn unlawful that is already on a day: whoever edits
// is told which turns to move first. What is finished is past and binds nobody; what is merely a fact of the day
// (somebody is away, a place had to be closed, a step got done) is recorded and shown, never refused.
import { type Change, type Finding, type Records, withChanges } from '#lib/words'
import { assignmentsOn, worksOfTurn } from './find.ts'
import { judgeDay, newFindings } from './judge.ts'

const factCodes: ReadonlySet<string> = new Set([
  'is-away',
  'mentor-away',
  'place-closed',
  'step-done',
  'step-dropped',
  'step-waits',
])

/** Findings that taking one turn off a day would bring upon the others: a learner left without a mentor. */
export function judgeLeft(records: Records, date: string, assignmentId: string): readonly Finding[] {
  const now = assignmentsOn(records, date)
  const left = now.filter((one) => one.id !== assignmentId)
  return binding(records, newFindings(judgeDay(records, date, now), judgeDay(records, date, left)))
}

/** Findings that an edit would bring upon turns from `today` on that are not finished. */
export function judgeKeptDays(records: Records, changes: readonly Change[], today: string): readonly Finding[] {
  const dates = new Set<string>()
  for (const one of records.assignment.values()) if (one.date >= today) dates.add(one.date)
  if (dates.size === 0) return []
  const after = withChanges(records, changes)
  return [...dates].sort().flatMap((date) => {
    const turns = assignmentsOn(records, date)
    return binding(
      records,
      newFindings(judgeDay(records, date, turns), judgeDay(after, date, assignmentsOn(after, date))),
    )
  })
}

function binding(records: Records, brought: readonly Finding[]): readonly Finding[] {
  return brought.filter((one) => !factCodes.has(one.code) && !isFinished(records, one.ids.assignment))
}

/** True when there is work on the turn and all of it is finished. */
export function isFinished(records: Records, assignmentId: string | undefined): boolean {
  if (assignmentId === undefined) return false
  const works = worksOfTurn(records, assignmentId)
  return works.length > 0 && works.every((work) => work.state === 'finished')
}
