// What is asked about before something is put on a piece, or made up: nothing here is refused for good. A finding says what
// is unusual, and a reason that stays on record answers all of them.
import { type Batch, type Finding, finding, type Jar, type Material, type Records } from '#lib/words'
import { pieceOf } from './find.ts'

/** A material that stays on or in the piece; solvents and acids do not. */
const stays = (material: Readonly<Material>): boolean => material.what !== 'solvent' && material.what !== 'acid'

/** What is put where: a consolidant goes into the bone and into every sample taken of it afterwards. */
export type Putting = {
  readonly pieceId: string
  readonly batchId: string | undefined
  readonly isSoakedIn: boolean
  /** The lab's local date. */
  readonly on: string
}

/**
 * What is asked about a batch put on a piece: one that has run out of its date, a material that the lab's list does not
 * allow in contact, a consolidant while samples are wanted or nobody has said.
 */
export function askedOfUse(records: Records, { pieceId, batchId, isSoakedIn, on }: Putting): readonly Finding[] {
  const batch = batchId === undefined ? undefined : records.batch.get(batchId)
  const material = batch && records.material.get(batch.materialId)
  const samples = isSoakedIn ? samplesOpen(records, pieceId) : null
  return [
    ...(batch ? askedOfAge(batch, on) : []),
    ...(material && stays(material) && !material.allowedFor.includes('contact')
      ? [finding('O', 'not-for-contact', { material: material.id })]
      : []),
    ...(samples === null ? [] : [finding('O', samples, { piece: pieceId })]),
  ]
}

/** A batch past its date. */
function askedOfAge(batch: Readonly<Batch>, on: string): readonly Finding[] {
  return batch.expiresOn !== null && batch.expiresOn < on
    ? [finding('O', 'batch-expired', { batch: batch.id, date: batch.expiresOn })]
    : []
}

/** Whether samples of a piece are still to be taken; null when they are taken or nobody wants any. */
function samplesOpen(records: Records, pieceId: string): 'samples-first' | 'samples-unsaid' | null {
  const told = pieceOf(records, pieceId)?.sampling
  if (told === undefined) return 'samples-unsaid'
  return told === 'wanted' ? 'samples-first' : null
}

/** What a batch is made of, as far as it is asked about. */
type Making = Pick<Readonly<Batch>, 'materialId' | 'lot' | 'solventId' | 'thinnedFrom' | 'madeOn'>

/** What is asked about making up a batch: a solvent it does not go into, a stock past its date, a lot that nobody tested. */
export function askedOfMaking(records: Records, making: Making): readonly Finding[] {
  const material = records.material.get(making.materialId)
  const solvents = material?.solventIds ?? []
  const stock = making.thinnedFrom && records.batch.get(making.thinnedFrom.batchId)
  return [
    ...(making.solventId !== null && solvents.length > 0 && !solvents.includes(making.solventId)
      ? [finding('O', 'solvent-unsuited', { material: making.materialId, solvent: making.solventId })]
      : []),
    ...(stock ? askedOfAge(stock, making.madeOn) : []),
    ...(material && isOtherLot(material, making.lot)
      ? [finding('O', 'lot-untested', { material: material.id, lot: material.testedLot })]
      : []),
  ]
}

/** A new lot is a new test: resins change without a change of name. */
const isOtherLot = ({ testedLot }: Readonly<Material>, lot: string): boolean =>
  testedLot.trim() !== '' && lot.trim() !== '' && testedLot.trim() !== lot.trim()

/**
 * What is asked about the materials of a housing, by their names on the lab's list: one that is allowed neither on a piece
 * nor in one box with it. What is not on the list is not known, and not asked about.
 */
export function askedOfHousing(records: Records, names: readonly string[]): readonly Finding[] {
  const plain = (name: string) => name.trim().toLocaleLowerCase('en')
  const wanted = new Set(names.map(plain))
  return [...records.material.values()]
    .filter((one) => stays(one) && wanted.has(plain(one.name)))
    .filter(({ allowedFor }) => !allowedFor.includes('contact') && !allowedFor.includes('enclosure'))
    .map(({ id }) => finding('O', 'not-for-housing', { material: id }))
}

/** The batch as a record keeps it. */
export function jarOf(records: Records, batchId: string): Jar | null {
  const batch = records.batch.get(batchId)
  const material = batch && records.material.get(batch.materialId)
  if (!batch || !material) return null
  const solvent = batch.solventId === null ? '' : (records.material.get(batch.solventId)?.name ?? '')
  const { id, number, lot, strength } = batch
  return { batchId: id, number, material: material.name, lot, solvent, strength }
}

/** Batches that are in use, the newest first. */
export function batchesInUse(records: Records): readonly Readonly<Batch>[] {
  return [...records.batch.values()].filter(({ ended }) => ended === null).toSorted((a, b) => b.number - a.number)
}
