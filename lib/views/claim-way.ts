// Of the ways a piece could be claimed, the one to offer: the step that comes first, at the place where the piece lies
// already, else at the plainest place that will do. A microscope or an air line is not taken up by what needs neither.
import { type Fit, pieceOf, techniqueOf, type Way } from '#lib/rules'
import type { Records } from '#lib/words'

/** The way to offer; null when the piece does not fit. */
export function wayToOffer(records: Records, fit: Fit): Way | null {
  const lyingAt = pieceOf(records, fit.pieceId)?.placeId ?? null
  let best: { readonly way: Way; readonly key: Key } | null = null
  for (const way of fit.ways) {
    const step = records.step.get(way.stepId)
    const place = records.place.get(way.placeId)
    if (!step || !place) continue
    const needs = techniqueOf(records, step.techniqueId)?.needs ?? []
    const spare = place.features.filter((feature) => !needs.includes(feature)).length + (place.isExclusive ? 1 : 0)
    const key = [step.rank, place.id === lyingAt ? 0 : 1, spare, place.code] as const
    if (best === null || isBefore(key, best.key)) best = { way, key }
  }
  return best?.way ?? null
}

type Key = readonly [number, number, number, string]

function isBefore(a: Key, b: Key): boolean {
  for (const [index, one] of a.entries()) {
    const other = b[index]
    if (other !== undefined && one !== other) return one < other
  }
  return false
}
