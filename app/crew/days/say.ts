// Sentences for the days on which somebody comes.
import type { Records, Spell } from '#lib/words'
import { sayList, sayWeekday } from '../../_text/index.ts'

/** The week of a stretch: `Monday morning and Thursday evening`; `does not come`. */
export function saySpell({ pattern }: Spell, records: Records): string {
  if (pattern.length === 0) return 'does not come'
  const shifts = records.lab.get('lab')?.shifts ?? []
  const nameOf = (id: string) => shifts.find((one) => one.id === id)?.name.toLowerCase() ?? 'a shift'
  const week = pattern.toSorted((a, b) => a.weekday - b.weekday)
  return `comes ${sayList(week.map(({ weekday, shiftId }) => `${sayWeekday(weekday)} ${nameOf(shiftId)}`))}`
}
