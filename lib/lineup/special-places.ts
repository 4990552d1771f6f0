/**
 * Places that are kept for one sort of work: nobody is drawn up to write records in the fume hood, or to cut foam in
 * the dust of an air station. A sense of the trade, not a rule: whoever is held or claims a seat there keeps it, and a
 * lab that has no other places uses what it has. To the solver it is one more feature, which every step asks for.
 */
import type { RecordOf, Records, Technique } from '#lib/words'

const sorts = ['any work', 'solvent work', 'acid work', 'cabinet work', 'dusty work'] as const
type Sort = (typeof sorts)[number]

/** The sort of work a technique is. */
export function sortOf(technique: Readonly<Technique>): Sort {
  if (technique.needs.includes('acid tank') || technique.hazards.includes('acid')) return 'acid work'
  if (technique.needs.includes('blast cabinet')) return 'cabinet work'
  if (technique.needs.includes('air line')) return 'dusty work'
  if (technique.needs.includes('extraction'))
    return technique.hazards.includes('solvent') ? 'solvent work' : 'dusty work'
  return technique.hazards.includes('solvent') && technique.needs.includes('fume hood') ? 'solvent work' : 'any work'
}

/** The one or two sorts a special place is for; null for a place that takes any. */
function keptFor(place: RecordOf<'place'>): readonly Sort[] | null {
  if (place.features.includes('acid tank')) return ['acid work']
  if (place.features.includes('blast cabinet')) return ['cabinet work']
  if (place.features.includes('fume hood')) return ['solvent work']
  return place.kind === 'air-tool station' ? ['dusty work', 'solvent work'] : null
}

/** The sorts of work each place takes. `free` places take any: somebody has a seat there that stays. */
export function sortsByPlace(
  records: Records,
  free: ReadonlySet<string>,
): (place: RecordOf<'place'>) => readonly Sort[] {
  const hasPlain = [...records.place.values()].some((place) => place.seats > 0 && keptFor(place) === null)
  return (place) => (hasPlain && !free.has(place.id) ? (keptFor(place) ?? sorts) : sorts)
}
