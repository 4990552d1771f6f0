// Who is expected in a shift and who has been ticked: the weekly pattern, the exceptions for the day, and the
// attendance laid over each other. The Floor draws stools from it and the morning's sentence counts it.
import { weekdayOf } from '#lib/base'
import { comesUsually, isOfCrew, presenceOf } from '#lib/rules'
import type { PersonId, RecordOf, Records, ShiftId } from '#lib/words'

/** `expected` is somebody whose pattern says so and whom nobody has ticked yet. */
type PresenceState = 'in' | 'late' | 'away' | 'left' | 'expected'

/** One person of a shift. */
export type Presence = {
  readonly personId: PersonId
  readonly name: string
  readonly state: PresenceState
  /** When a late person is expected, `10:15`. */
  readonly dueAt: string | null
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
export function crewOf(records: Records, date: string, shiftId: ShiftId): ReadonlyMap<PersonId, Presence> {
  const found: Presence[] = []
  for (const person of records.person.values()) {
    if (!isOfCrew(person)) continue
    const { isIn, isAway, state, dueAt } = presenceOf(records, person, date, shiftId)
    const isPlanned = comesUsually(person, date, shiftId) || records.assignment.has(`${date}.${shiftId}.${person.id}`)
    const isTold = state !== null || isIn || (isAway && isPlanned)
    if (!isTold) continue
    found.push({
      personId: person.id,
      name: person.name,
      state: state ?? (isIn ? 'expected' : 'away'),
      dueAt: state === 'late' ? dueAt : null,
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
