// Checks before use of extraction, compressor, eyewash, hoist. Due is the day (or shift) on which it should be done;
// overdue once a whole open day (or shift) has passed since, so that a weekend makes nothing overdue. A fault found
// stands until the check is good again. None of it refuses anybody a seat: line-ups do not offer such a place, and
// whoever sits there is told.
import { addDays, daysBetween, minuteOf } from '#lib/base'
import type { Check, RecordOf, Records } from '#lib/words'
import { isHeldOn, labOf } from './find.ts'

export type CheckState = 'good' | 'due' | 'overdue' | 'fault'

/** The lab's date and minute of the day. */
export type CheckNow = { readonly date: string; readonly minute: number }

/** Days looked through for open ones: longer than any closure, and a bound for the loop. */
const DAYS_MAX = 400

const shiftsOf = (records: Records, date: string): readonly RecordOf<'lab'>['shifts'][number][] =>
  (labOf(records)?.shifts ?? []).filter((shift) => isHeldOn(records, shift, date))

/** How a check stands. */
export function checkState(records: Records, check: Readonly<Check>, now: CheckNow): CheckState {
  if (check.last?.result === 'fault') return 'fault'
  return check.every.unit === 'days' ? byDays(records, check, now) : byShifts(records, check, now)
}

/** The day on which a check by days is due: the first open one from the counted day on. */
export function checkDueOn(records: Records, check: Readonly<Check>): string {
  const counted = check.last === null ? check.since : addDays(check.last.date, check.every.count)
  let day = counted
  for (let n = 0; n < DAYS_MAX && shiftsOf(records, day).length === 0; n++) day = addDays(day, 1)
  return day
}

function byDays(records: Records, check: Readonly<Check>, now: CheckNow): CheckState {
  const dueOn = checkDueOn(records, check)
  return now.date < dueOn ? 'good' : now.date === dueOn ? 'due' : 'overdue'
}

function byShifts(records: Records, check: Readonly<Check>, now: CheckNow): CheckState {
  const from = check.last?.date ?? check.since
  if (now.date < from) return 'good'
  let begun = 0
  const days = Math.min(DAYS_MAX, daysBetween(from, now.date))
  for (let n = 0; n <= days; n++) {
    const date = addDays(now.date, n - days)
    const shifts = shiftsOf(records, date)
    const done = date === check.last?.date ? shifts.findIndex(({ id }) => id === check.last?.shiftId) : -1
    // Done on that day in no shift that is known: the whole day counts as looked after.
    if (date === check.last?.date && done < 0) continue
    // The next shift counts from the start of its day, so that its check is due before it begins.
    const isToday = date === now.date
    const passed = isToday ? shifts.filter(({ end }) => minuteOf(end) <= now.minute).length : shifts.length
    const reached = Math.min(shifts.length, passed + (isToday ? 1 : 0))
    begun += Math.max(0, reached - (done + 1))
  }
  const { count } = check.every
  // Never done is due in the first shift itself.
  const late = check.last === null ? begun - 1 : begun - count
  return late < 0 ? 'good' : late === 0 ? 'due' : 'overdue'
}

/** Checks in use that are not good now, the worst first; of one place and the room's own, or all. */
export function checksOpen(
  records: Records,
  now: CheckNow,
  placeId?: string,
): readonly { readonly check: Readonly<Check>; readonly state: Exclude<CheckState, 'good'> }[] {
  const rank = { fault: 0, overdue: 1, due: 2 } as const
  const open = []
  for (const check of records.check.values()) {
    if (!check.isActive || (placeId !== undefined && check.placeId !== null && check.placeId !== placeId)) continue
    const state = checkState(records, check, now)
    if (state !== 'good') open.push({ check, state })
  }
  return open.toSorted((a, b) => rank[a.state] - rank[b.state] || (a.check.name < b.check.name ? -1 : 1))
}

/** The check that keeps a place out of line-ups: its own, overdue or with a fault; null when there is none. */
export function overdueAt(records: Records, placeId: string, now: CheckNow): Readonly<Check> | null {
  const open = checksOpen(records, now, placeId).find(
    ({ check, state }) => check.placeId === placeId && state !== 'due',
  )
  return open?.check ?? null
}

/** The check of a compressor that keeps air tools out of line-ups. */
export function overdueAir(records: Records, now: CheckNow): Readonly<Check> | null {
  const open = checksOpen(records, now).find(({ check, state }) => check.what === 'compressor' && state !== 'due')
  return open?.check ?? null
}
