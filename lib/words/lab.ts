// The lab itself: its settings, the room as drawn, and the places in it.
import * as z from 'zod/mini'
import { isZone } from '#lib/base'
import {
  Instant,
  Kg,
  Line,
  LocalDate,
  Lpm,
  Metres,
  OptionalLine,
  PersonId,
  PlaceId,
  Prose,
  RecordId,
  ShiftId,
  TechniqueId,
  TimeOfDay,
} from './atoms.ts'
import { InductionItem, LearningPath } from './learning.ts'

/** A named part of the lab's day, such as Morning 09:30–12:30. */
export const Shift = z.strictObject({
  id: ShiftId,
  name: Line,
  start: TimeOfDay,
  end: TimeOfDay,
  /** ISO weekdays (1 Monday … 7 Sunday) on which the shift is held. */
  weekdays: z.array(z.int().check(z.gte(1), z.lte(7))).check(z.maxLength(7)),
})
export type Shift = z.infer<typeof Shift>

/** What a place can offer and a technique can need. */
export const Feature = z.enum([
  'microscope',
  'air line',
  'extraction',
  'fume hood',
  'blast cabinet',
  'acid tank',
  'hoist',
  'sand tray',
  'good light',
  'sink',
])
export type Feature = z.infer<typeof Feature>

/** Why a technique calls for a caution at the point of work. */
export const Hazard = z.enum(['vibration', 'noise', 'dust', 'solvent', 'acid', 'lift', 'sharp'])
export type Hazard = z.infer<typeof Hazard>

/** Where a tool's figure is from. A declared one may understate real use. */
const FigureBasis = z.enum(['declared', 'measured'])

/** One technique of the lab: on the ladder of force, or apart from it (joining, housing …). */
export const Technique = z.strictObject({
  id: TechniqueId,
  name: Line,
  /** Short name for tags. */
  short: Line,
  /** Place on the ladder, 1 gentlest; null for a technique apart from the ladder. */
  force: z.nullable(z.int().check(z.gte(1), z.lte(30))),
  /** Features a place must have. */
  needs: z.array(Feature).check(z.maxLength(6)),
  /** Compressed air drawn while the tool runs, litres a minute; 0 for none. */
  airLpm: Lpm,
  /** Share of bench time in which the tool runs in the hand, percent. */
  runningPct: z.int().check(z.gte(0), z.lte(100)),
  /** Vibration total value of the lab's tool, m/s²; null while nobody has measured or declared it. */
  vibrationMs2: z.nullable(z.number().check(z.gte(0), z.lte(100))),
  /** Where the vibration figure comes from: who measured or declared it, and when. */
  vibrationSource: OptionalLine,
  /** Uncertainty K of the vibration figure, m/s². */
  vibrationKMs2: z.optional(z.number().check(z.gte(0), z.lte(100))),
  /** Whether the maker declared the vibration figure or the lab had it measured. */
  vibrationBasis: z.optional(FigureBasis),
  /** When it was declared or measured. */
  vibrationOn: z.optional(LocalDate),
  /** Sound level at the ear while running, dB(A); null while unknown. */
  noiseDba: z.nullable(z.number().check(z.gte(0), z.lte(150))),
  /** Where the noise figure comes from. */
  noiseSource: OptionalLine,
  noiseBasis: z.optional(FigureBasis),
  /** Samples of a survey at the ear while it runs, dB(A); three or more give the day's uncertainty (ISO 9612). */
  noiseSamplesDba: z.optional(z.array(z.number().check(z.gte(0), z.lte(150))).check(z.maxLength(30))),
  noiseOn: z.optional(LocalDate),
  hazards: z.array(Hazard).check(z.maxLength(7)),
  /** What to wear, in the lab's words. */
  wear: z.optional(OptionalLine),
  /** What to do when it goes wrong, in the lab's words. */
  whenWrong: z.optional(OptionalLine),
  /** Bench minutes a person may be planned at it in a day; not given: no cap. */
  benchMinutesMax: z.optional(z.int().check(z.gte(0), z.lte(1440))),
  /** Stage group in which the technique is used, for the order of steps. */
  group: z.enum(['opening', 'exposing', 'consolidating', 'joining', 'housing', 'other']),
})
export type Technique = z.infer<typeof Technique>

/** The limits that line-ups keep; defaults are published action values, the lab's safety officer decides. */
export const Limits = z.strictObject({
  /** Hand-arm vibration exposure points a day (100 = action value 2.5 m/s² A(8), Directive 2002/44/EC). */
  vibrationPoints: z.int().check(z.gte(0), z.lte(400)),
  /** Daily noise exposure, dB(A) over 8 h (80 = lower action value, Directive 2003/10/EC). */
  noiseDba: z.number().check(z.gte(60), z.lte(90)),
  /** Learners one mentor may have beside them in a shift. */
  learnersPerMentor: z.int().check(z.gte(0), z.lte(20)),
  /** Metres within which two places count as neighbouring. */
  neighbourM: Metres,
  /** Whoever set these, when, and on what basis. */
  basis: OptionalLine,
  /** How the day's noise is told; not given: by the lab's jurisdiction. */
  noiseRule: z.optional(z.enum(['eu', 'niosh', 'osha'])),
  /** Level of the room with nothing of one's own running, dB(A), as measured; not given: unknown. */
  backgroundDba: z.optional(z.number().check(z.gte(0), z.lte(120))),
  /** Bench minutes a person may be planned at microscopes in a day; not given: no cap. */
  scopeMinutesMax: z.optional(z.int().check(z.gte(0), z.lte(1440))),
  /** Minutes at a microscope after which a break is due; not given: none is asked for. */
  scopeBreakMinutes: z.optional(z.int().check(z.gte(5), z.lte(240))),
  /** Who changed the limits last, and on which day. */
  setBy: z.optional(PersonId),
  setOn: z.optional(LocalDate),
})
export type Limits = z.infer<typeof Limits>

/** A limit of something in the air as the lab has it, before any published one: a newer text, another country's, a stricter wish. */
export const AirLimit = z.strictObject({
  id: RecordId,
  /** As in the tables of published limits: `respirable crystalline silica`, `acetone`. */
  agent: Line,
  kind: z.enum(['action', 'limit']),
  /** Averaged over 8 h. */
  amount: z.number().check(z.gt(0), z.lte(1_000_000)),
  unit: z.enum(['µg/m³', 'ppm']),
  /** The text it stands in, as one would cite it, and from when that holds. */
  title: OptionalLine,
  date: z.optional(LocalDate),
  /** Who entered or changed it last, and on which day. */
  setBy: PersonId,
  setOn: LocalDate,
})
export type AirLimit = z.infer<typeof AirLimit>

/** Weights of the line-up's score, 0 to 10 each; the words are on the settings screen. */
export const Weights = z.strictObject({
  urgency: z.int().check(z.gte(0), z.lte(10)),
  gentleness: z.int().check(z.gte(0), z.lte(10)),
  sameHands: z.int().check(z.gte(0), z.lte(10)),
  learning: z.int().check(z.gte(0), z.lte(10)),
  loves: z.int().check(z.gte(0), z.lte(10)),
  fairness: z.int().check(z.gte(0), z.lte(10)),
  variety: z.int().check(z.gte(0), z.lte(10)),
  fewMoves: z.int().check(z.gte(0), z.lte(10)),
  everybody: z.int().check(z.gte(0), z.lte(10)),
})
export type Weights = z.infer<typeof Weights>

/** What a lab starts with: published action values, which its safety officer confirms or replaces. */
export const usualLimits: Limits = {
  vibrationPoints: 100,
  noiseDba: 80,
  learnersPerMentor: 2,
  neighbourM: 1.2,
  basis: 'published action values, Directives 2002/44/EC and 2003/10/EC; site safety officer to confirm',
}

/** What a lab starts with: dated work and gentle hands first. */
export const usualWeights: Weights = {
  urgency: 8,
  gentleness: 5,
  sameHands: 5,
  learning: 4,
  loves: 3,
  fairness: 3,
  variety: 2,
  fewMoves: 3,
  everybody: 6,
}

/** Settings of one lab. There is one such record, with the id `lab`. */
export const Lab = z.strictObject({
  id: z.literal('lab'),
  name: Line,
  /** IANA zone of all local dates and times. */
  zone: z.string().check(z.maxLength(60), z.refine(isZone, { error: 'unknown zone' })),
  /** Which published limits are shown first. */
  jurisdiction: z.enum(['eu', 'uk', 'us', 'other']),
  shifts: z.array(Shift).check(z.maxLength(8)),
  techniques: z.array(Technique).check(z.maxLength(40)),
  compressor: z.strictObject({
    /** Delivery at working pressure, litres a minute. */
    deliveryLpm: Lpm,
    /** Share of the time the compressor may run, percent. */
    dutyPct: z.int().check(z.gte(0), z.lte(100)),
  }),
  limits: Limits,
  weights: Weights,
  /** Dates with a chance below this many in ten are at risk. */
  riskBelowTenths: z.int().check(z.gte(1), z.lte(10)),
  /** Limits in air of the lab's own. */
  airLimits: z.optional(z.array(AirLimit).check(z.maxLength(60))),
  /** What newcomers go through, in this order. */
  induction: z.optional(z.array(InductionItem).check(z.maxLength(40))),
  /** Ways to learn. */
  paths: z.optional(z.array(LearningPath).check(z.maxLength(20))),
  /** Dates on which the lab is closed. */
  closed: z.array(LocalDate).check(z.maxLength(800)),
  /** Whom to ask about dust, noise, solvents and lifting. */
  safetyContact: OptionalLine,
  /** True for the invented demo lab, which alone lets a visitor choose whom to be. */
  isDemo: z.boolean(),
  /** Steps of the first set-up that are finished; a new lab leads its manager through the rest. */
  setUp: z.array(z.enum(['room', 'shifts', 'compressor', 'people', 'jackets'])).check(z.maxLength(5)),
})
export type Lab = z.infer<typeof Lab>

const Point = z.strictObject({ xM: Metres, yM: Metres })

/** The room as drawn: metres from the inner top left corner. One record, with the id `room`. */
export const Room = z.strictObject({
  id: z.literal('room'),
  widthM: Metres,
  depthM: Metres,
  /** Inner walls. */
  partitions: z.array(z.strictObject({ from: Point, to: Point })).check(z.maxLength(60)),
  /** Doors and windows lie on an outer wall or a partition, by their two ends. */
  doors: z.array(z.strictObject({ from: Point, to: Point })).check(z.maxLength(20)),
  windows: z.array(z.strictObject({ from: Point, to: Point })).check(z.maxLength(60)),
  /** Where the compressor stands. */
  compressor: z.nullable(Point),
  /** Shelving, to scale. */
  racks: z
    .array(
      z.strictObject({
        code: Line,
        xM: Metres,
        yM: Metres,
        widthM: Metres,
        depthM: Metres,
        loadKgMax: Kg,
      }),
    )
    .check(z.maxLength(60)),
})
export type Room = z.infer<typeof Room>

const PlaceKind = z.enum([
  'microscope bench',
  'air-tool station',
  'bench',
  'bay',
  'fume hood',
  'acid tank',
  'joining table',
  'housing bench',
])

/** One working position or station. */
export const Place = z.strictObject({
  id: PlaceId,
  /** Short code painted on the bench: M1. */
  code: z.string().check(z.regex(/^[\p{L}\p{N}-]{1,6}$/u)),
  name: Line,
  kind: PlaceKind,
  /** Centre, metres from the room's inner top left corner. */
  xM: Metres,
  yM: Metres,
  widthM: Metres,
  depthM: Metres,
  /** Clockwise turn of the furniture; 0 has its seats below. */
  rotationDeg: z.int().check(z.gte(0), z.lte(359)),
  seats: z.int().check(z.gte(0), z.lte(12)),
  features: z.array(Feature).check(z.maxLength(10)),
  /** Air connections. */
  airLines: z.int().check(z.gte(0), z.lte(12)),
  /** Load limit of the furniture. */
  loadKgMax: Kg,
  /** True when only one piece may be here at a time. */
  isExclusive: z.boolean(),
  /** Out of use from now until this date (that day is in use again); null when in use. */
  closedUntil: z.nullable(LocalDate),
  closedReason: OptionalLine,
  /** True when visitors look on without glass between. */
  isInView: z.optional(z.boolean()),
  /** Level at its seats with no tool of one's own, the other stations running, dB(A); null or not given: the room's. */
  backgroundDba: z.optional(z.nullable(z.number().check(z.gte(0), z.lte(120)))),
  note: OptionalLine,
})
export type Place = z.infer<typeof Place>

/** A day that was posted, id = the date. */
export const Day = z.strictObject({
  id: LocalDate,
  postedAt: Instant,
  postedBy: PersonId,
  /** How often this day was posted. */
  times: z.int().check(z.gte(1)),
  note: Prose,
})
export type Day = z.infer<typeof Day>
