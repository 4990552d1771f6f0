// What stands on a label: where its code leads, the number that is read by eye, and the lines under it.
import type { RecordOf, Records } from '#lib/words'
import { numberBatch, sayContents, sayDate, sayKg, sayStrength } from '../_text/index.ts'

/** Kinds of label, each with its size in millimetres; labels.css has the same. */
export const labelForms = {
  tray: { word: 'Tray', widthMm: 50, heightMm: 25, lines: 2 },
  jacket: { word: 'Jacket', widthMm: 60, heightMm: 40, lines: 5 },
  housing: { word: 'Housing', widthMm: 90, heightMm: 50, lines: 6 },
  bottle: { word: 'Bottle', widthMm: 50, heightMm: 30, lines: 5 },
} as const
export type LabelForm = keyof typeof labelForms

export type Label = {
  readonly id: string
  /** Path of this lab that the code opens. */
  readonly path: string
  readonly number: string
  readonly lines: readonly string[]
}

const said = (parts: readonly (string | null | undefined)[]) => parts.filter((part): part is string => !!part)

/** The label of a piece; null where there is none on the board. */
export function pieceLabel(records: Records, id: string): Label | null {
  const specimen = records.specimen.get(id)
  const jacket = records.jacket.get(id)
  if (specimen) return { id, path: `/p/${id}`, number: specimen.number, lines: ofSpecimen(specimen) }
  return jacket ? { id, path: `/p/${id}`, number: jacket.fieldNumber, lines: ofJacket(jacket) } : null
}

function ofSpecimen(one: RecordOf<'specimen'>): readonly string[] {
  return said([
    one.name,
    said([one.taxon, one.element]).join(', '),
    one.catalogueNumber && `catalogue number ${one.catalogueNumber}`,
    said([one.locality, one.horizon]).join(', '),
    one.housedKg === undefined ? null : `${sayKg(one.housedKg)} with its housing`,
    one.fragile && `fragile: ${one.fragile}`,
  ])
}

function ofJacket(one: RecordOf<'jacket'>): readonly string[] {
  return said([
    one.partOf && `${one.partOf.n} of ${one.partOf.total}`,
    one.contents,
    said([one.locality, one.horizon]).join(', '),
    said([one.collector, one.collectedOn && sayDate(one.collectedOn, 'full')]).join(', '),
    one.hazards.join(', '),
    one.faceUp && `up: ${one.faceUp}`,
  ])
}

/** The label of a bottle. */
export function batchLabel(records: Records, id: string): Label | null {
  const batch = records.batch.get(id)
  if (!batch) return null
  const nameOf = (materialId: string | null) =>
    materialId === null ? '' : (records.material.get(materialId)?.name ?? '')
  return {
    id,
    path: `/batches?batch=${id}`,
    number: numberBatch(batch.number),
    lines: said([
      sayContents({ material: nameOf(batch.materialId), solvent: nameOf(batch.solventId) }),
      batch.strength && sayStrength(batch.strength),
      batch.lot && `lot ${batch.lot}`,
      `made ${sayDate(batch.madeOn, 'full')} by ${records.person.get(batch.by)?.name ?? ''}`,
      batch.expiresOn && `use until ${sayDate(batch.expiresOn, 'full')}`,
    ]),
  }
}
