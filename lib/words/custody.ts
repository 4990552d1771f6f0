// What is known of a piece beside the work on it: how it was judged and when, what it belongs to, how it is housed, whose
// hands it is in, and what the racks bear. All but the racks are only added to.
import * as z from 'zod/mini'
import {
  DueId,
  Instant,
  Kg,
  Line,
  LocalDate,
  OptionalLine,
  PersonId,
  PieceId,
  Prose,
  Rating,
  RecordId,
  TechniqueId,
} from './atoms.ts'

/** Square centimetres of surface. */
export const SurfaceCm2 = z.number().check(z.gte(0), z.lte(1_000_000))

/** What a piece is prepared for. */
export const Purpose = z.enum(['research', 'exhibit', 'both'])

/** What a judgement of a piece meant for one of its dates, as its author was told. */
const Meant = z.strictObject({
  dueId: DueId,
  date: LocalDate,
  /** Chance before and after, and the day by which half of the futures are ready; null where it could not be told. */
  before: z.nullable(z.number().check(z.gte(0), z.lte(1))),
  after: z.nullable(z.number().check(z.gte(0), z.lte(1))),
  medianBefore: z.nullable(LocalDate),
  medianAfter: z.nullable(LocalDate),
})

/** One judgement of what is in a jacket, or of a specimen. A later one stands beside it; this one stays. */
export const Assessment = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  by: PersonId,
  at: Instant,
  /** The lab's local date. */
  on: LocalDate,
  /** The one that counted before; null for the first. */
  former: z.nullable(RecordId),
  why: z.enum(['first look', 'surprise at opening', 'in the course of work']),
  rockHardness: Rating,
  contrast: Rating,
  soundness: Rating,
  breakage: Rating,
  /** Surface of bone that shows, and that has still to be exposed, cm². */
  exposedCm2: SurfaceCm2,
  toExposeCm2: SurfaceCm2,
  taxon: OptionalLine,
  element: OptionalLine,
  purpose: Purpose,
  side: OptionalLine,
  stopLine: OptionalLine,
  forceCeiling: TechniqueId,
  note: Prose,
  meant: z.array(Meant).check(z.maxLength(20)),
})
export type Assessment = z.infer<typeof Assessment>

/** Pieces that belong together. Nothing is renumbered; it ends by a later record that names this one. */
export const Relation = z.strictObject({
  id: RecordId,
  what: z.enum(['one animal', 'split', 'counterpart']),
  /** For a split the whole comes first, then its parts. */
  pieceIds: z.array(PieceId).check(z.minLength(2), z.maxLength(60)),
  note: OptionalLine,
  by: PersonId,
  at: Instant,
  /** The relation that this record ends; null when it begins one. */
  ends: z.nullable(RecordId),
})
export type Relation = z.infer<typeof Relation>

/** What a specimen lies in from then on. The latest counts. */
export const Housing = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  by: PersonId,
  at: Instant,
  form: z.enum(['cradle', 'clamshell']),
  materials: z.array(Line).check(z.maxLength(20)),
  liftPoints: OptionalLine,
  /** The side that can be studied without taking it out. */
  side: OptionalLine,
  /** Specimen and housing together. */
  massKg: Kg,
  isWeighed: z.boolean(),
  /** What the housing was made to bear. */
  bearsKg: Kg,
  shelf: OptionalLine,
  note: OptionalLine,
  /** Why it is of something that the lab's list does not allow round a piece. */
  despite: z.optional(OptionalLine),
})
export type Housing = z.infer<typeof Housing>

/** A signed-off change of hands. The latest says where the piece is. */
export const Custody = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  by: PersonId,
  at: Instant,
  on: LocalDate,
  /** lab: it came back. */
  to: z.enum(['collection', 'loan', 'exhibit', 'lab']),
  /** Who or which collection, borrower or exhibit has it. */
  holder: Line,
  receivedBy: OptionalLine,
  /** When a loan ends. */
  until: z.nullable(LocalDate),
  condition: OptionalLine,
  isPurposeMet: z.boolean(),
  isLabelled: z.boolean(),
  /** Where its photographs are; empty when there are none. */
  photographs: OptionalLine,
  /** What was missing when the manager signed all the same, as codes, and why. */
  missing: z.array(z.string().check(z.maxLength(40))).check(z.maxLength(30)),
  reason: OptionalLine,
})
export type Custody = z.infer<typeof Custody>

/** What a rack, or one shelf of it, is rated to bear; found by its name in a piece's shelf. */
export const Rack = z.strictObject({ id: RecordId, name: Line, ratedKg: Kg })
export type Rack = z.infer<typeof Rack>
