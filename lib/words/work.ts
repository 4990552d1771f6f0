// The work of a day: who does what where, and what was done.
import * as z from 'zod/mini'
import {
  Instant,
  LocalDate,
  Minutes,
  OptionalLine,
  PersonId,
  PieceId,
  PlaceId,
  Prose,
  RecordId,
  ShiftId,
  StepId,
  TechniqueId,
} from './atoms.ts'
import { Jar } from './materials.ts'
import { EntryKind, Treatment } from './treatment.ts'

/** One person at one place on one step in one shift. Id = `date.shift.person`: rule R1 in the form of a key. */
export const Assignment = z.strictObject({
  id: RecordId,
  date: LocalDate,
  shiftId: ShiftId,
  personId: PersonId,
  pieceId: PieceId,
  stepId: StepId,
  placeId: PlaceId,
  /** Drawn by the solver and posted, held by hand, or claimed by the person. */
  how: z.enum(['drawn', 'held', 'claimed']),
  /** Whoever posted, held or claimed. */
  by: PersonId,
  at: Instant,
})
export type Assignment = z.infer<typeof Assignment>

/**
 * A seat of a posted day that another hand changed or took, until its person has seen it. Id = the assignment's. What
 * they have now is the assignment itself.
 */
export const Reseat = z.strictObject({
  /** `date.shift.person` */
  id: RecordId,
  date: LocalDate,
  shiftId: ShiftId,
  personId: PersonId,
  /** What they last knew of; null when they had no seat. */
  was: z.nullable(z.strictObject({ pieceId: PieceId, stepId: StepId, placeId: PlaceId })),
  by: PersonId,
  at: Instant,
})
export type Reseat = z.infer<typeof Reseat>

/** A wish of the manager for one day that every draw-up keeps; office document, not everybody's until posted. */
export const Hold = z.strictObject({
  /** `date.shift.person` */
  id: RecordId,
  date: LocalDate,
  shiftId: ShiftId,
  personId: PersonId,
  pieceId: PieceId,
  stepId: StepId,
  placeId: PlaceId,
})
export type Hold = z.infer<typeof Hold>

/** What a draw-up must not do: this person with this piece, at this place, or beside that person. Office document. */
export const Forbid = z.strictObject({
  id: RecordId,
  /** One day, or every day (null). */
  date: z.nullable(LocalDate),
  personId: PersonId,
  pieceId: z.nullable(PieceId),
  placeId: z.nullable(PlaceId),
  withPersonId: z.nullable(PersonId),
})
export type Forbid = z.infer<typeof Forbid>

/** Work begun today and not yet rested: running, paused, or finished earlier today. Moves to the Sheet as a log. */
export const Work = z.strictObject({
  id: RecordId,
  personId: PersonId,
  pieceId: PieceId,
  stepId: StepId,
  placeId: PlaceId,
  techniqueId: TechniqueId,
  date: LocalDate,
  shiftId: ShiftId,
  state: z.enum(['running', 'paused', 'finished']),
  startedAt: Instant,
  /** Start of the present stretch; null while paused or finished. */
  since: z.nullable(Instant),
  /** Minutes of finished stretches. */
  minutes: Minutes,
  /** Minutes in which the tool ran in the hand, as stated at the finish. */
  runningMinutes: Minutes,
})
export type Work = z.infer<typeof Work>

/** One finished stretch of work, on the piece's Sheet. Never changed or removed; a correction names the old. */
export const Log = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  stepId: StepId,
  personId: PersonId,
  placeId: PlaceId,
  techniqueId: TechniqueId,
  date: LocalDate,
  shiftId: ShiftId,
  startedAt: Instant,
  finishedAt: Instant,
  /** Bench minutes. */
  minutes: Minutes,
  /** Tool-in-hand minutes. */
  runningMinutes: Minutes,
  note: Prose,
  /** Whether the technique moved the rock, where that was said. */
  movedRock: z.optional(z.boolean()),
  /** What was put on, from a batch of the lab. */
  jar: z.optional(Jar),
  /** Why it was put on although something was asked about. */
  despite: z.optional(OptionalLine),
  /** The log this one corrects. */
  corrects: z.nullable(RecordId),
  /** Set when nobody finished the work and the next day closed it at the end of its shift. */
  closedBy: z.optional(z.literal('day')),
  /** Who wrote it, where somebody finished or corrected it for whom it is about; every correction has both. */
  writtenBy: z.optional(PersonId),
  /** When that was. */
  writtenAt: z.optional(Instant),
})
export type Log = z.infer<typeof Log>

/** One entry of the treatment record, on the piece's Sheet. Never changed or removed; a correction names the old. */
export const Entry = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  by: PersonId,
  at: Instant,
  kind: EntryKind,
  techniqueId: z.nullable(TechniqueId),
  text: Prose,
  corrects: z.nullable(RecordId),
  detail: z.optional(Treatment),
})
export type Entry = z.infer<typeof Entry>
