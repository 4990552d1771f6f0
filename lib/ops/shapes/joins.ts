// The acts at the joining tray: measure fragments, say what came of a pair, make or undo a join.
import * as z from 'zod/mini'
import { Fragment, Join, OpId, PairTry, PieceId, RecordId } from '#lib/words'

/** Fragments measured in one act. */
const MEASURED_MAX = 50

const Measured = z.omit(Fragment, { pieceId: true, by: true, at: true })

/** Lays fragments into the tray, or measures them again; each is a record of its own. */
export const MeasureFragments = z.strictObject({
  id: OpId,
  kind: z.literal('measureFragments'),
  pieceId: PieceId,
  fragments: z.array(Measured).check(z.minLength(1), z.maxLength(MEASURED_MAX)),
  /** Numbers must be free: two people who lay out the same tray must not measure over each other. */
  areNew: z.boolean(),
})

/** Says what came of holding two fragments together. */
export const TryPair = z.strictObject({
  id: OpId,
  kind: z.literal('tryPair'),
  tryId: RecordId,
  pieceId: PieceId,
  pair: PairTry.shape.pair,
  result: PairTry.shape.result,
})

/** Makes a join, dry or glued, or takes one apart. */
export const JoinPair = z.strictObject({
  id: OpId,
  kind: z.literal('joinPair'),
  joinId: RecordId,
  pieceId: PieceId,
  pair: Join.shape.pair,
  state: Join.shape.state,
  adhesive: Join.shape.adhesive,
  batchId: Join.shape.batchId,
  /** Why that batch where something is asked about it. */
  despite: Join.shape.despite,
  curedAt: Join.shape.curedAt,
})
