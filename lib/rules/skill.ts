// R2: nobody works alone on a technique above their level. Level 3 for delicate or priority pieces; level 1 only with
// a mentor (level 4) at the same or a neighbouring place in that shift, who has no more learners than the lab allows.
import { type Finding, finding, type Records } from '#lib/words'
import type { DayView, Placed } from './day.ts'
import { labOf, levelOf } from './find.ts'
import { areNeighbours } from './neighbours.ts'
import { presenceOf } from './presence.ts'

const ALONE = 2
const DELICATE = 3
const MENTOR = 4

/** Level needed to work alone on the piece of a turn. */
function levelNeeded(one: Placed): number {
  return 'isPriority' in one.piece && one.piece.isPriority ? DELICATE : ALONE
}

/** Levels against what technique and piece ask; mentors are judged apart. */
export function judgeLevels(day: DayView): readonly Finding[] {
  return day.turns.flatMap((one) => {
    const level = levelOf(one.person, one.technique.id, day.date)
    const needed = levelNeeded(one)
    if (level >= needed || (level === 1 && needed === ALONE)) return []
    const ids = { assignment: one.id, person: one.person.id, technique: one.technique.id, piece: one.piece.id }
    return [finding('R2', needed === DELICATE ? 'needs-level-3' : 'no-skill', ids, { level, needed })]
  })
}

/** Mentors for the learners of each shift; each learner has one of their own, shared by at most the lab's limit. */
export function judgeMentors(day: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const learners = day.turns.filter((one) => levelOf(one.person, one.technique.id, day.date) === 1)
  const most = labOf(day.records)?.limits.learnersPerMentor ?? 0
  for (const shiftId of new Set(learners.map((one) => one.shift.id))) {
    const inShift = learners.filter((one) => one.shift.id === shiftId)
    const near = new Map(inShift.map((one) => [one, mentorsNear(day, one)]))
    const withMentor = shareMentors(inShift, (one) => near.get(one)?.there ?? [], most)
    for (const one of inShift) {
      if (withMentor.has(one)) continue
      const { there, away } = near.get(one) ?? { there: [], away: [] }
      const code = there.length > 0 ? 'mentor-full' : away.length > 0 ? 'mentor-away' : 'mentor-missing'
      const mentor = there[0]?.person.id ?? away[0]?.person.id
      const ids = { assignment: one.id, person: one.person.id, technique: one.technique.id, ...(mentor && { mentor }) }
      findings.push(finding('R2', code, ids, { learners: most }))
    }
  }
  return findings
}

/** Turns of mentors for a learner's technique, at the same or a neighbouring place in the shift. */
function mentorsNear(
  day: DayView,
  learner: Placed,
): { readonly there: readonly Placed[]; readonly away: readonly Placed[] } {
  const neighbourM = labOf(day.records)?.limits.neighbourM ?? 0
  const near = day.turns.filter(
    (other) =>
      other.shift.id === learner.shift.id &&
      other.person.id !== learner.person.id &&
      levelOf(other.person, learner.technique.id, day.date) >= MENTOR &&
      (other.place.id === learner.place.id || areNeighbours(other.place, learner.place, neighbourM)),
  )
  const isAway = (other: Placed) => presenceOf(day.records, other.person, day.date, other.shift.id).isAway
  return { there: near.filter((other) => !isAway(other)), away: near.filter(isAway) }
}

/** The learners that can have a mentor when the mentors are shared as well as they can be (augmenting paths). */
function shareMentors(
  learners: readonly Placed[],
  mentorsOf: (one: Placed) => readonly Placed[],
  most: number,
): ReadonlySet<Placed> {
  const beside = new Map<string, Placed[]>()
  const seat = (learner: Placed, tried: Set<string>): boolean => {
    for (const mentor of mentorsOf(learner)) {
      const id = mentor.person.id
      if (tried.has(id)) continue
      tried.add(id)
      const taken = beside.get(id) ?? []
      const moved = taken.length < most ? null : taken.find((other) => seat(other, tried))
      if (moved === undefined) continue
      // Read again: finding `moved` another mentor has rewritten the lists.
      const kept = (beside.get(id) ?? []).filter((other) => other !== moved)
      beside.set(id, [...kept, learner])
      return true
    }
    return false
  }
  return new Set(learners.filter((learner) => seat(learner, new Set())))
}

/** Level of a person in every technique on a date, for screens that show the whole matrix. */
export function levelsOf(records: Records, personId: string, date: string): ReadonlyMap<string, number> {
  const person = records.person.get(personId)
  if (!person) return new Map()
  return new Map(person.skills.map((skill) => [skill.techniqueId, levelOf(person, skill.techniqueId, date)]))
}
