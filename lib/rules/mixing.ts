// What is in use beside what in one shift: stone dust beside open solvent, and either where visitors look on without glass
// between. Common practice, and no refusal: whoever draws up the day is told. What works in its own cabinet or hood is
// taken as kept in.
import { type Finding, finding, type Records, type Technique } from '#lib/words'
import { dayOf, type Placed } from './day.ts'
import { labOf, type Turn } from './find.ts'
import { areNeighbours } from './neighbours.ts'

type Hazard = Technique['hazards'][number]

const keptInBy: Partial<Record<Hazard, string>> = { dust: 'blast cabinet', solvent: 'fume hood' }

function spreads(one: Placed, hazard: 'dust' | 'solvent'): boolean {
  const cabinet = keptInBy[hazard]
  return one.technique.hazards.includes(hazard) && !one.place.features.some((feature) => feature === cabinet)
}

/** Turns of a day that do not go well beside each other; each pair once. */
export function mixingOfDay(records: Records, date: string, turns: readonly Turn[]): readonly Finding[] {
  const { day } = dayOf(records, date, turns)
  const neighbourM = labOf(records)?.limits.neighbourM ?? 0
  const findings: Finding[] = []
  for (const one of day.turns) {
    const ids = { assignment: one.id, person: one.person.id, place: one.place.id, shift: one.shift.id }
    if (one.place.isInView === true) {
      if (spreads(one, 'dust')) findings.push(finding('O', 'dust-in-view', ids))
      if (spreads(one, 'solvent')) findings.push(finding('O', 'solvent-in-view', ids))
    }
    if (!spreads(one, 'dust')) continue
    for (const other of day.turns) {
      if (other.shift.id !== one.shift.id || !spreads(other, 'solvent')) continue
      const isNear = other.place.id === one.place.id || areNeighbours(one.place, other.place, neighbourM)
      if (isNear)
        findings.push(finding('O', 'dust-beside-solvent', { ...ids, other: other.person.id, at: other.place.id }))
    }
  }
  return findings
}
