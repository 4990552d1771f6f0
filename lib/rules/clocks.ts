// What ends by itself must find somebody there: in a shift that is held, by somebody expected in it who works alone on
// the technique or better.
import { minuteOf } from '#lib/base'
import type { Person, Records } from '#lib/words'
import { isHeldOn, labOf, levelOf } from './find.ts'
import { presenceOf } from './presence.ts'

/** The lowest level that may be alone with it. */
const ALONE = 2

/**
 * Who may see to a clock of a technique at a local time (`11:00`) of a date: everybody expected in a shift that covers
 * the minute, at level 2 or above. Empty when nobody is, and outside every shift.
 */
export function thereFor(
  records: Records,
  techniqueId: string,
  date: string,
  time: string,
): readonly Readonly<Person>[] {
  const shifts = labOf(records)?.shifts ?? []
  const covers = shifts.filter((one) => one.start <= time && time <= one.end && isHeldOn(records, one, date))
  return [...records.person.values()].filter(
    (person) =>
      person.isActive &&
      levelOf(person, techniqueId, date) >= ALONE &&
      covers.some((shift) => presenceOf(records, person, date, shift.id).isIn),
  )
}

/** The nearest time of the same date at which somebody is there, a shift's end before or its start after; or null. */
export function nearestTended(records: Records, techniqueId: string, date: string, time: string): string | null {
  const edges = (labOf(records)?.shifts ?? []).flatMap((one) => [one.start, one.end])
  const tended = edges.filter((at) => thereFor(records, techniqueId, date, at).length > 0)
  const away = (at: string) => Math.abs(minuteOf(at) - minuteOf(time))
  return tended.toSorted((a, b) => away(a) - away(b) || (a < b ? -1 : 1))[0] ?? null
}
