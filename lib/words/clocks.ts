// What takes time and no hands: a bath, a rinse, something that dries or cures. Each is a clock on the board with its end,
// and may have more after it: acid in, out, rinse, coat.
import * as z from 'zod/mini'
import {
  Instant,
  LocalDate,
  Minutes,
  OptionalLine,
  PersonId,
  PieceId,
  RecordId,
  StepId,
  TechniqueId,
  TimeOfDay,
} from './atoms.ts'

/** A time of the lab: its local date and time of day. */
export const LabTime = z.strictObject({ date: LocalDate, time: TimeOfDay })
export type LabTime = Readonly<z.infer<typeof LabTime>>

/** What goes on by itself. Coating takes hands, and stands in the chain so that a bath is not begun on bare bone. */
export const processes = ['acid bath', 'rinsing', 'coating', 'drying', 'curing', 'setting', 'soaking'] as const
const Process = z.enum(processes)
export type Process = z.infer<typeof Process>

/** One process that runs on a piece. As it ends it becomes an entry of the treatment record and leaves the board. */
export const Clock = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  /** The step that wants hands as it ends; null where none does. */
  stepId: z.nullable(StepId),
  /** Whoever may see to it works alone in this technique; null: whoever is in. */
  techniqueId: z.nullable(TechniqueId),
  what: Process,
  /** Which part of it, or with what: fragments 3 and 7. */
  about: OptionalLine,
  begun: LabTime,
  ends: LabTime,
  /** Why it ends although nobody who may see to it is expected then. */
  despite: OptionalLine,
  /** What comes after it, and for how long as planned. */
  next: z.array(z.strictObject({ what: Process, minutes: Minutes })).check(z.maxLength(12)),
  by: PersonId,
  at: Instant,
})
export type Clock = z.infer<typeof Clock>
