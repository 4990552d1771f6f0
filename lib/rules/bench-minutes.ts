// R5 as to time itself: bench minutes a person is planned at in a day, with one technique or at microscopes, where the lab
// has set a cap. What is finished counts with its minutes, what is open with its whole shift, as the solver counts it.
import type { Limits, Records, Technique } from '#lib/words'
import { type DayView, dayOf, isAllFinished, worksBeside } from './day.ts'
import { labOf, shiftMinutes, type Turn, techniqueOf } from './find.ts'

/** What is capped together: a technique by itself, or everything at a microscope. */
export type MinutesClass = { readonly name: string; readonly max: number }

/** Name of the class of all work at microscopes. */
export const SCOPE_CLASS = 'microscope'

/** The class whose minutes are capped; a technique's own cap goes before the microscope's. Null: no cap. */
export function minutesClassOf(
  technique: Readonly<Technique>,
  limits: Readonly<Limits> | undefined,
): MinutesClass | null {
  if (technique.benchMinutesMax !== undefined) return { name: technique.id, max: technique.benchMinutesMax }
  if (limits?.scopeMinutesMax !== undefined && technique.needs.includes('microscope'))
    return { name: SCOPE_CLASS, max: limits.scopeMinutesMax }
  return null
}

/** Bench minutes of a person's day by class, done and planned. */
export function benchMinutesIn(
  day: DayView,
  personId: string,
): ReadonlyMap<string, MinutesClass & { minutes: number }> {
  const limits = labOf(day.records)?.limits
  const sums = new Map<string, MinutesClass & { minutes: number }>()
  const count = (technique: Readonly<Technique> | undefined, minutes: number) => {
    const capped = technique && minutesClassOf(technique, limits)
    if (!capped) return
    sums.set(capped.name, { ...capped, minutes: (sums.get(capped.name)?.minutes ?? 0) + minutes })
  }
  const own = day.turns.filter((one) => one.person.id === personId)
  for (const one of own) {
    const stated = one.works.reduce((sum, work) => sum + work.minutes, 0)
    count(one.technique, isAllFinished(one) ? stated : Math.max(stated, shiftMinutes(one.shift)))
  }
  for (const work of worksBeside(day, personId)) count(techniqueOf(day.records, work.techniqueId), work.minutes)
  return sums
}

/** The same from records. */
export function benchMinutesOf(records: Records, date: string, turns: readonly Turn[], personId: string) {
  return benchMinutesIn(dayOf(records, date, turns).day, personId)
}
