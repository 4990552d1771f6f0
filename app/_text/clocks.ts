// What takes time and no hands, in words.
import { minutesBetween } from '#lib/rules'
import type { Clock, LabTime } from '#lib/words'
import { capital, sayMinutes } from './amounts.ts'
import { sayDate } from './dates.ts'

/** 15:10; with its day where that is another one: Thursday 12 March, 15:10. */
export const sayLabTime = ({ date, time }: LabTime, today: string): string =>
  date === today ? time : `${sayDate(date, 'long')}, ${time}`

/** How long a process takes: 5 h 10; 3 days. */
export function sayLasting(minutes: number): string {
  return minutes >= 2880 ? `${Math.round(minutes / 1440)} days` : sayMinutes(minutes)
}

/** Curing, fragments 3 and 7. */
export const sayClockWhat = ({ what, about }: Pick<Clock, 'what' | 'about'>): string =>
  capital(about === '' ? what : `${what}, ${about}`)

/** What the record begins with as it ends: Acid bath, 5 h 10, begun 12 March 10:05, ended 15:15. */
export function sayEnded(clock: Clock, ended: LabTime): string {
  const { begun } = clock
  const until = ended.date === begun.date ? ended.time : `${sayDate(ended.date, 'short')} ${ended.time}`
  return `${sayClockWhat(clock)}: ${sayLasting(Math.max(0, minutesBetween(begun, ended)))}, ${sayDate(begun.date, 'short')} ${begun.time} to ${until}.`
}
