// The acts on people: who they are, when they come, what they are signed off for, whether they are in.
import * as z from 'zod/mini'
import {
  Attendance,
  Contact,
  Level,
  LocalDate,
  OpId,
  OptionalLine,
  Person,
  PersonId,
  PieceId,
  PrivateNote,
  RecordId,
  ShiftId,
  Spell,
  TechniqueId,
  TimeOfDay,
} from '#lib/words'

export const AddPerson = z.strictObject({ id: OpId, kind: z.literal('addPerson'), person: Person })

/** Changes who a person is; skills, pattern and exceptions have acts of their own. */
export const EditPerson = z.strictObject({
  id: OpId,
  kind: z.literal('editPerson'),
  personId: PersonId,
  patch: z.partial(
    z.pick(Person, {
      name: true,
      familyName: true,
      role: true,
      loves: true,
      crafts: true,
      pathId: true,
      since: true,
      isActive: true,
      hasJoined: true,
      isSafety: true,
    }),
  ),
})

/** Sets the weekly pattern whole. */
export const SetPattern = z.strictObject({
  id: OpId,
  kind: z.literal('setPattern'),
  personId: PersonId,
  pattern: Person.shape.pattern,
})

/** Sets the stretches with a week of their own, whole. */
export const SetSpells = z.strictObject({
  id: OpId,
  kind: z.literal('setSpells'),
  personId: PersonId,
  spells: z.array(Spell).check(z.maxLength(40)),
})

/** Lays the busy half-days of one's own calendar over a stretch of dates, in the place of those it said before. */
export const TakeCalendar = z.strictObject({
  id: OpId,
  kind: z.literal('takeCalendar'),
  from: LocalDate,
  to: LocalDate,
  busy: z.array(z.strictObject({ date: LocalDate, shiftId: ShiftId })).check(z.maxLength(400)),
})

/** Away or extra on a date, for one shift or all (null); `exception` null takes the deviation back. */
export const SetException = z.strictObject({
  id: OpId,
  kind: z.literal('setException'),
  personId: PersonId,
  date: LocalDate,
  shiftId: z.nullable(ShiftId),
  exception: z.nullable(z.enum(['away', 'extra'])),
})

/** Sets a person's level in a technique; level 0 takes the skill off. */
export const SignOff = z.strictObject({
  id: OpId,
  kind: z.literal('signOff'),
  personId: PersonId,
  techniqueId: TechniqueId,
  level: Level,
  expiresOn: z.nullable(LocalDate),
  /** The piece it was seen on. */
  pieceId: z.optional(PieceId),
  /** For staff alone. */
  note: z.optional(OptionalLine),
})

export const AskSignOff = z.strictObject({
  id: OpId,
  kind: z.literal('askSignOff'),
  techniqueId: TechniqueId,
  note: OptionalLine,
})

export const DropSignOffAsk = z.strictObject({ id: OpId, kind: z.literal('dropSignOffAsk'), askId: RecordId })

/** Ticks whether somebody is in for a shift; `state` null clears the tick. */
export const Attend = z.strictObject({
  id: OpId,
  kind: z.literal('attend'),
  personId: PersonId,
  date: LocalDate,
  shiftId: ShiftId,
  state: z.nullable(Attendance.shape.state),
  dueAt: z.nullable(TimeOfDay),
})

/** Ticks an item of the induction for some people, or takes the tick off. */
export const TickInduction = z.strictObject({
  id: OpId,
  kind: z.literal('tickInduction'),
  itemId: RecordId,
  personIds: z.array(PersonId).check(z.minLength(1), z.maxLength(500)),
  isDone: z.boolean(),
})

/** Marks that somebody was expected and did not come, or takes the mark off. */
export const MarkNoShow = z.strictObject({
  id: OpId,
  kind: z.literal('markNoShow'),
  personId: PersonId,
  date: LocalDate,
  shiftId: ShiftId,
  isNoShow: z.boolean(),
})

export const SetContact = z.strictObject({ id: OpId, kind: z.literal('setContact'), contact: Contact })

/** A private note; who wrote it and when is stamped. */
export const WritePrivateNote = z.strictObject({
  id: OpId,
  kind: z.literal('writePrivateNote'),
  note: z.omit(PrivateNote, { by: true, at: true }),
})
