/**
 * Time without hands: what was stuck must cure, what was soaked must dry, and an acid bath works alone. Common
 * practice, from memory, no source: a solvent-borne adhesive or consolidant overnight at the least, a filler the same;
 * a bath of a day and a rinse of twice as long for each turn of cleaning by hand. Moulds and casts set overnight.
 */
import type { Technique } from '#lib/words'

/** Days from the end of a step until what waits for it may begin; 1 is the next morning. */
export function cureDaysOf(technique: Readonly<Technique>): number {
  if (soakDaysOf(technique) > 0) return 2
  if (technique.group === 'consolidating' || technique.group === 'joining') return 1
  return technique.hazards.includes('solvent') ? 1 : 0
}

/** Days the piece is in bath and rinse after each half-day of hands, at its place; 0 for all but acid. */
export function soakDaysOf(technique: Readonly<Technique>): number {
  return technique.needs.includes('acid tank') || technique.hazards.includes('acid') ? 3 : 0
}
