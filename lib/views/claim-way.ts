// Of the ways a piece could be claimed, the one to offer: the step that comes first, at the place where the piece lies
// already, else at the place that is missed least. A microscope or the one hood is not taken up by what needs neither.
import { type Fit, pieceOf, techniqueOf, type Way } from '#lib/rules'
import type { Records } from '#lib/words'

/** The way to offer; null when the piece does not fit. Whoever asks for thousands counts the features once. */
export function wayToOffer(records: Records, fit: Fit, counts = featureCounts(records)): Way | null {
  const lyingAt = pieceOf(records, fit.pieceId)?.placeId ?? null
  let best: { readonly way: Way; readonly key: Key } | null = null
  for (const way of fit.ways) {
    const step = records.step.get(way.stepId)
    const place = records.place.get(way.placeId)
    if (!step || !place) continue
    const needs = techniqueOf(records, step.techniqueId)?.needs ?? []
    let missed = 0
    for (const feature of place.features) if (!needs.includes(feature)) missed += 1 / (counts.get(feature) ?? 1)
    const key = [step.rank, place.id === lyingAt ? 0 : 1, missed, place.code] as const
    if (best === null || isBefore(key, best.key)) best = { way, key }
  }
  return best?.way ?? null
}

/** How many places have each feature: one that only one place has is missed most. */
export function featureCounts(records: Records): ReadonlyMap<string, number> {
  const counts = new Map<string, number>()
  for (const place of records.place.values())
    for (const feature of place.features) counts.set(feature, (counts.get(feature) ?? 0) + 1)
  return counts
}

type Key = readonly [number, number, number, string]

function isBefore(a: Key, b: Key): boolean {
  for (const [index, one] of a.entries()) {
    const other = b[index]
    if (other !== undefined && one !== other) return one < other
  }
  return false
}
