// Sentences for learning: a step of a path, what is next on it and what would reach it, what somebody has yet to go through.
import type { InductionItem, PathStep, Records } from '#lib/words'
import { capital, namesIn, sayLevel, sayList } from '../../_text/index.ts'

/** A step in the middle of a sentence: `needle in pin vise, works alone`, `“fire exits”`. */
export function sayPathStep(step: PathStep, records: Records): string {
  if (step.kind === 'skill') return `${namesIn(records).technique(step.techniqueId)}, ${sayLevel(step.level)}`
  const item = records.lab.get('lab')?.induction?.find(({ id }) => id === step.itemId)
  return `“${item?.name ?? 'an item of the induction'}”`
}

/** What reaches it, for somebody whose level in its technique is `level`. */
export function sayWayTo(step: PathStep, level: number): string {
  if (step.kind === 'item') return 'Staff go through it with you and tick it.'
  if (level === 0) return 'A first sign-off lets you learn it beside a mentor.'
  if (level === 1) return 'Shifts beside a mentor, then a sign-off. The line-up leans towards it.'
  return 'Shifts at it, then a sign-off. The line-up leans towards it.'
}

/** Why somebody is not put to work yet; empty when nothing is missing. */
export const sayMissing = (missing: readonly InductionItem[]): string =>
  missing.length === 0 ? '' : `Not put to work before ${sayList(missing.map(({ name }) => `“${name}”`))}.`

/** The step as a sentence begins. */
export const sayNextStep = (step: PathStep, records: Records): string => `${capital(sayPathStep(step, records))}.`
