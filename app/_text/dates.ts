// Dates and times for eyes. Local dates and instants come in as ISO text; the lab's zone is always asked for, so that
// nobody reads a time of their own travels.
import { dayNumber, daysBetween, localAt, timeOfMinute, weekdayOf } from '#lib/base'

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const

/** long: Thursday 12 March. short: 12 March. brief: Thu 12 Mar. full: 12 March 2026. */
export type DateForm = 'long' | 'short' | 'brief' | 'full'

/** Weekday by its ISO number: Monday. */
export const sayWeekday = (weekday: number): string => WEEKDAYS[weekday - 1] ?? ''

/** A local date in words; text that is no date comes back as it is. */
export function sayDate(date: string, form: DateForm = 'long'): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return date
  const day = Number(date.slice(8))
  const month = MONTHS[Number(date.slice(5, 7)) - 1] ?? ''
  const weekday = sayWeekday(weekdayOf(date))
  switch (form) {
    case 'long':
      return `${weekday} ${day} ${month}`
    case 'short':
      return `${day} ${month}`
    case 'brief':
      return `${weekday.slice(0, 3)} ${day} ${month.slice(0, 3)}`
    case 'full':
      return `${day} ${month} ${date.slice(0, 4)}`
  }
}

/** A date as seen from today: today, tomorrow, yesterday, Thursday (within six days), else 12 March, with the year when it is another. */
export function sayDay(date: string, today: string): string {
  const days = daysBetween(today, date)
  if (days === 0) return 'today'
  if (days === 1) return 'tomorrow'
  if (days === -1) return 'yesterday'
  if (days > 0 && days < 7) return sayWeekday(weekdayOf(date))
  return sayDate(date, date.slice(0, 4) === today.slice(0, 4) ? 'short' : 'full')
}

/** How far off a date is: in 9 days, in 3 weeks, in 14 months, 2 days ago. */
export function sayDistance(date: string, today: string): string {
  const days = dayNumber(date) - dayNumber(today)
  if (Math.abs(days) < 2) return sayDay(date, today)
  const [count, unit] = spanOf(Math.abs(days))
  return days > 0 ? `in ${count} ${unit}` : `${count} ${unit} ago`
}

/** A stretch of days: 9 days, 3 weeks, 14 months. */
export function sayDays(days: number): string {
  const [count, unit] = spanOf(Math.max(0, Math.round(days)))
  return `${count} ${count === 1 ? unit.slice(0, -1) : unit}`
}

function spanOf(days: number): readonly [number, string] {
  if (days < 14) return [days, 'days']
  if (days < 70) return [Math.round(days / 7), 'weeks']
  if (days < 730) return [Math.round(days / 30.44), 'months']
  return [Math.round(days / 365.25), 'years']
}

/** A window between two dates: 3 to 17 May, 28 April to 9 May, 12 December 2026 to 4 January 2027. */
export function sayWindow(from: string, to: string): string {
  if (from === to) return sayDate(from, 'short')
  if (from.slice(0, 7) === to.slice(0, 7)) return `${Number(from.slice(8))} to ${sayDate(to, 'short')}`
  const form = from.slice(0, 4) === to.slice(0, 4) ? 'short' : 'full'
  return `${sayDate(from, form)} to ${sayDate(to, form)}`
}

/** The time of day of an instant in the lab's zone: 10:42. Takes ISO text or milliseconds. */
export function sayClock(instant: string | number, zone: string): string {
  const ms = typeof instant === 'number' ? instant : Date.parse(instant)
  return Number.isFinite(ms) ? timeOfMinute(localAt(zone, ms).minute) : ''
}

/** When something happened, as short as it stays clear: 10:42, yesterday 10:42, 12 March 10:42. */
export function sayMoment(instant: string | number, zone: string, today: string): string {
  const ms = typeof instant === 'number' ? instant : Date.parse(instant)
  if (!Number.isFinite(ms)) return ''
  const { date, minute } = localAt(zone, ms)
  const clock = timeOfMinute(minute)
  if (date === today) return clock
  return daysBetween(date, today) === 1 ? `yesterday ${clock}` : `${sayDate(date, 'short')} ${clock}`
}
