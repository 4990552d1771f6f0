/**
 * The season's half-days and who is expected in them, person by person: weekly patterns, exceptions, what was ticked
 * today, closed dates of the lab. Levels are those of the first day: a sign-off that runs out within the season is
 * counted as renewed in time, and told (Assumed.renewals). Learners are not counted on: their hours take a mentor's.
 */
import { addDays, at, minuteOf, weekdayOf } from '#lib/base'
import { isHeldOn, isOfCrew, labOf, levelOf, presenceOf, shiftMinutes } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import { addBit } from './masks.ts'

export interface Calendar {
  readonly slotDay: Int32Array
  readonly slotShift: Int32Array
  readonly slotLength: Int32Array
  readonly shiftIds: readonly string[]
  readonly daySlot: Int32Array
}

/** The half-days of a season; those of the first day that end before `minute` are gone. */
export function calendarOf(records: Records, from: string, days: number, minute: number): Calendar {
  const shifts = (labOf(records)?.shifts ?? []).toSorted((a, b) => minuteOf(a.start) - minuteOf(b.start))
  const slots: { readonly day: number; readonly shift: number; readonly length: number }[] = []
  const daySlot = new Int32Array(days + 1)
  for (let day = 0; day < days; day++) {
    daySlot[day] = slots.length
    const date = addDays(from, day)
    for (const [index, shift] of shifts.entries()) {
      if (!isHeldOn(records, shift, date) || (day === 0 && minuteOf(shift.end) <= minute)) continue
      slots.push({ day, shift: index, length: shiftMinutes(shift) })
    }
  }
  daySlot[days] = slots.length
  return {
    slotDay: Int32Array.from(slots, ({ day }) => day),
    slotShift: Int32Array.from(slots, ({ shift }) => shift),
    slotLength: Int32Array.from(slots, ({ length }) => length),
    shiftIds: shifts.map(({ id }) => id),
    daySlot,
  }
}

/** Level from which hours count. */
export const ALONE = 2
/** Level for delicate and priority pieces. */
export const DELICATE = 3

/** The crew that works, from who can do least to who can do most, so that plain work does not take rare hands. */
export function crewOf(records: Records, from: string): readonly RecordOf<'person'>[] {
  const reach = (person: RecordOf<'person'>) =>
    person.skills.reduce((sum, { techniqueId }) => sum + Math.max(0, levelOf(person, techniqueId, from) - 1), 0)
  return [...records.person.values()]
    .filter((person) => isOfCrew(person) && person.skills.length > 0)
    .map((person) => ({ person, reach: reach(person) }))
    .sort((a, b) => a.reach - b.reach || (a.person.id < b.person.id ? -1 : 1))
    .map(({ person }) => person)
}

/** Who is expected in each half-day, as masks of `words` words. */
export function presenceMasks(
  records: Records,
  crew: readonly RecordOf<'person'>[],
  from: string,
  { slotDay, slotShift, shiftIds, daySlot }: Calendar,
  words: number,
): Int32Array {
  const present = new Int32Array(slotDay.length * words)
  // Most half-days are as the pattern says; presence is asked with care only where something else was said.
  const said = new Set<string>()
  for (const { personId, date } of records.attendance.values()) said.add(`${date} ${personId}`)
  for (const person of crew) for (const { date } of person.exceptions) said.add(`${date} ${person.id}`)
  const usual = crew.map((person) => new Set(person.pattern.map(({ weekday, shiftId }) => `${weekday} ${shiftId}`)))
  const isSaid = (person: RecordOf<'person'>, date: string) =>
    said.has(`${date} ${person.id}`) || person.spells?.some(({ from, to }) => from <= date && date <= to)
  for (let day = 0; day + 1 < daySlot.length; day++) {
    const date = addDays(from, day)
    const weekday = weekdayOf(date)
    for (let slot = at(daySlot, day); slot < at(daySlot, day + 1); slot++) {
      const shiftId = shiftIds[at(slotShift, slot)] ?? ''
      for (const [index, person] of crew.entries()) {
        const isIn = isSaid(person, date)
          ? presenceOf(records, person, date, shiftId).isIn
          : usual[index]?.has(`${weekday} ${shiftId}`)
        if (isIn) addBit(present, slot * words, index)
      }
    }
  }
  return present
}

/** Sign-offs that hold on the first day and run out before the last. */
export function renewalsOf(crew: readonly RecordOf<'person'>[], from: string, to: string) {
  return crew.flatMap((person) =>
    person.skills
      .filter(({ expiresOn }) => expiresOn !== null && expiresOn >= from && expiresOn < to)
      .map(({ techniqueId, expiresOn }) => ({ personId: person.id, techniqueId, on: expiresOn ?? '' })),
  )
}
