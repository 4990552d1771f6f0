// The people: who they are, what they can do, when they come.
import * as z from 'zod/mini'
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
  ShiftId,
  TechniqueId,
  TimeOfDay,
} from './atoms.ts'

/** One skill with its sign-off. */
const Skill = z.strictObject({
  techniqueId: TechniqueId,
  level: Level,
  /** Who signed it off; null when taken over from before Talus. */
  by: z.nullable(PersonId),
  on: LocalDate,
  /** Last day on which it counts (respirator fit, hoist, acid); null when it does not run out. */
  expiresOn: z.nullable(LocalDate),
  /** The piece it was seen on, where the sign-off named one. */
  pieceId: z.optional(PieceId),
})

const Half = z.strictObject({ weekday: z.int().check(z.gte(1), z.lte(7)), shiftId: ShiftId })

/** A stretch of dates in which another week holds than usual: a term, or a holiday (no shift at all). Why is nobody's business. */
export const Spell = z.strictObject({ from: LocalDate, to: LocalDate, pattern: z.array(Half).check(z.maxLength(60)) })

export type Spell = z.infer<typeof Spell>

/** One person of the crew, or one researcher. */
export const Person = z.strictObject({
  id: PersonId,
  /** The name everybody sees, on the Wall too: a first name, made unique in the lab. */
  name: Line,
  /** Family name; never sent to the Wall or to researchers. */
  familyName: OptionalLine,
  role: z.enum(['manager', 'preparator', 'volunteer', 'researcher']),
  skills: z.array(Skill).check(z.maxLength(60)),
  /** Weekly pattern. */
  pattern: z.array(Half).check(z.maxLength(60)),
  /** Stretches with a week of their own; where two meet, the shorter holds. */
  spells: z.optional(z.array(Spell).check(z.maxLength(40))),
  /** Deviations from the pattern: away or extra on a date, for one shift or all (null). */
  exceptions: z
    .array(
      z.strictObject({
        date: LocalDate,
        shiftId: z.nullable(ShiftId),
        kind: z.enum(['away', 'extra']),
        /** Read out of the person's own calendar, which may take it back. */
        isFromCalendar: z.optional(z.literal(true)),
      }),
    )
    .check(z.maxLength(400)),
  /** Techniques this person loves doing. */
  loves: z.array(TechniqueId).check(z.maxLength(20)),
  /** Crafts they bring along: modelling, carpentry, painting, microscope work. */
  crafts: z.optional(z.array(Line).check(z.maxLength(20))),
  /** The learning path they follow. */
  pathId: z.optional(z.nullable(RecordId)),
  /** Items of the induction they have been through: who ticked them, and when. */
  inducted: z.optional(
    z.array(z.strictObject({ itemId: RecordId, by: PersonId, on: LocalDate })).check(z.maxLength(80)),
  ),
  since: LocalDate,
  /** True for whoever looks after the safety of all: reads health figures, samples and incidents beside the managers. */
  isSafety: z.optional(z.boolean()),
  /** False after leaving: stays in the record, is offered nothing. */
  isActive: z.boolean(),
  /** Set when their private data was taken out: on which day, and under which attribution the record keeps them. */
  erased: z.optional(z.strictObject({ on: LocalDate, as: z.enum(['name', 'initials', 'volunteer']) })),
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
  dueAt: z.nullable(TimeOfDay),
  at: Instant,
})
export type Attendance = z.infer<typeof Attendance>

/** Hours given in a calendar year. Id = `year.person`. */
export const Tally = z.strictObject({
  id: RecordId,
  personId: PersonId,
  year: z.int().check(z.gte(1900), z.lte(2200)),
  minutes: Minutes,
  stretches: z.int().check(z.gte(0)),
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

/** A private note of the manager's, in the office document; shown to managers alone. */
export const PrivateNote = z.strictObject({
  id: RecordId,
  aboutPersonId: z.nullable(PersonId),
  aboutPieceId: z.nullable(PieceId),
  text: Prose,
  by: PersonId,
  at: Instant,
})
export type PrivateNote = z.infer<typeof PrivateNote>

/** Days over which fairness and continuity look back. */
export const DAYS_LOOKED_BACK = 28

/**
 * What a person had on the bench in the last four weeks, for fairness and the same hands: kept when the days themselves
 * leave the board. In the office document, since it compares people. Id = the person's id.
 */
export const Lately = z.strictObject({
  id: PersonId,
  /** Oldest first; one entry for each piece of a shift. */
  turns: z
    .array(
      z.strictObject({
        date: LocalDate,
        shiftId: ShiftId,
        pieceId: PieceId,
        /** What everybody wanted (100) or nobody (0), as the piece stood then; 50 is ordinary. */
        appealPct: z.int().check(z.gte(0), z.lte(100)),
      }),
    )
    .check(z.maxLength(500)),
})
export type Lately = z.infer<typeof Lately>
