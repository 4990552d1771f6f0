// The calendar behind somebody's private address: what they themselves may see of their shifts and dates, and no more.
import { addDays, localAt } from '#lib/base'
import { calendarOf } from '#lib/export'
import type { House } from '../house.ts'
import type { Clock } from '../world.ts'

/** Turns of days gone by stay so long; the board keeps them no longer. */
const DAYS_BACK = 7

/** Answers a secret with its calendar's text; null where it belongs to nobody, or to somebody who left. */
export function calendarBehind({ door, lab }: Pick<House, 'door' | 'lab'>, clock: Clock) {
  return (token: string): string | null => {
    const person = door.calendars.whose(token)
    if (!person) return null
    const records = lab.records()
    const today = localAt(records.lab.get('lab')?.zone ?? 'UTC', clock.now()).date
    return calendarOf(records, person.id, addDays(today, -DAYS_BACK), new Date(clock.now()).toISOString())
  }
}
