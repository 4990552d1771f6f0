// The pieces: jackets and blocks as they came in, specimens as they are worked on, their steps and dates.
import * as z from 'zod/mini'
import {
  DueId,
  Hours,
  Instant,
  Kg,
  Line,
  LocalDate,
  Metres,
  Minutes,
  OptionalLine,
  PersonId,
  PieceId,
  PlaceId,
  Prose,
  Rating,
  RecordId,
  StepId,
  TechniqueId,
  TimeOfDay,
} from './atoms.ts'
import { Custody, Purpose, SurfaceCm2 } from './custody.ts'

/** Kilograms in a cubic metre. */
const KgM3 = z.number().check(z.gte(0), z.lte(30_000))

/** Mass with its basis; a weighing stands beside the estimate, both are kept. */
const Mass = z.strictObject({
  lowKg: Kg,
  highKg: Kg,
  weighedKg: z.nullable(Kg),
  /** When it was weighed. */
  weighedOn: z.optional(LocalDate),
  /** What the estimate was counted from: the rock's density and the plaster round it. */
  from: z.optional(
    z.strictObject({
      rock: OptionalLine,
      lowKgM3: KgM3,
      highKgM3: KgM3,
      plasterMm: z.number().check(z.gte(0), z.lte(500)),
    }),
  ),
})

const whatEveryPieceHas = {
  id: PieceId,
  /** Where it is shelved, in the lab's own words: rack 1, shelf b. */
  shelf: OptionalLine,
  /** The place it lies at now; null when on the shelf. */
  placeId: z.nullable(PlaceId),
  /** True when it cannot be moved from its place for now. */
  isTied: z.boolean(),
  lengthM: Metres,
  widthM: Metres,
  heightM: Metres,
  mass: Mass,
  note: Prose,
  /** Why it stands on a rack that may bear less than it weighs at the most. */
  standsDespite: z.optional(OptionalLine),
  /** Samples for chemistry or DNA, which are taken before anything is soaked in; nobody has said where left out. */
  sampling: z.optional(z.enum(['wanted', 'taken', 'not wanted'])),
}

/** A jacket or block as it came from the field. */
export const Jacket = z.strictObject({
  ...whatEveryPieceHas,
  /** As inked on the plaster. */
  fieldNumber: Line,
  /** Expected contents. */
  contents: OptionalLine,
  container: z.enum(['jacket', 'block', 'bag']),
  state: z.enum(['sealed', 'opened', 'empty']),
  /** Jacket n of N of one find. */
  partOf: z.nullable(
    z.strictObject({
      n: z.int().check(z.gte(1), z.lte(999)),
      total: z.int().check(z.gte(1), z.lte(999)),
    }),
  ),
  locality: OptionalLine,
  horizon: OptionalLine,
  collector: OptionalLine,
  collectedOn: z.nullable(LocalDate),
  rockHardness: Rating,
  hazards: z.array(z.enum(['wet', 'mould', 'pyrite', 'old plaster', 'radioactive'])).check(z.maxLength(5)),
  /** Chosen for this season; sealed jackets outside the choice rest in the archive. */
  isInSeason: z.boolean(),
  /** Which face lies upwards now, as found or turned. */
  faceUp: z.optional(OptionalLine),
  /** What is drawn on it or on its slip, in words. */
  sketchNote: z.optional(OptionalLine),
  fieldNotes: z.optional(Prose),
  hazardNote: z.optional(OptionalLine),
  /** Number or text of the permit it was collected under. */
  permit: z.optional(OptionalLine),
  /** Whose it is: land owner, state, collection. */
  owner: z.optional(OptionalLine),
})
export type Jacket = z.infer<typeof Jacket>

export const Stage = z.enum(['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed', 'released'])
export type Stage = z.infer<typeof Stage>

/** What is known of a specimen before and during work; each rating from 1 to 5. */
const Ratings = z.strictObject({
  /** Hard to scratch: 1 crumbles under a brush, 5 rings under a hammer. */
  rockHardness: Rating,
  /** How well bone stands out from rock: 1 hardly, 5 at a glance. */
  contrast: Rating,
  /** How sound the bone is: 1 powder, 5 like stone. */
  soundness: Rating,
  /** How broken: 1 whole, 5 in many pieces. */
  breakage: Rating,
  /** Surface still to expose, cm². */
  toExposeCm2: SurfaceCm2,
  on: LocalDate,
  by: z.nullable(PersonId),
})

/** One specimen under preparation. */
export const Specimen = z.strictObject({
  ...whatEveryPieceHas,
  /** The lab's number, as shown on every tag. */
  number: Line,
  catalogueNumber: OptionalLine,
  /** What it is thought to be: Skull in block. */
  name: Line,
  /** The jacket it came from. */
  jacketId: z.nullable(PieceId),
  locality: OptionalLine,
  horizon: OptionalLine,
  stage: Stage,
  stageSince: LocalDate,
  /** The strongest technique of the ladder allowed. */
  forceCeiling: TechniqueId,
  ratings: Ratings,
  purpose: Purpose,
  /** Which side must be seen or studied. */
  side: OptionalLine,
  /** Where work must end. */
  stopLine: OptionalLine,
  /** Where it is fragile; empty when nowhere in particular. */
  fragile: OptionalLine,
  /** Delicate or priority: asks for level 3. */
  isPriority: z.boolean(),
  /** What animal and which part of it, as guessed so far. */
  taxon: z.optional(OptionalLine),
  element: z.optional(OptionalLine),
  /** What stands on the rack: the specimen with its housing. */
  housedKg: z.optional(Kg),
})
export type Specimen = z.infer<typeof Specimen>

/** One stretch of work on a piece with one technique. */
export const Step = z.strictObject({
  id: StepId,
  pieceId: PieceId,
  techniqueId: TechniqueId,
  title: Line,
  /** Order on the Sheet. */
  rank: z.int().check(z.gte(0), z.lte(10_000)),
  /** Steps that must be done before. */
  after: z.array(StepId).check(z.maxLength(20)),
  /** Hours of the whole step as estimated: low, likely, high. */
  hours: z.strictObject({ lowH: Hours, likelyH: Hours, highH: Hours }),
  state: z.enum(['waiting', 'begun', 'done', 'dropped']),
  doneMinutes: Minutes,
  /** Surface the piece had still to expose when the step was begun, cm²: what is left of it is counted from here. */
  begunCm2: z.optional(SurfaceCm2),
  /** As it was noted before clocks were records of their own; the next day makes one of it. */
  endsAt: z.optional(
    z.strictObject({
      date: LocalDate,
      time: TimeOfDay,
      /** Why it ends although nobody who may see to it is expected then. */
      despite: z.optional(OptionalLine),
    }),
  ),
  /** Who has worked on it and for how long; most first. */
  by: z.array(z.strictObject({ personId: PersonId, minutes: Minutes })).check(z.maxLength(60)),
  /** Hands needed at once, and how many can work at once. */
  peopleMin: z.int().check(z.gte(1), z.lte(12)),
  peopleMax: z.int().check(z.gte(1), z.lte(12)),
})
export type Step = z.infer<typeof Step>

/** A recorded decision to go above a specimen's force ceiling. Only added to. */
export const Escalation = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  techniqueId: TechniqueId,
  /** Where the test patch was made, and what it showed. */
  testPatch: Line,
  reason: Line,
  by: PersonId,
  at: Instant,
  /** Set when it was withdrawn by a later entry; the record stays. */
  endedAt: z.nullable(Instant),
})
export type Escalation = z.infer<typeof Escalation>

/** A date by which a piece must be ready. */
export const Due = z.strictObject({
  id: DueId,
  pieceId: PieceId,
  date: LocalDate,
  kind: z.enum(['exhibit', 'loan', 'visit', 'thesis', 'own']),
  isHard: z.boolean(),
  state: z.enum(['asked', 'accepted', 'declined', 'met', 'dropped']),
  by: PersonId,
  note: OptionalLine,
})
export type Due = z.infer<typeof Due>

/** The chance of a date as it was told on a day, kept once a week so that drift is seen. Id = `due.on`. */
export const Outlook = z.strictObject({
  id: RecordId,
  dueId: DueId,
  on: LocalDate,
  /** The date it was told for: moved since, the two are not to be compared. */
  date: LocalDate,
  /** Share of futures in which the piece is ready on the date. */
  chance: z.number().check(z.gte(0), z.lte(1)),
  /** The day by which half of the futures are ready; null: not within the season. */
  median: z.nullable(LocalDate),
})
export type Outlook = z.infer<typeof Outlook>

/** A question on a piece, and its answer. */
export const Question = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  by: PersonId,
  at: Instant,
  text: Prose,
  answer: z.nullable(z.strictObject({ by: PersonId, at: Instant, text: Prose })),
})
export type Question = z.infer<typeof Question>

/** Somebody follows a piece. Id = `piece.person`. */
export const Watch = z.strictObject({
  id: RecordId,
  pieceId: PieceId,
  personId: PersonId,
})
export type Watch = z.infer<typeof Watch>

/** A piece at rest in the archive, with all that belonged to it on the board. Id = the piece's id. */
export const Resting = z.strictObject({
  id: PieceId,
  jacket: z.nullable(Jacket),
  specimen: z.nullable(Specimen),
  steps: z.array(Step).check(z.maxLength(400)),
  dues: z.array(Due).check(z.maxLength(100)),
  escalations: z.array(Escalation).check(z.maxLength(100)),
  questions: z.array(Question).check(z.maxLength(200)),
  watches: z.array(Watch).check(z.maxLength(100)),
  since: LocalDate,
  /** The import that brought it; gone once it was on the board. */
  importId: z.optional(RecordId),
  /** Whose hands it left into. */
  custody: z.optional(Custody),
  /** Words of its Sheet that it is found by: what was written, by whom, on which days. */
  found: z.optional(Prose),
})
export type Resting = z.infer<typeof Resting>
