// The acts at the bench: start, pause, resume, finish, and what is written into the record of a piece.
import * as z from 'zod/mini'
import { Entry, OpId, OptionalLine, PieceId, Prose, RecordId, Treatment } from '#lib/words'

/** Longest stretch of work that is believed: one day. */
export const STRETCH_MINUTES_MAX = 1440

const StretchMinutes = z.int().check(z.gte(0), z.lte(STRETCH_MINUTES_MAX))
const WrittenProse = Prose.check(z.refine((value) => value.trim().length > 0, { error: 'empty text' }))

export const Start = z.strictObject({
  id: OpId,
  kind: z.literal('start'),
  workId: RecordId,
  assignmentId: RecordId,
})
export const Pause = z.strictObject({ id: OpId, kind: z.literal('pause'), workId: RecordId })
export const Resume = z.strictObject({ id: OpId, kind: z.literal('resume'), workId: RecordId })

/** Ends a stretch of work and logs it. `minutes` null takes the clock's; `shelf` says where the piece was put away. */
export const Finish = z.strictObject({
  id: OpId,
  kind: z.literal('finish'),
  workId: RecordId,
  logId: RecordId,
  minutes: z.nullable(StretchMinutes),
  runningMinutes: StretchMinutes,
  note: Prose,
  movedRock: z.optional(z.boolean()),
  /** The batch that was put on, and why where something is asked about it. */
  batchId: z.optional(RecordId),
  despite: z.optional(OptionalLine),
  stepDone: z.boolean(),
  shelf: z.nullable(OptionalLine),
})

/** A new log that names the one it corrects. */
export const CorrectLog = z.strictObject({
  id: OpId,
  kind: z.literal('correctLog'),
  logId: RecordId,
  corrects: RecordId,
  pieceId: PieceId,
  minutes: StretchMinutes,
  /** Null leaves what was stated, which its corrector may not be able to read. */
  runningMinutes: z.nullable(StretchMinutes),
  note: Prose,
})

/** Adds to the treatment record. */
export const Write = z.strictObject({
  id: OpId,
  kind: z.literal('write'),
  entryId: RecordId,
  pieceId: PieceId,
  entryKind: Entry.shape.kind,
  techniqueId: Entry.shape.techniqueId,
  text: WrittenProse,
  /** What is said beside the words; the batch is named by its id, and what it was is stamped. */
  detail: z.optional(z.omit(Treatment, { jar: true, despite: true })),
  batchId: z.optional(RecordId),
  /** Why it was put on where something is asked about. */
  despite: z.optional(OptionalLine),
})

/** A new entry that names the one it corrects. */
export const CorrectEntry = z.strictObject({
  id: OpId,
  kind: z.literal('correctEntry'),
  entryId: RecordId,
  corrects: RecordId,
  pieceId: PieceId,
  text: WrittenProse,
})
