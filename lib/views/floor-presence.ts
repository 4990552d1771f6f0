// Who is expected in a shift and who has been ticked: the weekly pattern, the exceptions for the day, and the
// attendance laid over each other. The Floor draws stools from it and the morning's sentence counts it.
import { weekdayOf } from '#lib/base'
import type { PersonId, RecordOf, Records, ShiftId } from '#lib/words'

/** `expected` is somebody whose pattern says so and whom nobody has ticked yet. */
export type PresenceState = 'in' | 'late' | 'away' | 'left' | 'expected'

/** One person of a shift. */
export type Presence = {
  readonly personId: PersonId
  readonly name: string
  readonly state: PresenceState
  /** When a late person is expected, `10:15`. */
  readonly dueAt: string | null
  /** The pattern, with its exceptions, has this person in the shift. */
  readonly isPlanned: boolean
}

/** Whether pattern and exceptions bring a person on a date; an exception for the shift outweighs one for the day. */
export function isPlanned(person: RecordOf<'person'>, date: string, shiftId: ShiftId): boolean {
  const weekday = weekdayOf(date)
  const usual = person.pattern.some((turn) => turn.weekday === weekday && turn.shiftId === shiftId)
  const exceptions = person.exceptions.filter((exception) => exception.date === date)
  const own = exceptions.find((exception) => exception.shiftId === shiftId)
  const whole = exceptions.find((exception) => exception.shiftId === null)
  const exception = own ?? whole
  if (!exception) return usual
  // "Extra, all day" means the shifts of the day, "away, all day" none of them.
  return exception.kind === 'extra'
}

/** The same by the usual pattern alone: somebody away is told as away, not forgotten. */
function isUsual(person: RecordOf<'person'>, date: string, shiftId: ShiftId): boolean {
  const weekday = weekdayOf(date)
  return person.pattern.some((turn) => turn.weekday === weekday && turn.shiftId === shiftId)
}

/** The shifts held on a date, in the order of the day; none on a closed date. */
export function shiftsOn(lab: RecordOf<'lab'>, date: string): readonly RecordOf<'lab'>['shifts'][number][] {
  if (lab.closed.includes(date)) return []
  const weekday = weekdayOf(date)
  return lab.shifts
    .filter((shift) => shift.weekdays.includes(weekday))
    .toSorted((a, b) => (a.start < b.start ? -1 : a.start > b.start ? 1 : 0))
}

/** Everybody who belongs to a shift: planned, ticked, or away though usually in. Ordered by name. */
export function presenceOf(records: Records, date: string, shiftId: ShiftId): ReadonlyMap<PersonId, Presence> {
  const found: Presence[] = []
  for (const person of records.person.values()) {
    if (!person.isActive || person.role === 'researcher') continue
    const tick = records.attendance.get(`${date}.${shiftId}.${person.id}`)
    const planned = isPlanned(person, date, shiftId)
    if (!tick && !planned && !isUsual(person, date, shiftId)) continue
    found.push({
      personId: person.id,
      name: person.name,
      state: tick?.state ?? (planned ? 'expected' : 'away'),
      dueAt: tick?.state === 'late' ? tick.dueAt : null,
      isPlanned: planned,
    })
  }
  found.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
  return new Map(found.map((presence) => [presence.personId, presence]))
}

/** How a stool is drawn, and whether somebody is missed. */
export type SeatLook = 'in' | 'late' | 'away'

/**
 * The look of a presence at a moment. Somebody expected counts as in before the shift and where nobody is ticked
 * at all (a lab that does not tick), and as late ten minutes into a shift in which others were ticked.
 */
export function lookOf(
  presence: Presence | undefined,
  shiftStartMinute: number,
  nowMinute: number | null,
  isTicked: boolean,
): SeatLook {
  if (!presence) return 'in'
  if (presence.state === 'away' || presence.state === 'left') return 'away'
  if (presence.state === 'late') return 'late'
  if (presence.state === 'in') return 'in'
  const missed = isTicked && nowMinute !== null && nowMinute >= shiftStartMinute + 10
  return missed ? 'late' : 'in'
}
