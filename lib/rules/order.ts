// The order of steps and the hands they take: a step waits for those before it, and a step that takes several hands
// at once is not posted with fewer.
import { minuteOf } from '#lib/base'
import { type Finding, finding, type Records, type Step } from '#lib/words'
import type { DayView } from './day.ts'

/** Steps before this one that are neither done nor dropped. */
export function stepsBefore(records: Records, step: Readonly<Step>): readonly Readonly<Step>[] {
  return step.after.flatMap((id) => {
    const before = records.step.get(id)
    return before && before.state !== 'done' && before.state !== 'dropped' ? [before] : []
  })
}

/** Turns on a step whose predecessor is neither done nor planned for an earlier shift. */
export function judgeOrder(day: DayView): readonly Finding[] {
  return day.turns.flatMap((one) => {
    if (one.works.length > 0) return []
    const waitsFor = stepsBefore(day.records, one.step).filter((before) => {
      const isEarlierToday = day.turns.some(
        (other) => other.step.id === before.id && minuteOf(other.shift.start) < minuteOf(one.shift.start),
      )
      return !isEarlierToday && !isPlannedBefore(day, before.id)
    })
    const ids = { assignment: one.id, person: one.person.id, piece: one.piece.id, step: one.step.id }
    return waitsFor.map((before) => finding('O', 'step-waits', { ...ids, before: before.id }))
  })
}

function isPlannedBefore(day: DayView, stepId: string): boolean {
  for (const one of day.records.assignment.values()) if (one.stepId === stepId && one.date < day.date) return true
  return false
}

/** Steps with fewer people in a shift than they take at once; judged when a whole day is posted, not turn by turn. */
export function judgeHands(day: DayView): readonly Finding[] {
  const people = new Map<string, number>()
  for (const one of day.turns) {
    const key = `${one.shift.id} ${one.step.id}`
    people.set(key, (people.get(key) ?? 0) + 1)
  }
  return day.turns.flatMap((one) => {
    const count = people.get(`${one.shift.id} ${one.step.id}`) ?? 0
    if (count >= one.step.peopleMin || one.works.length > 0) return []
    const ids = { assignment: one.id, person: one.person.id, piece: one.piece.id, step: one.step.id }
    return [finding('O', 'too-few-hands', ids, { people: count, least: one.step.peopleMin })]
  })
}
