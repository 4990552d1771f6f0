// What the crew leaves beside the people themselves: each sign-off as it was given, and turns offered to each other.
import * as z from 'zod/mini'
import { Instant, Level, LocalDate, OptionalLine, PersonId, PieceId, RecordId, ShiftId, TechniqueId } from './atoms.ts'

/**
 * One sign-off as it was given, raised, lowered or taken off (level 0). Office document: its note is for staff. Never
 * changed, and removed only with the person's private data.
 */
export const Signing = z.strictObject({
  /** The id of the op. */
  id: RecordId,
  personId: PersonId,
  techniqueId: TechniqueId,
  level: Level,
  /** Who signed; null for the server. */
  by: z.nullable(PersonId),
  at: Instant,
  expiresOn: z.nullable(LocalDate),
  /** The piece it was seen on. */
  pieceId: z.nullable(PieceId),
  note: OptionalLine,
})
export type Signing = z.infer<typeof Signing>

/**
 * Somebody was expected and did not come. In the office document, and there for managers alone; taken off by a manager,
 * and with the person's private data. Id = `date.shift.person`.
 */
export const NoShow = z.strictObject({
  id: RecordId,
  personId: PersonId,
  date: LocalDate,
  shiftId: ShiftId,
  by: PersonId,
  at: Instant,
})
export type NoShow = z.infer<typeof NoShow>

/** A turn of a posted day that its person would give away. Id = the assignment's, `date.shift.person`. */
export const Swap = z.strictObject({
  id: RecordId,
  personId: PersonId,
  date: LocalDate,
  shiftId: ShiftId,
  at: Instant,
  note: OptionalLine,
  /** Who took it, what they gave for it (an assignment of theirs, or null), and when; null while it is offered. */
  taken: z.nullable(z.strictObject({ by: PersonId, gave: z.nullable(RecordId), at: Instant })),
})
export type Swap = z.infer<typeof Swap>
