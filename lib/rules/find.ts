// Looking things up in the records the way every rule does: a piece by its id whichever kind it is, what it weighs,
// how long a shift is, which key one person's turn in one shift has.
import { daysBetween, minuteOf, weekdayOf } from '#lib/base'
import type { Assignment, Jacket, Person, Records, Shift, Specimen, Technique, Work } from '#lib/words'

/** What the rules need of an assignment: who, when, on what, where. */
export type Turn = Pick<Assignment, 'shiftId' | 'personId' | 'pieceId' | 'stepId' | 'placeId'>

/** A jacket or a specimen. */
export type Piece = Readonly<Jacket> | Readonly<Specimen>

/** The key of one person's turn in one shift of one day: the id of assignments, holds and attendance (R1 as a key). */
export function turnId(date: string, shiftId: string, personId: string): string {
  return `${date}.${shiftId}.${personId}`
}

export function labOf(records: Records) {
  return records.lab.get('lab')
}

export function shiftOf(records: Records, shiftId: string): Readonly<Shift> | undefined {
  return labOf(records)?.shifts.find((shift) => shift.id === shiftId)
}

export function techniqueOf(records: Records, techniqueId: string): Readonly<Technique> | undefined {
  return labOf(records)?.techniques.find((technique) => technique.id === techniqueId)
}

/** The technique of a step. */
export function techniqueOfStep(records: Records, stepId: string): Readonly<Technique> | undefined {
  const step = records.step.get(stepId)
  return step && techniqueOf(records, step.techniqueId)
}

/** The piece on the board, jacket or specimen. */
export function pieceOf(records: Records, pieceId: string): Piece | undefined {
  return records.specimen.get(pieceId) ?? records.jacket.get(pieceId)
}

/** What a piece weighs at the least and at the most: as weighed, else as estimated. */
export function massRange({ mass: { lowKg, highKg, weighedKg } }: Piece): {
  readonly lowKg: number
  readonly highKg: number
} {
  return { lowKg: weighedKg ?? lowKg, highKg: weighedKg ?? highKg }
}

/** Weighed where it was weighed, else the upper estimate: a bench must bear the worst case. */
export function massKgOf(piece: Piece): number {
  return massRange(piece).highKg
}

/** Length of a shift in minutes. */
export function shiftMinutes(shift: Readonly<Shift>): number {
  return Math.max(0, minuteOf(shift.end) - minuteOf(shift.start))
}

/** True when the lab holds this shift on this date: not a closed date, and a weekday of the shift. */
export function isHeldOn(records: Records, shift: Readonly<Shift>, date: string): boolean {
  return shift.weekdays.includes(weekdayOf(date)) && labOf(records)?.closed.includes(date) === false
}

/** The work done on a turn: all stretches of that person in that shift of that day. */
export function worksOfTurn(records: Records, id: string): readonly Readonly<Work>[] {
  const found: Readonly<Work>[] = []
  for (const work of records.work.values()) {
    if (turnId(work.date, work.shiftId, work.personId) === id) found.push(work)
  }
  return found
}

/** The assignments of one day. */
export function assignmentsOn(records: Records, date: string): readonly Readonly<Assignment>[] {
  const found: Readonly<Assignment>[] = []
  for (const assignment of records.assignment.values()) if (assignment.date === date) found.push(assignment)
  return found
}

/** True for managers and whoever looks after safety: they may read the health figures of others. */
export function mayReadSafety(records: Records, personId: string): boolean {
  const person = records.person.get(personId)
  return person?.isActive === true && (person.role === 'manager' || person.isSafety === true)
}

/** The person's level in a technique on a date; a skill that has run out counts as none. */
export function levelOf(person: Readonly<Person>, techniqueId: string, date: string): number {
  const skill = person.skills.find((one) => one.techniqueId === techniqueId)
  if (!skill) return 0
  return skill.expiresOn !== null && daysBetween(date, skill.expiresOn) < 0 ? 0 : skill.level
}
