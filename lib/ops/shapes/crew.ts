// The acts among the crew: turns offered to each other and taken.
import * as z from 'zod/mini'
import { OpId, OptionalLine, PersonId, RecordId } from '#lib/words'

/** Offers a turn of one's own to others. */
export const OfferSwap = z.strictObject({
  id: OpId,
  kind: z.literal('offerSwap'),
  assignmentId: RecordId,
  note: OptionalLine,
})

/** Takes an offer back. */
export const DropSwap = z.strictObject({ id: OpId, kind: z.literal('dropSwap'), swapId: RecordId })

/** Takes the offered turn, and gives a turn of one's own for it, or none. */
export const TakeSwap = z.strictObject({
  id: OpId,
  kind: z.literal('takeSwap'),
  swapId: RecordId,
  gives: z.nullable(RecordId),
})

/** Takes somebody's private data out; the record keeps them under the attribution they chose. */
export const ErasePerson = z.strictObject({
  id: OpId,
  kind: z.literal('erasePerson'),
  personId: PersonId,
  as: z.enum(['name', 'initials', 'volunteer']),
})
