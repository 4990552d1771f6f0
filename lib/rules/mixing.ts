// What does not mix: stone dust, solvent vapour and open public view. At one place in one shift only one of the two is
// given off, and neither where visitors look on without glass between: hard rules. Near each other at two places they are
// told and not refused (common practice): extraction and distance are for whoever knows the room. What works in its own
// cabinet or hood is taken as kept in.
import { type Finding, finding, type Place, type Records, type Technique } from '#lib/words'
import { type DayView, dayOf, isAllFinished, type Placed } from './day.ts'
import { labOf, type Turn } from './find.ts'
import { areNeighbours } from './neighbours.ts'

/** What work gives off into the air of the room. */
export type AirKind = 'dust' | 'solvent'

const cabinets: Readonly<Record<AirKind, Place['features'][number]>> = {
  dust: 'blast cabinet',
  solvent: 'fume hood',
}
const airKinds = ['dust', 'solvent'] as const

/** What a technique gives off, as the lab has marked it. */
export const airKindsOf = (technique: Pick<Technique, 'hazards'>): readonly AirKind[] =>
  airKinds.filter((kind) => technique.hazards.includes(kind))

/** What a place keeps in: its own cabinet takes the dust, its own hood the vapour. */
export const keptInAt = (place: Pick<Place, 'features'>): readonly AirKind[] =>
  airKinds.filter((kind) => place.features.includes(cabinets[kind]))

/** What a technique gives off into the room when it is done at a place. */
export const givenOff = (technique: Pick<Technique, 'hazards'>, place: Pick<Place, 'features'>): readonly AirKind[] =>
  airKindsOf(technique).filter((kind) => !keptInAt(place).includes(kind))

/** Places in open public view, and the two kinds at one place in one shift; whoever comes last is named. */
export function judgeMixing({ turns }: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const first = new Map<string, Placed>()
  for (const one of turns) {
    const ids = { assignment: one.id, person: one.person.id, place: one.place.id, shift: one.shift.id }
    const kinds = givenOff(one.technique, one.place)
    const keyOf = (kind: AirKind) => `${one.shift.id} ${one.place.id} ${kind}`
    for (const kind of kinds) if (!first.has(keyOf(kind))) first.set(keyOf(kind), one)
    // What is done is done: it still counts for whoever comes after, but nobody is named for it.
    if (isAllFinished(one)) continue
    if (one.place.isInView === true)
      findings.push(
        ...kinds.map((kind) => finding('O', `${kind}-in-view` as const, { ...ids, technique: one.technique.id })),
      )
    const other = kinds.map((kind) => first.get(keyOf(kind === 'dust' ? 'solvent' : 'dust'))).find(Boolean)
    if (other) findings.push(finding('O', 'dust-with-solvent', { ...ids, other: other.person.id }))
  }
  return findings
}

/** What of a posted day does not go well beside each other: what the rule refuses, and the same at two near places. */
export function mixingOfDay(records: Records, date: string, turns: readonly Turn[]): readonly Finding[] {
  const { day } = dayOf(records, date, turns)
  const neighbourM = labOf(records)?.limits.neighbourM ?? 0
  const gives = (one: Placed, kind: AirKind) => givenOff(one.technique, one.place).includes(kind)
  const near = day.turns
    .filter((one) => gives(one, 'dust'))
    .flatMap((one) =>
      day.turns
        .filter(
          (other) => other.shift.id === one.shift.id && other.place.id !== one.place.id && gives(other, 'solvent'),
        )
        .filter((other) => areNeighbours(one.place, other.place, neighbourM))
        .map((other) =>
          finding('O', 'dust-beside-solvent', {
            ...{ assignment: one.id, person: one.person.id, place: one.place.id, shift: one.shift.id },
            ...{ other: other.person.id, at: other.place.id },
          }),
        ),
    )
  return [...judgeMixing(day), ...near]
}
