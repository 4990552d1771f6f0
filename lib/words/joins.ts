// A broken specimen on the tray: its numbered fragments as measured, which pairs were held together and what came of
// it, and which joins are made. All of it is only added to: of a fragment's number, and of a pair, the newest counts.
import * as z from 'zod/mini'
import { Instant, LocalDate, OptionalLine, PersonId, PieceId, RecordId, TimeOfDay } from './atoms.ts'
import { Jar } from './materials.ts'

/** Most fragments of one tray: 19 900 pairs. */
export const FRAGMENTS_MAX = 200

/** How a break edge runs, seen from its own fragment with the outer face up; worn edges tell no more. */
export const edgeProfiles = ['straight', 'bowed out', 'bowed in', 'wavy', 'stepped', 'worn'] as const

/** The natural face of a fragment that is best to tell. */
export const surfaceKinds = ['smooth', 'grooved', 'pitted', 'spongy', 'joint face', 'enamel', 'none left'] as const

const Millimetres = z.number().check(z.gt(0), z.lte(2000))

/** One break edge. Natural margins are no break edges and are not listed. */
export const BreakEdge = z.strictObject({
  lengthMm: Millimetres,
  /** At the middle of the edge; null where not measured. */
  thicknessMm: z.nullable(Millimetres),
  profile: z.enum(edgeProfiles),
  /** Seen to be closed by a neighbour in the assembly, or to lead nowhere: no mate is looked for. */
  isTaken: z.optional(z.boolean()),
})
export type BreakEdge = z.infer<typeof BreakEdge>

const ChartStep = z.nullable(z.int().check(z.gte(1), z.lte(7)))

/** The number inked on a fragment and on its cell of the tray: what it is called by. */
const FragmentNumber = z.int().check(z.gte(1), z.lte(FRAGMENTS_MAX))

/** Two fragments by number, the lower first, so that a pair is one pair. */
export const FragmentPair = z.tuple([FragmentNumber, FragmentNumber])
export type FragmentPair = Readonly<z.infer<typeof FragmentPair>>

/** A fragment of a piece as measured; measured again, it is a new record. `isGone` when it was none, or was lost. */
export const Fragment = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  number: FragmentNumber,
  /** At the middle; null where not measured. */
  thicknessMm: z.nullable(Millimetres),
  /** Step on the lab's chart from 1 fine to 7 coarse. */
  texture: ChartStep,
  /** Step on the lab's chart from 1 pale to 7 dark. */
  shade: ChartStep,
  surface: z.nullable(z.enum(surfaceKinds)),
  edges: z.array(BreakEdge).check(z.maxLength(16)),
  note: OptionalLine,
  isGone: z.boolean(),
  by: PersonId,
  at: Instant,
})
export type Fragment = z.infer<typeof Fragment>

/** Two fragments were held together. `no fit` is a result too. Never changed; a newer try of the pair counts instead. */
export const PairTry = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  pair: FragmentPair,
  result: z.enum(['fit', 'no fit', 'unsure']),
  by: PersonId,
  at: Instant,
})
export type PairTry = z.infer<typeof PairTry>

/** A join as it was made or undone. Never changed; the newest of a pair counts. */
export const Join = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  pair: FragmentPair,
  /** Held dry to see; glued; or taken apart. */
  state: z.enum(['trial', 'glued', 'undone']),
  /** Adhesive as on the bottle; empty for a trial. */
  adhesive: OptionalLine,
  /** The batch it came from, where the lab keeps batches. */
  batchId: z.nullable(RecordId),
  /** That batch, as it was. */
  jar: z.optional(Jar),
  /** Why it was put on although something was asked about. */
  despite: z.optional(OptionalLine),
  /** Lab's date and time at which it has cured; null where nothing cures. */
  curedAt: z.nullable(z.strictObject({ date: LocalDate, time: TimeOfDay })),
  by: PersonId,
  at: Instant,
})
export type Join = z.infer<typeof Join>
