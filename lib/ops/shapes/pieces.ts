// The acts on pieces: intake, edits, ceiling and escalations, stages, shelves, steps, dates, questions, the archive.
import * as z from 'zod/mini'
import {
  Due,
  DueId,
  Jacket,
  Line,
  LocalDate,
  OpId,
  OptionalLine,
  Outlook,
  PieceId,
  PlaceId,
  Prose,
  RecordId,
  Specimen,
  Stage,
  Step,
  StepId,
  TechniqueId,
} from '#lib/words'

/** Steps a piece may be taken in with, and may have at all. */
export const STEPS_MAX = 100

const WrittenProse = Prose.check(z.refine((value) => value.trim().length > 0, { error: 'empty text' }))

export const AddJacket = z.strictObject({
  id: OpId,
  kind: z.literal('addJacket'),
  jacket: Jacket,
  steps: z.array(Step).check(z.maxLength(STEPS_MAX)),
})

/** Changes what is known of a jacket; opening it and where it lies are acts of their own. */
export const EditJacket = z.strictObject({
  id: OpId,
  kind: z.literal('editJacket'),
  pieceId: PieceId,
  patch: z.partial(z.omit(Jacket, { id: true, state: true, placeId: true })),
})

export const AddSpecimen = z.strictObject({
  id: OpId,
  kind: z.literal('addSpecimen'),
  specimen: Specimen,
  steps: z.array(Step).check(z.maxLength(STEPS_MAX)),
})

/** Changes what is known of a specimen; stage, ceiling, ratings and where it lies are acts of their own. */
export const EditSpecimen = z.strictObject({
  id: OpId,
  kind: z.literal('editSpecimen'),
  pieceId: PieceId,
  patch: z.partial(
    z.omit(Specimen, { id: true, stage: true, stageSince: true, forceCeiling: true, ratings: true, placeId: true }),
  ),
})

/** Sets the strongest technique allowed; the reason goes into the treatment record as `entryId`. */
export const SetCeiling = z.strictObject({
  id: OpId,
  kind: z.literal('setCeiling'),
  pieceId: PieceId,
  techniqueId: TechniqueId,
  reason: Line,
  entryId: RecordId,
})

/** Allows one technique above the ceiling, with the test patch and the reason. */
export const Escalate = z.strictObject({
  id: OpId,
  kind: z.literal('escalate'),
  escalationId: RecordId,
  pieceId: PieceId,
  techniqueId: TechniqueId,
  testPatch: Line,
  reason: Line,
  entryId: RecordId,
})

export const EndEscalation = z.strictObject({ id: OpId, kind: z.literal('endEscalation'), escalationId: RecordId })

export const OpenJacket = z.strictObject({ id: OpId, kind: z.literal('openJacket'), pieceId: PieceId })
export const EmptyJacket = z.strictObject({ id: OpId, kind: z.literal('emptyJacket'), pieceId: PieceId })

export const MoveStage = z.strictObject({
  id: OpId,
  kind: z.literal('moveStage'),
  pieceId: PieceId,
  stage: Stage,
  note: Prose,
  entryId: RecordId,
})

/** Puts a piece on a shelf (place null) or at a place. */
export const Shelve = z.strictObject({
  id: OpId,
  kind: z.literal('shelve'),
  pieceId: PieceId,
  shelf: OptionalLine,
  placeId: z.nullable(PlaceId),
  /** Why it may stand on a rack that perhaps bears less. */
  despite: z.optional(OptionalLine),
})

export const AddStep = z.strictObject({ id: OpId, kind: z.literal('addStep'), step: Step })

/** Changes the plan of a step; its hours done and its state come from work alone. */
export const EditStep = z.strictObject({
  id: OpId,
  kind: z.literal('editStep'),
  stepId: StepId,
  patch: z.partial(
    z.omit(Step, { id: true, pieceId: true, state: true, doneMinutes: true, begunCm2: true, endsAt: true, by: true }),
  ),
})

export const DropStep = z.strictObject({ id: OpId, kind: z.literal('dropStep'), stepId: StepId })
export const FinishStep = z.strictObject({ id: OpId, kind: z.literal('finishStep'), stepId: StepId })
export const ReopenStep = z.strictObject({ id: OpId, kind: z.literal('reopenStep'), stepId: StepId })

/** A date for a piece: accepted at once from a manager, asked for by others. */
export const AskDue = z.strictObject({
  id: OpId,
  kind: z.literal('askDue'),
  dueId: DueId,
  pieceId: PieceId,
  date: LocalDate,
  dueKind: Due.shape.kind,
  isHard: z.boolean(),
  note: OptionalLine,
})

export const AnswerDue = z.strictObject({
  id: OpId,
  kind: z.literal('answerDue'),
  dueId: DueId,
  accept: z.boolean(),
})

export const MoveDue = z.strictObject({
  id: OpId,
  kind: z.literal('moveDue'),
  dueId: DueId,
  date: LocalDate,
  isHard: z.boolean(),
})

export const EndDue = z.strictObject({
  id: OpId,
  kind: z.literal('endDue'),
  dueId: DueId,
  state: z.enum(['met', 'dropped']),
})

/** The server's note of what the dates' chances are this week. */
export const NoteOutlooks = z.strictObject({
  id: OpId,
  kind: z.literal('noteOutlooks'),
  on: LocalDate,
  outlooks: z.array(z.omit(Outlook, { id: true, on: true })).check(z.maxLength(2000)),
})

export const WatchPiece = z.strictObject({ id: OpId, kind: z.literal('watch'), pieceId: PieceId })
export const UnwatchPiece = z.strictObject({ id: OpId, kind: z.literal('unwatch'), pieceId: PieceId })

export const AskQuestion = z.strictObject({
  id: OpId,
  kind: z.literal('askQuestion'),
  questionId: RecordId,
  pieceId: PieceId,
  text: WrittenProse,
})

export const AnswerQuestion = z.strictObject({
  id: OpId,
  kind: z.literal('answerQuestion'),
  questionId: RecordId,
  text: WrittenProse,
})

/** Board to archive, with all that belongs to the piece. */
export const RestPiece = z.strictObject({ id: OpId, kind: z.literal('rest'), pieceId: PieceId })
/** Archive to board. */
export const BringBack = z.strictObject({ id: OpId, kind: z.literal('bringBack'), pieceId: PieceId })
