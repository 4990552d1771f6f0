// The people: who they are, what they can do, when they come.
import { z } from 'zod'
import {
  Instant,
  Level,
  Line,
  LocalDate,
  Minutes,
  OptionalLine,
  PersonId,
  PieceId,
  Prose,
  RecordId,
  Role,
  ShiftId,
  TechniqueId,
  TimeOfDay,
} from './atoms.ts'

/** One skill with its sign-off. */
export const Skill = z.strictObject({
  techniqueId: TechniqueId,
  level: Level,
  /** Who signed it off; null when taken over from before Talus. */
  by: PersonId.nullable(),
  on: LocalDate,
  /** Last day on which it counts (respirator fit, hoist, acid); null when it does not run out. */
  expiresOn: LocalDate.nullable(),
})
export type Skill = z.infer<typeof Skill>

/** One person of the crew, or one researcher. */
export const Person = z.strictObject({
  id: PersonId,
  /** The name everybody sees, on the Wall too: a first name, made unique in the lab. */
  name: Line,
  /** Family name; never sent to the Wall or to researchers. */
  familyName: OptionalLine,
  role: Role.exclude(['wall']),
  skills: z.array(Skill).max(60),
  /** Weekly pattern. */
  pattern: z.array(z.strictObject({ weekday: z.int().min(1).max(7), shiftId: ShiftId })).max(60),
  /** Deviations from the pattern: away or extra on a date, for one shift or all (null). */
  exceptions: z
    .array(
      z.strictObject({
        date: LocalDate,
        shiftId: ShiftId.nullable(),
        kind: z.enum(['away', 'extra']),
      }),
    )
    .max(400),
  /** Techniques this person loves doing. */
  loves: z.array(TechniqueId).max(20),
  since: LocalDate,
  /** False after leaving: stays in the record, is offered nothing. */
  isActive: z.boolean(),
  /** False until the invitation was used or a session was opened by the manager. */
  hasJoined: z.boolean(),
})
export type Person = z.infer<typeof Person>

/** Whether somebody is in for a shift. Id = `date.shift.person`, so two ticks at once are one record. */
export const Attendance = z.strictObject({
  id: RecordId,
  personId: PersonId,
  date: LocalDate,
  shiftId: ShiftId,
  state: z.enum(['in', 'late', 'away', 'left']),
  /** When a late person is expected. */
  dueAt: TimeOfDay.nullable(),
  at: Instant,
})
export type Attendance = z.infer<typeof Attendance>

/** Hours given in a calendar year. Id = `year.person`. */
export const Tally = z.strictObject({
  id: RecordId,
  personId: PersonId,
  year: z.int().min(1900).max(2200),
  minutes: Minutes,
  stretches: z.int().min(0),
})
export type Tally = z.infer<typeof Tally>

/** Somebody asks to be signed off for the next level of a technique. Id = `person.technique`. */
export const SignOffAsk = z.strictObject({
  id: RecordId,
  personId: PersonId,
  techniqueId: TechniqueId,
  at: Instant,
  note: OptionalLine,
})
export type SignOffAsk = z.infer<typeof SignOffAsk>

/** How to reach a person, in the office document: managers and staff only. Id = the person's id. */
export const Contact = z.strictObject({
  id: PersonId,
  phone: OptionalLine,
  email: OptionalLine,
  emergency: OptionalLine,
})
export type Contact = z.infer<typeof Contact>

/** A private note of the manager's, in the office document. */
export const PrivateNote = z.strictObject({
  id: RecordId,
  aboutPersonId: PersonId.nullable(),
  aboutPieceId: PieceId.nullable(),
  text: Prose,
  by: PersonId,
  at: Instant,
})
export type PrivateNote = z.infer<typeof PrivateNote>
