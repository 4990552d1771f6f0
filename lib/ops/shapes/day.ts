// The acts that make a day: holds and forbids before it is posted, the post itself, seats by hand, claims.
import * as z from 'zod/mini'
import { Assignment, Forbid, Forecast, LocalDate, OpId, Prose, RecordId } from '#lib/words'

/** Assignments one posted day may have: three shifts of several hundred people. */
const ASSIGNMENTS_MAX = 1000

const turn = {
  date: Assignment.shape.date,
  shiftId: Assignment.shape.shiftId,
  personId: Assignment.shape.personId,
  pieceId: Assignment.shape.pieceId,
  stepId: Assignment.shape.stepId,
  placeId: Assignment.shape.placeId,
}

/** Fixes one assignment that every draw-up keeps. */
export const HoldTurn = z.strictObject({ id: OpId, kind: z.literal('hold'), ...turn })
export const Unhold = z.strictObject({ id: OpId, kind: z.literal('unhold'), holdId: RecordId })

export const ForbidTurn = z.strictObject({ id: OpId, kind: z.literal('forbid'), forbid: Forbid })
export const AllowTurn = z.strictObject({ id: OpId, kind: z.literal('allow'), forbidId: RecordId })

/** Makes a line-up everybody's: the whole day, in one act. */
export const Post = z.strictObject({
  id: OpId,
  kind: z.literal('post'),
  date: LocalDate,
  assignments: z
    .array(z.omit(Assignment, { id: true, date: true, how: true, by: true, at: true }))
    .check(z.maxLength(ASSIGNMENTS_MAX)),
  note: Prose,
})

/** What the person is held to afterwards; only a way back says it, to leave the hold as it was. */
const hold = z.optional(z.strictObject({ pieceId: turn.pieceId, stepId: turn.stepId, placeId: turn.placeId }))

/**
 * Seats one person by hand on a posted day; a person who sits elsewhere in that shift moves. A hold of theirs goes along,
 * so that no draw-up brings them back.
 */
export const Seat = z.strictObject({ id: OpId, kind: z.literal('seat'), ...turn, hold })
/** Takes one person off the seat, and off the hold that would bring them back. */
export const Unseat = z.strictObject({ id: OpId, kind: z.literal('unseat'), assignmentId: RecordId, hold })

/** Takes a free piece for oneself. */
export const Claim = z.strictObject({
  id: OpId,
  kind: z.literal('claim'),
  date: turn.date,
  shiftId: turn.shiftId,
  pieceId: turn.pieceId,
  stepId: turn.stepId,
  placeId: turn.placeId,
})
export const Unclaim = z.strictObject({ id: OpId, kind: z.literal('unclaim'), assignmentId: RecordId })

/** Forecasts kept in one act, at most. */
const FORECASTS_MAX = 200

/** The server's act of keeping what it forecast, and what became of it. */
export const KeepForecasts = z.strictObject({
  id: OpId,
  kind: z.literal('keepForecasts'),
  forecasts: z.array(Forecast).check(z.minLength(1), z.maxLength(FORECASTS_MAX)),
})

/** One has seen that one's seat was changed. */
export const SeenReseat = z.strictObject({ id: OpId, kind: z.literal('seenReseat'), assignmentId: RecordId })

/** The server's act at the start of a day: closes what was forgotten, lets go of what is older than a week. */
export const BeginDay = z.strictObject({ id: OpId, kind: z.literal('beginDay'), date: LocalDate })
