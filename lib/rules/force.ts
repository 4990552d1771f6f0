// R3: no technique above a specimen's force ceiling without a recorded escalation that reaches it and still stands.
import { type Finding, finding, type Records } from '#lib/words'
import type { DayView } from './day.ts'
import { techniqueOf } from './find.ts'

/** A technique's rung on the ladder, 1 gentlest; null for one apart from the ladder, or unknown. */
export function forceOf(records: Records, techniqueId: string): number | null {
  return techniqueOf(records, techniqueId)?.force ?? null
}

/** The strongest rung allowed on a piece now: its ceiling, or the highest standing escalation; null for no ceiling. */
export function ceilingOf(records: Records, pieceId: string): number | null {
  const specimen = records.specimen.get(pieceId)
  if (!specimen) return null
  // A ceiling whose technique is unknown allows nothing rather than everything.
  let ceiling = forceOf(records, specimen.forceCeiling) ?? 0
  for (const escalation of records.escalation.values()) {
    if (escalation.pieceId !== pieceId || escalation.endedAt !== null) continue
    ceiling = Math.max(ceiling, forceOf(records, escalation.techniqueId) ?? 0)
  }
  return ceiling
}

/** Turns whose technique is stronger than their piece allows. */
export function judgeForce(day: DayView): readonly Finding[] {
  const ceilings = new Map<string, number | null>()
  return day.turns.flatMap((one) => {
    const force = one.technique.force
    if (force === null) return []
    let ceiling = ceilings.get(one.piece.id)
    if (ceiling === undefined) {
      ceiling = ceilingOf(day.records, one.piece.id)
      ceilings.set(one.piece.id, ceiling)
    }
    if (ceiling === null || force <= ceiling) return []
    const ids = { assignment: one.id, person: one.person.id, piece: one.piece.id, technique: one.technique.id }
    return [finding('R3', 'above-ceiling', ids, { force, ceiling })]
  })
}
