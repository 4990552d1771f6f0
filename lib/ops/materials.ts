// The lab's list of materials and its batches. What is unusual is asked about and answered by a reason that stays; what
// makes no sense is refused.
import { askedOfMaking, askedOfUse, jarOf, type Putting } from '#lib/rules'
import { type Finding, finding, type Jar, put, type Records } from '#lib/words'
import { by, defineOp } from './op.ts'
import { isSameName, must, unknown, unless } from './parts.ts'

/** What is asked about, unless a reason answers it. */
export const unanswered = (asked: readonly Finding[], despite: string | undefined): readonly Finding[] =>
  (despite ?? '').trim() === '' ? asked : []

/** What stands against something put on a piece: a batch nobody knows, or what is asked about and not answered. */
export function judgePutting(records: Records, putting: Putting, despite: string | undefined): readonly Finding[] {
  const { batchId } = putting
  if (batchId !== undefined && jarOf(records, batchId) === null) return [unknown('batch', batchId)]
  return unanswered(askedOfUse(records, putting), despite)
}

/** What a record says of it: the batch as it was, and the reason. */
export function putOn(records: Records, batchId: string | null | undefined, despite: string | undefined) {
  const jar: Jar | null = batchId ? jarOf(records, batchId) : null
  const reason = (despite ?? '').trim()
  return { ...(jar && { jar }), ...(reason !== '' && { despite: reason }) }
}

export const setMaterial = defineOp<'setMaterial'>({
  kind: 'setMaterial',
  roles: by.staff,
  judge: (records, { material }) => {
    const twin = [...records.material.values()].find(
      (one) => one.id !== material.id && isSameName(one.name, material.name),
    )
    const old = records.material.get(material.id)
    return [
      ...(twin ? [finding('O', 'material-name-taken', { material: twin.id })] : []),
      ...judgeSolvents(records, material.solventIds),
      // A batch keeps what its material is: a solvent that becomes a resin would make nonsense of the bottles.
      ...unless(!old || old.what === material.what, 'O', 'material-changed', { material: material.id }),
    ]
  },
  apply: (_records, { material }) => [put('material', material)],
  inverse: (records, { material }, id) => {
    const old = records.material.get(material.id)
    return old ? { id, kind: 'setMaterial', material: old } : null
  },
})

function judgeSolvents(records: Records, ids: readonly string[]): readonly Finding[] {
  return ids.flatMap((id) => (records.material.get(id)?.what === 'solvent' ? [] : [unknown('solvent', id)]))
}

export const makeBatch = defineOp<'makeBatch'>({
  kind: 'makeBatch',
  roles: by.crew,
  judge: (records, { batch }, _who, when) => {
    const { id, materialId, solventId, strength, thinnedFrom, madeOn, expiresOn, despite } = batch
    const stock = thinnedFrom && records.batch.get(thinnedFrom.batchId)
    const findings = [
      ...unless(!records.batch.has(id), 'R6', 'only-added', { record: id }),
      ...(records.material.get(materialId)?.isActive ? [] : [unknown('material', materialId)]),
      ...judgeSolvents(records, solventId === null ? [] : [solventId]),
      ...unless(madeOn <= when.date, 'O', 'not-yet', { date: madeOn }),
      ...unless(expiresOn === null || expiresOn >= madeOn, 'O', 'expires-before', { date: expiresOn ?? '' }),
      ...unless(strength === null || strength.convention !== 'ww' || strength.amount <= 100, 'O', 'too-strong'),
      ...(thinnedFrom && !stock ? [unknown('batch', thinnedFrom.batchId)] : []),
      ...(stock ? judgeThinning(batch, stock) : []),
    ]
    return findings.length > 0 ? findings : unanswered(askedOfMaking(records, batch), despite)
  },
  apply: (records, { batch }, who, when) => {
    const number = 1 + Math.max(0, ...[...records.batch.values()].map((one) => one.number))
    return [put('batch', { ...batch, number, by: who.personId, at: when.at, ended: null })]
  },
})

type Made = Parameters<typeof askedOfMaking>[1] & { readonly strength: Jar['strength'] }

/** Thinned is the same material, counted in the same way, and weaker than it was. */
function judgeThinning({ materialId, strength }: Made, stock: Made & { readonly id: string }): readonly Finding[] {
  const isSame = stock.materialId === materialId && stock.strength?.convention === strength?.convention
  return [
    ...unless(isSame && stock.strength !== null, 'O', 'thinned-other', { batch: stock.id }),
    ...unless(!stock.strength || !strength || strength.amount < stock.strength.amount, 'O', 'not-thinner', {
      batch: stock.id,
    }),
  ]
}

export const endBatch = defineOp<'endBatch'>({
  kind: 'endBatch',
  roles: by.crew,
  judge: (records, { batchId, why }) => {
    const batch = records.batch.get(batchId)
    if (!batch) return [unknown('batch', batchId)]
    return unless((batch.ended === null) !== (why === null), 'O', 'as-it-is', { batch: batchId })
  },
  apply: (records, { batchId, why }, who, when) => [
    put('batch', {
      ...must(records.batch.get(batchId), 'a batch'),
      ended: why === null ? null : { why, on: when.date, by: who.personId },
    }),
  ],
  // Taken back, it is in use; that it ended once before, by whom and when, cannot be said again by somebody else.
  inverse: (_records, { batchId, why }, id) => (why === null ? null : { id, kind: 'endBatch', batchId, why: null }),
})
