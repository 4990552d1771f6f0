/**
 * Seating people on an activity: each place that a skill asks for gets a person who has it, nobody twice. Persons that
 * many others could not replace are spared; where the first choice leaves a place empty, persons already seated move
 * on along an augmenting path (Kuhn 1955), so that seats are found whenever there are any.
 */
import { at } from '#lib/base'
import type { CrewProject } from './project.ts'

export interface Staffing {
  /** Seats of each activity: `from[a] … from[a + 1] - 1`, by skill. */
  readonly from: Int32Array
  readonly skill: Int32Array
}

/** One seat for each person wanted. */
export function seatsOf({ activities, skills, need }: CrewProject): Staffing {
  const from = new Int32Array(activities + 1)
  const skill: number[] = []
  for (let a = 0; a < activities; a++) {
    for (let s = 0; s < skills; s++) for (let k = at(need, a * skills + s); k > 0; k--) skill.push(s)
    from[a + 1] = skill.length
  }
  return { from, skill: Int32Array.from(skill) }
}

/**
 * Seats people on activity `a` out of those `isFree` (by person 1 or 0), cheapest `order` first; fills `seated` (by seat)
 * and answers whether all seats are taken.
 */
export function staff(
  project: CrewProject,
  seats: Staffing,
  a: number,
  isFree: Int32Array,
  order: Int32Array,
  seated: Int32Array,
): boolean {
  const { people, skills, has } = project
  const first = at(seats.from, a)
  const last = at(seats.from, a + 1)
  const seatOf = new Int32Array(people).fill(-1)
  const seen = new Int32Array(people).fill(-1)
  const find = (seat: number, mark: number): boolean => {
    const skill = at(seats.skill, seat)
    for (let i = 0; i < people; i++) {
      const p = at(order, i)
      if (at(isFree, p) === 0 || at(seen, p) === mark || at(has, p * skills + skill) === 0) continue
      seen[p] = mark
      const held = at(seatOf, p)
      if (held < 0 || find(held, mark)) {
        seatOf[p] = seat
        seated[seat] = p
        return true
      }
    }
    return false
  }
  for (let seat = first; seat < last; seat++) if (!find(seat, seat)) return false
  return true
}
