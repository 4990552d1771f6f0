// When a specimen may leave the lab for good: what a hand-over asks for and what of it is missing. One finding for each
// thing, so that a screen can lead to where it is put right.
import { type Custody, type Finding, finding, type Housing, type Records } from '#lib/words'
import { massKgOf } from './find.ts'
import { newestOf } from './newest.ts'
import { photosShown } from './photos.ts'

/** What is said at the hand-over itself. */
type Said = Pick<
  Readonly<Custody>,
  'to' | 'holder' | 'receivedBy' | 'until' | 'condition' | 'isPurposeMet' | 'isLabelled' | 'photographs'
>

/** The housing a specimen lies in: the latest written. */
export function housingOf(records: Records, pieceId: string): Readonly<Housing> | null {
  return newestOf([...records.housing.values()].filter((one) => one.pieceId === pieceId))
}

/**
 * What is missing before a specimen is handed over. Reads its Sheet, which must be loaded: logs, entries, assessments,
 * housings and photographs. A field jacket is refused as such: it is a container for the way, not for a collection.
 */
export function missingAtHandOver(records: Records, pieceId: string, said: Said): readonly Finding[] {
  const specimen = records.specimen.get(pieceId)
  if (!specimen) return records.jacket.has(pieceId) ? [finding('O', 'hand-field-jacket', { piece: pieceId })] : []
  const ids = { piece: pieceId }
  const missing: Finding[] = []
  const ask = (fact: boolean, code: string, more: Finding['ids'] = {}, numbers: Finding['numbers'] = {}) => {
    if (!fact) missing.push(finding('O', code, { ...ids, ...more }, numbers))
  }
  for (const step of records.step.values())
    if (step.pieceId === pieceId)
      ask(step.state === 'done' || step.state === 'dropped', 'hand-step-open', { step: step.id })
  ask(said.isPurposeMet, 'hand-purpose')
  ask(said.condition.trim() !== '', 'hand-condition')
  ask(said.isLabelled, 'hand-labels')
  const isShown = photosShown(records.photo.values(), pieceId).length > 0
  ask(isShown || said.photographs.trim() !== '', 'hand-photographs')
  const housing = housingOf(records, pieceId)
  ask(housing !== null, 'hand-housing')
  if (housing) {
    // The housing carries the specimen at its heaviest: a weighing, else the upper estimate.
    const massKg = Math.max(massKgOf(specimen), housing.massKg)
    ask(housing.bearsKg + 1e-6 >= massKg, 'hand-housing-weak', {}, { bearsKg: housing.bearsKg, massKg })
  }
  const isOf = (one: { readonly pieceId: string }) => one.pieceId === pieceId
  ask([...records.log.values()].some(isOf) || [...records.entry.values()].some(isOf), 'hand-record')
  ask([...records.assessment.values()].some(isOf) || specimen.ratings.by !== null, 'hand-assessment')
  for (const question of records.question.values())
    if (isOf(question)) ask(question.answer !== null, 'hand-question', { question: question.id })
  ask(said.to !== 'collection' || specimen.catalogueNumber.trim() !== '', 'hand-catalogue')
  ask(said.to !== 'loan' || said.until !== null, 'hand-until')
  return missing
}
