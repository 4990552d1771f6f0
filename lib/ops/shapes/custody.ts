// The acts on what is known of a piece beside the work on it: assessments, relations, housing, racks, hand-over.
import * as z from 'zod/mini'
import { Assessment, Custody, Housing, Kg, Line, OpId, OptionalLine, PieceId, RecordId, Relation } from '#lib/words'

/** A judgement of what is in a piece. It becomes what is known of it; the former one stays. */
export const Assess = z.strictObject({
  id: OpId,
  kind: z.literal('assess'),
  assessment: z.omit(Assessment, { by: true, at: true, on: true, former: true }),
})

/** Pieces that belong together, by `relation.what`. */
export const Relate = z.strictObject({
  id: OpId,
  kind: z.literal('relate'),
  relation: z.omit(Relation, { by: true, at: true, ends: true }),
})

/** Ends a relation by a later record that names it. */
export const EndRelation = z.strictObject({
  id: OpId,
  kind: z.literal('endRelation'),
  relationId: RecordId,
  ends: RecordId,
  note: OptionalLine,
})

/** What a specimen lies in; with a shelf it goes there. `despite` answers a rack that may be over its rating. */
export const House = z.strictObject({
  id: OpId,
  kind: z.literal('house'),
  housing: z.omit(Housing, { by: true, at: true }),
  despite: OptionalLine,
})

/** What a rack is rated to bear; null takes the rating away. */
export const SetRack = z.strictObject({
  id: OpId,
  kind: z.literal('setRack'),
  rackId: RecordId,
  name: Line,
  ratedKg: z.nullable(Kg),
})

/** A specimen leaves the lab, signed off. With a reason a manager signs although something is missing. */
export const HandOver = z.strictObject({
  id: OpId,
  kind: z.literal('handOver'),
  custodyId: RecordId,
  pieceId: PieceId,
  said: z.extend(
    z.pick(Custody, {
      holder: true,
      receivedBy: true,
      until: true,
      condition: true,
      isPurposeMet: true,
      isLabelled: true,
      photographs: true,
    }),
    { to: z.enum(['collection', 'loan', 'exhibit']) },
  ),
  reason: OptionalLine,
})
