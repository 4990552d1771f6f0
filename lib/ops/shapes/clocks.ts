// The acts on what takes time and no hands.
import * as z from 'zod/mini'
import { Clock, Entry, LabTime, OpId, OptionalLine, PieceId, RecordId } from '#lib/words'

/** Something begins that ends by itself. `despite` answers an end with nobody there. */
export const StartClock = z.strictObject({
  id: OpId,
  kind: z.literal('startClock'),
  clock: z.omit(Clock, { by: true, at: true }),
})

/** It ends at another time. */
export const MoveClock = z.strictObject({
  id: OpId,
  kind: z.literal('moveClock'),
  clockId: RecordId,
  ends: LabTime,
  despite: OptionalLine,
})

/** It has ended: what was seen goes into the treatment record, and what comes after it begins, to end at `ends`. */
export const EndClock = z.strictObject({
  id: OpId,
  kind: z.literal('endClock'),
  clockId: RecordId,
  pieceId: PieceId,
  entryId: RecordId,
  text: Entry.shape.text,
  ended: LabTime,
  /** Null where nothing comes after it. */
  ends: z.nullable(LabTime),
  despite: OptionalLine,
})

/** It was entered wrongly: it leaves no entry. */
export const DropClock = z.strictObject({ id: OpId, kind: z.literal('dropClock'), clockId: RecordId })
