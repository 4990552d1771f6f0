// What the lab puts on its pieces: the list of what it allows and for what, and each batch as it was made up. A batch keeps
// its convention and what was weighed; what goes onto a piece is copied into that piece's record with it, so that the
// record is whole without the list.
import * as z from 'zod/mini'
import { Instant, Line, LocalDate, OptionalLine, PersonId, RecordId } from './atoms.ts'

/** wv: g in 100 ml of finished solution. ww: g in 100 g of solution. per100ml: g in 100 ml of solvent. */
const StrengthConvention = z.enum(['wv', 'ww', 'per100ml'])

/** A percentage says nothing without its convention, so they come together. */
export const Strength = z.strictObject({
  amount: z.number().check(z.gt(0), z.lte(1000)),
  convention: StrengthConvention,
})
export type Strength = z.infer<typeof Strength>

/** What a material is allowed for: touching the piece for good, in one box with it, or on it for a while. */
export const allowances = ['contact', 'enclosure', 'temporary'] as const

/** A resin, adhesive, filler, solvent or acid of the lab. Whether it is allowed, and since which test, is the lab's own. */
export const Material = z.strictObject({
  id: RecordId,
  name: Line,
  what: z.enum(['resin', 'adhesive', 'gap filler', 'solvent', 'acid']),
  /** Empty: not on the list of what is allowed. */
  allowedFor: z.array(z.enum(allowances)).check(z.maxLength(3)),
  /** When it was tested, and the lot and result; null where nobody has. */
  testedOn: z.nullable(LocalDate),
  testedLot: OptionalLine,
  testNote: OptionalLine,
  /** Grams in a millilitre; null where unknown. */
  densityGMl: z.nullable(z.number().check(z.gt(0), z.lte(25))),
  /** Solvents it goes into; empty where nobody has said. */
  solventIds: z.array(RecordId).check(z.maxLength(20)),
  isActive: z.boolean(),
  note: OptionalLine,
})
export type Material = z.infer<typeof Material>

/** Grams or millilitres, as weighed or measured. */
const Measured = z.nullable(z.number().check(z.gt(0), z.lte(1_000_000)))

/** One bottle or bath as it was made up, or one container as it was bought. Only its end is added afterwards. */
export const Batch = z.strictObject({
  id: RecordId,
  /** What stands on its label: the lab counts its batches. */
  number: z.int().check(z.gte(1), z.lte(1_000_000)),
  materialId: RecordId,
  /** The maker's lot. */
  lot: OptionalLine,
  /** Null where nothing was added: bought ready, or put on neat. */
  solventId: z.nullable(RecordId),
  solventLot: OptionalLine,
  strength: z.nullable(Strength),
  /** As weighed and measured; null for what was not. */
  weighed: z.strictObject({ resinG: Measured, solventG: Measured, solventMl: Measured, volumeMl: Measured }),
  /** The batch it was thinned from, and how much of that. */
  thinnedFrom: z.nullable(z.strictObject({ batchId: RecordId, stockMl: Measured, stockG: Measured })),
  madeOn: LocalDate,
  expiresOn: z.nullable(LocalDate),
  note: OptionalLine,
  /** Why it was made although something was asked about. */
  despite: OptionalLine,
  by: PersonId,
  at: Instant,
  ended: z.nullable(
    z.strictObject({ why: z.enum(['used up', 'thrown away', 'entered wrongly']), on: LocalDate, by: PersonId }),
  ),
})
export type Batch = z.infer<typeof Batch>

/** What went onto a piece from a batch, as the batch was that day; stamped by the gate. */
export const Jar = z.strictObject({
  batchId: RecordId,
  number: Batch.shape.number,
  material: Line,
  lot: OptionalLine,
  solvent: OptionalLine,
  strength: z.nullable(Strength),
})
export type Jar = z.infer<typeof Jar>
