// Forecasts of hours as they are kept when they are made, so that they can be looked at again when the work is done,
// and what the lab's past has taught about hours.
import * as z from 'zod/mini'
import {
  Hours,
  Instant,
  LocalDate,
  Minutes,
  PersonId,
  PieceId,
  Rating,
  RecordId,
  StepId,
  TechniqueId,
} from './atoms.ts'
import { Technique } from './lab.ts'

/** What is known of a step before it is worked on, as the hours model sees it. Null is: not known. */
export const StepFacts = z.strictObject({
  group: Technique.shape.group,
  techniqueId: TechniqueId,
  /** Surface that the step is about, cm². */
  sizeCm2: z.nullable(z.number().check(z.gt(0), z.lte(1_000_000))),
  /** Ratings from 1 to 5, as on the Sheet. */
  rockHardness: z.nullable(Rating),
  contrast: z.nullable(Rating),
  soundness: z.nullable(Rating),
  breakage: z.nullable(Rating),
  isPriority: z.boolean(),
  /** Steps of the same group on the piece, this one with them: they share its work. */
  sharedBy: z.int().check(z.gte(1), z.lte(1000)),
  /** Mean of the typed low, likely and high; null when nobody typed one. */
  typedH: z.nullable(Hours),
  /** True while nobody has seen what is inside. */
  isUnseen: z.boolean(),
})
export type StepFacts = z.infer<typeof StepFacts>

/** Hours as a lognormal: half of the chance below the median, and the spread of their logarithm. */
const HoursSpread = z.strictObject({
  median: z.number().check(z.gt(0)),
  logSd: z.number().check(z.gte(0), z.lte(20)),
})

/** One forecast of a step, or what became of it. Only added to; nobody's document, read through a question alone. */
export const Forecast = z.strictObject({
  /** `step.why.instant` */
  id: RecordId,
  stepId: StepId,
  pieceId: PieceId,
  at: Instant,
  /** The lab's local date then. */
  on: LocalDate,
  /** begun, changed: a forecast was made. finished, dropped: its work ended with `doneMinutes`. */
  why: z.enum(['begun', 'changed', 'finished', 'dropped']),
  /** Minutes worked on the step by then, and by whom. */
  doneMinutes: Minutes,
  by: z.array(z.strictObject({ personId: PersonId, minutes: Minutes })).check(z.maxLength(60)),
  facts: StepFacts,
  /** Hours still to be worked, as forecast; null where none was made. */
  left: z.nullable(HoursSpread),
  /** The same by plainer ways, made at the same moment: all steps alike, the same technique, the typed estimate. */
  beside: z.nullable(z.strictObject({ lab: HoursSpread, like: HoursSpread, typed: z.nullable(HoursSpread) })),
})
export type Forecast = z.infer<typeof Forecast>

const Finite = z.number()
const Variance = z.number().check(z.gte(0))

/**
 * What the lab's past teaches about hours. One record, with the id `hours`; worked out anew by the server whenever a step
 * is begun or ends, so it is in no log. Vectors run parallel to `keys`; nothing in it is about any one person but the
 * shifts of `hands`, which are of steps.
 */
export const HoursLearnt = z.strictObject({
  id: z.literal('hours'),
  keys: z.array(z.string().check(z.maxLength(80))).check(z.maxLength(200)),
  mean: z.array(Finite).check(z.maxLength(200)),
  /** Lower half of the covariance, row by row. */
  covariance: z.array(Finite).check(z.maxLength(20_100)),
  /** Variance of a step's noise without and with a typed estimate. */
  noise: z.tuple([Variance, Variance]),
  /** Variance between pieces, between techniques, between hands. */
  piece: Variance,
  technique: Variance,
  hands: Variance,
  /** Weight of a typed estimate against the facts, 0 to 1. */
  trust: Variance,
  /** How practised the hands have been of late, on the scale of learning: 0 is eight finished steps at the technique. */
  skill: Finite,
  /** What windows are widened by (narrowed, below 1): how wide they should have been so far. */
  widen: Variance,
  /** Finished and unfinished steps behind it. */
  finished: z.int().check(z.gte(0)),
  open: z.int().check(z.gte(0)),
  /** Steps in work, by whose hands they are in: log hours more or less, and how sure that is. */
  byHands: z.array(z.strictObject({ stepId: StepId, shift: Finite, variance: Variance })).check(z.maxLength(2000)),
})
export type HoursLearnt = z.infer<typeof HoursLearnt>
