// The acts on the lab's list of materials and on its batches.
import * as z from 'zod/mini'
import { Batch, Material, OpId, RecordId } from '#lib/words'

/** Puts a material on the list, or changes what is known of it. */
export const SetMaterial = z.strictObject({ id: OpId, kind: z.literal('setMaterial'), material: Material })

/** A batch was made up, thinned or bought; its number is the lab's next. `despite` answers what is asked about. */
export const MakeBatch = z.strictObject({
  id: OpId,
  kind: z.literal('makeBatch'),
  batch: z.omit(Batch, { number: true, by: true, at: true, ended: true }),
})

/** A batch is used up, thrown away or was entered wrongly; null takes that back. */
export const EndBatch = z.strictObject({
  id: OpId,
  kind: z.literal('endBatch'),
  batchId: RecordId,
  why: z.nullable(z.enum(['used up', 'thrown away', 'entered wrongly'])),
})
