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

export const SetContact = z.strictObject({ id: OpId, kind: z.literal('setContact'), contact: Contact })

/** A private note; who wrote it and when is stamped. */
export const WritePrivateNote = z.strictObject({
  id: OpId,
  kind: z.literal('writePrivateNote'),
  note: z.omit(PrivateNote, { by: true, at: true }),
})
