// Whether somebody comes to a shift: what was ticked on the day counts most, then the exception for that shift, then
// the exception for the whole day, then the weekly pattern.
import { weekdayOf } from '#lib/base'
import type { Attendance, Person, Records } from '#lib/words'
import { isHeldOn, shiftOf, turnId } from './find.ts'

export type Presence = {
  /** In, or expected. */
  readonly isIn: boolean
  /** True only when it was said that the person is not there: ticked away or left, or an exception. */
  readonly isAway: boolean
  readonly basis: 'closed' | 'attendance' | 'exception' | 'pattern' | 'none'
  readonly state: Attendance['state'] | null
  /** When a late person is expected. */
  readonly dueAt: string | null
}

/** Whether the person is in for a shift of a date, and how that is known. */
export function presenceOf(records: Records, person: Readonly<Person>, date: string, shiftId: string): Presence {
  const blank = { state: null, dueAt: null }
  const shift = shiftOf(records, shiftId)
  if (!shift || !isHeldOn(records, shift, date)) return { isIn: false, isAway: false, basis: 'closed', ...blank }
  const ticked = records.attendance.get(turnId(date, shiftId, person.id))
  if (ticked) {
    const isIn = ticked.state === 'in' || ticked.state === 'late'
    return { isIn, isAway: !isIn, basis: 'attendance', state: ticked.state, dueAt: ticked.dueAt }
  }
  const ofDay = person.exceptions.filter((one) => one.date === date)
  const exception = ofDay.find((one) => one.shiftId === shiftId) ?? ofDay.find((one) => one.shiftId === null)
  if (exception) {
    const isIn = exception.kind === 'extra'
    return { isIn, isAway: !isIn, basis: 'exception', ...blank }
  }
  const weekday = weekdayOf(date)
  const isIn = person.pattern.some((one) => one.weekday === weekday && one.shiftId === shiftId)
  return { isIn, isAway: false, basis: isIn ? 'pattern' : 'none', ...blank }
}
