/**
 * The plain day problem: everything the solver may know about one day, and nothing else. It is JSON, it has one
 * schema, and everybody who has an opinion on a line-up (search, checker, explanations, bound) reads this alone.
 * Amounts are whole numbers and carry their unit in the name; instants are minutes since midnight of the lab's day.
 *
 * Words: a *turn* is one person for one shift. A turn goes to one step of one piece at one place.
 */
import { z } from 'zod'

/** Urgency that the farthest and easiest date has at least: 20, and three quarters of it for a soft one. */
export const DATED_PERCENT = 15

const id = z.string().min(1)
const minuteOfDay = z.int().min(0).max(2880)
const percent = z.int().min(0).max(100)
const count = z.int().min(0).max(100_000)
const airKind = z.enum(['dust', 'solvent'])

const presence = z.object({
  shift: id.describe('The shift the person is in for, wholly or in part.'),
  from: minuteOfDay.describe('Comes at this minute.'),
  to: minuteOfDay.describe('Leaves at this minute.'),
})

const person = z.object({
  id,
  levels: z
    .record(z.string(), z.int().min(0).max(4))
    .describe(
      'Level by technique: 0 none, 1 learning, 2 alone, 3 delicate pieces, 4 mentors. Expired skills are left out.',
    ),
  presence: z.array(presence),
  vibrationPointsLeft: count
    .nullable()
    .default(null)
    .describe('Vibration points left today after work already done; null: no cap.'),
  noisePointsLeft: count
    .nullable()
    .default(null)
    .describe('Noise points left today after work already done; null: no cap.'),
  classMinutesLeft: z
    .record(z.string(), count)
    .default({})
    .describe('Minutes left today by technique class; a class not named has no cap.'),
  loves: z.array(id).default([]).describe('Techniques and pieces this person loves.'),
  learnsNext: id
    .nullable()
    .default(null)
    .describe("Technique of the next step of this person's learning path; null: none, or it is no technique."),
  goodSharePercent: percent
    .default(50)
    .describe('How well the last four weeks treated this person: 50 is fair, less means mostly dull pieces.'),
})

const shift = z.object({
  id,
  start: minuteOfDay,
  end: minuteOfDay,
  airLpm: count.describe('Air to be drawn at once in this shift: delivery times duty factor.'),
})

const place = z.object({
  id,
  kind: z.string().default('').describe('For people only; the rules use features.'),
  features: z.array(z.string()).default([]),
  seats: z.int().min(1).max(50),
  airLines: z.int().min(0).max(50).default(0),
  loadKgMax: count.nullable().default(null).describe('All pieces here in a shift together; null: no limit.'),
  lengthCmMax: count.nullable().default(null).describe('Longest piece; null: no limit.'),
  neighbours: z
    .array(id)
    .default([])
    .describe('Places in reach of a mentor here; holds both ways when named on one side.'),
  isExclusive: z.boolean().default(false).describe('Never two pieces in one shift, such as a microscope.'),
  closed: z.array(id).default([]).describe('Shifts in which nobody works here.'),
  isCheckOverdue: z.boolean().default(false).describe('Equipment past its check: closed all day.'),
  keepsIn: z.array(airKind).default([]).describe('What its own cabinet or hood takes: not given off into the room.'),
  isInView: z.boolean().default(false).describe('In open public view: nothing is given off here.'),
})

const step = z.object({
  id: id.describe('Unique within its piece.'),
  technique: id,
  techniqueClass: z.string().nullable().default(null).describe('Class whose minutes are capped per person and day.'),
  force: z
    .int()
    .min(0)
    .max(50)
    .nullable()
    .default(null)
    .describe('Rung on the ladder of techniques, gentlest 0; null: apart from the ladder.'),
  isEscalated: z
    .boolean()
    .default(false)
    .describe('A preparator has recorded that this step may go above the force ceiling.'),
  level: z
    .int()
    .min(2)
    .max(4)
    .default(2)
    .describe('Level to work alone. At 2, a learner (level 1) may do it beside a mentor.'),
  turnsLeft: z
    .int()
    .min(1)
    .max(1000)
    .default(1)
    .describe('Most turns worth spending on it today, from the hours left.'),
  features: z.array(z.string()).default([]).describe('Features the place must have.'),
  people: z
    .object({ min: z.int().min(1).max(12), max: z.int().min(1).max(12) })
    .default({ min: 1, max: 1 })
    .describe('How many work on it at once; a move that needs helpers has min above 1.'),
  airLpm: z
    .int()
    .min(0)
    .max(100_000)
    .default(0)
    .describe('Air drawn by each person; above 0 it also needs an air line.'),
  vibrationPerHour: count.default(0).describe('Vibration points per hour of running tool.'),
  noisePerHour: count.default(0).describe('Noise points per hour of running tool.'),
  givesOff: z
    .array(airKind)
    .default([])
    .describe('Given off into the air. At one place in one shift dust, solvent and open view do not meet.'),
  triggerPercent: percent.default(100).describe('Share of the turn in which the tool runs.'),
  neglectPercent: percent
    .default(0)
    .describe('How long work of this kind (joining, housing, records) has been put off.'),
})

const piece = z.object({
  id,
  kind: z.enum(['specimen', 'jacket']),
  ceiling: z.int().min(0).max(50).describe('Force ceiling: the highest rung allowed.'),
  massKg: count.default(0),
  lengthCm: count.default(0),
  tiedTo: id.nullable().default(null).describe('The only place where it can be worked on.'),
  at: id.nullable().default(null).describe('Where it stands now; working elsewhere is a move.'),
  urgencyPercent: percent
    .default(0)
    .describe(
      'Urgency of its date, from the season plan and the chance of being ready; below 15 it has no date and the season plan alone wants it.',
    ),
  isDelicate: z.boolean().default(false).describe('Delicate or priority: level 3 for every step, no learners.'),
  isExclusive: z.boolean().default(false).describe('Never at one place with another exclusive piece.'),
  appealPercent: percent.default(50).describe('50 is ordinary, more is a piece everybody wants, less a dull one.'),
  moveCostPercent: percent.default(20).describe('What bringing it to another place costs, 100 for the heaviest.'),
  hands: z
    .array(z.object({ person: id, turns: count }))
    .default([])
    .describe('Who worked on it in the last four weeks, and for how many turns.'),
  steps: z.array(step).describe('Steps that may be done next; at most one of them in a shift.'),
})

const fixed = z.object({
  person: id,
  shift: id,
  piece: id,
  step: id.nullable().default(null).describe('null: any eligible step of the piece.'),
  place: id.nullable().default(null).describe('null: any place that suits.'),
})

const assignment = z.object({
  person: id,
  shift: id,
  piece: id,
  step: id,
  place: id,
  mentor: id.nullable().default(null).describe('Who mentors a learner; null for everybody else.'),
})

const forbid = z
  .object({
    person: id.nullable().default(null),
    shift: id.nullable().default(null),
    piece: id.nullable().default(null),
    step: id.nullable().default(null),
    place: id.nullable().default(null),
  })
  .describe('No turn may match all that is named here; null matches everything.')

const clock = z
  .object({
    id,
    shift: id,
    minute: minuteOfDay,
    piece: id,
    step: id.nullable().default(null),
  })
  .describe(
    'A process that ends: somebody trained (no learner) who is in at that minute must have a turn on the piece in that shift.',
  )

const weight = z.int().min(0).max(20)
const weights = z
  .object({
    urgency: weight.default(10),
    useful: weight.default(5),
    gentleness: weight.default(4),
    sameHands: weight.default(5),
    learning: weight.default(4),
    loves: weight.default(3),
    fairness: weight.default(2),
    notLast: weight.default(2),
    fewMoves: weight.default(3),
  })
  .describe('How much each part of the score counts, 0 to 20. See PARTS for their units.')

/** The whole day problem. Lists may come in any order; the answer does not depend on it. */
export const problemSchema = z.object({
  format: z.literal('talus-day').default('talus-day'),
  version: z.literal(1).default(1),
  people: z.array(person).max(2000),
  shifts: z.array(shift).max(12),
  places: z.array(place).max(2000),
  pieces: z.array(piece).max(20_000),
  holds: z.array(fixed).default([]).describe('Turns fixed by hand.'),
  claims: z.array(fixed).default([]).describe('Turns that people took themselves.'),
  begun: z.array(fixed).default([]).describe('Turns already begun or done today.'),
  forbids: z.array(forbid).default([]),
  clocks: z.array(clock).default([]),
  learnersPerMentorMax: z.int().min(0).max(20).default(2),
  weights: weights.prefault({}),
  posted: z
    .array(assignment)
    .default([])
    .describe("The line-up on everybody's screens, for a redraw with few changes."),
})

export type AirKind = z.infer<typeof airKind>
export type Problem = z.infer<typeof problemSchema>
export type ProblemInput = z.input<typeof problemSchema>
export type ProblemPerson = Problem['people'][number]
export type ProblemPlace = Problem['places'][number]
export type ProblemPiece = Problem['pieces'][number]
export type ProblemStep = ProblemPiece['steps'][number]
export type FixedTurn = Problem['holds'][number]
export type Forbid = Problem['forbids'][number]
export type Assignment = Problem['posted'][number]

/**
 * The named parts of the score. The unit of all is the *mark*: one hundredth of full merit for one quarter of an
 * hour, times the part's weight. A turn of `q` whole quarter-hours (presence inside the shift, rounded down) earns
 * weight × merit × q marks in each of the first eight parts, where the merit (0–100, 150 at the most) is
 *   urgency     the piece's urgencyPercent
 *   useful      100: somebody does something worthwhile
 *   gentleness  100 less 12 for each rung above the gentlest eligible step of the same piece
 *   sameHands   25 for each turn this person had on the piece in four weeks, at most 100
 *   learning    150 for the next step of one's learning path, else 100 for a learner beside a mentor, 40 at level 2
 *   loves       100 for a loved piece, 60 for a loved technique
 *   fairness    50 + (appealPercent − 50) × (50 − goodSharePercent) / 50, rounded down
 *   notLast     the step's neglectPercent
 * sameHands also earns weight × 200 for each person who stays on a piece in the very next shift, and fewMoves costs
 * weight × 4 × moveCostPercent for each place, other than where it stands, that a piece is brought to in the day.
 */
export const PARTS = [
  'urgency',
  'useful',
  'gentleness',
  'sameHands',
  'learning',
  'loves',
  'fairness',
  'notLast',
  'fewMoves',
] as const
export type Part = (typeof PARTS)[number]
export type Parts = Readonly<Record<Part, number>>

/** A turn that has to be in the line-up: a hold, a claim, a begun turn (by place in its list) or a clock. */
export interface MustRef {
  readonly kind: 'hold' | 'claim' | 'begun' | 'clock'
  readonly index: number
}

/** A line-up with its worth. `unmet` lists the musts that could not be kept; every hard rule holds in any case. */
export interface Solution {
  readonly lineUp: readonly Assignment[]
  readonly score: number
  readonly parts: Parts
  readonly unmet: readonly MustRef[]
  /** No line-up that keeps as many musts scores more; null where none was asked for. */
  readonly bound: number | null
  /** Proven: no line-up keeps more musts, and none that keeps as many scores more. */
  readonly isProven: boolean
}

/** How much better than a score a line-up could be at most, in per cent rounded up to hundredths; 0 when proven. */
export function gapPctOf(score: number, bound: number): number {
  return score >= bound ? 0 : Math.ceil((10_000 * (bound - score)) / Math.max(1, Math.abs(score))) / 100
}

/** A wrong reference or amount in a problem, as data: which list, which entry, what is wrong. */
export interface ProblemFinding {
  readonly code: 'unknownId' | 'doubleId' | 'wrongSpan'
  readonly list: string
  readonly id: string
}
