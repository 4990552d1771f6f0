// Whether somebody comes to a shift: what was ticked on the day counts most, then the exception for that shift, then
// the exception for the whole day, then the weekly pattern, or what holds in its stead in a stretch of dates.
import { daysBetween, weekdayOf } from '#lib/base'
import type { Attendance, Person, Records } from '#lib/words'
import { isHeldOn, shiftOf, turnId } from './find.ts'

/** Whoever works in the lab at present: researchers only look. */
export const isOfCrew = ({ isActive, role }: Pick<Person, 'isActive' | 'role'>): boolean =>
  isActive && role !== 'researcher'

export type Presence = {
  /** In, or expected. */
  readonly isIn: boolean
  /** True only when it was said that the person is not there: ticked away or left, an exception, a stretch without the usual. */
  readonly isAway: boolean
  readonly basis: 'closed' | 'attendance' | 'exception' | 'spell' | 'pattern' | 'none'
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
  const spell = spellOn(person, date)
  const isIn = isUsual((spell ?? person).pattern, date, shiftId)
  if (spell) return { isIn, isAway: !isIn && comesUsually(person, date, shiftId), basis: 'spell', ...blank }
  return { isIn, isAway: false, basis: isIn ? 'pattern' : 'none', ...blank }
}

type Pattern = Person['pattern']

const isUsual = (pattern: Readonly<Pattern>, date: string, shiftId: string): boolean => {
  const weekday = weekdayOf(date)
  return pattern.some((one) => one.weekday === weekday && one.shiftId === shiftId)
}

/** By the usual week alone, whatever was said of the date: somebody away is told as away, not forgotten. */
export const comesUsually = (person: Readonly<Person>, date: string, shiftId: string): boolean =>
  isUsual(person.pattern, date, shiftId)

/** The stretch that a date lies in; the shortest where several meet, so that a holiday holds within its term. */
function spellOn({ spells = [] }: Readonly<Person>, date: string) {
  const length = ({ from, to }: { readonly from: string; readonly to: string }) => daysBetween(from, to)
  return spells
    .filter(({ from, to }) => from <= date && date <= to)
    .reduce<(typeof spells)[number] | null>((best, one) => (best && length(best) <= length(one) ? best : one), null)
}

/** The week that holds on a date. */
export const patternOn = (person: Readonly<Person>, date: string): Readonly<Pattern> =>
  (spellOn(person, date) ?? person).pattern
