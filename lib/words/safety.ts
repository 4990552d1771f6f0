// What the work does to the people, and what is looked after so that it does less: pre-use checks, air samples, kept
// exposures, incidents, cautions that were read. All but checks and read cautions is private: its home is opened for
// nobody, and the server answers each asker with what concerns them (server/safety.ts).
import * as z from 'zod/mini'
import {
  Instant,
  Line,
  LocalDate,
  Minutes,
  OptionalLine,
  PersonId,
  PieceId,
  PlaceId,
  Prose,
  RecordId,
  ShiftId,
  TechniqueId,
} from './atoms.ts'

/** How a check was done. */
const doneFields = {
  date: LocalDate,
  shiftId: z.nullable(ShiftId),
  by: PersonId,
  at: Instant,
  /** A fault keeps the place out of line-ups until it is good again. */
  result: z.enum(['good', 'fault']),
  note: OptionalLine,
}

/** A pre-use check as the lab defines it: what, where, how often. */
export const Check = z.strictObject({
  id: RecordId,
  name: Line,
  what: z.enum(['extraction', 'compressor', 'eyewash', 'hoist', 'sling', 'other']),
  /** The place it belongs to; null for what serves the whole room. */
  placeId: z.nullable(PlaceId),
  every: z.strictObject({ unit: z.enum(['days', 'shifts']), count: z.int().check(z.gte(1), z.lte(1000)) }),
  /** Rated load of a hoist or sling as its plate says it; null where it has none. */
  ratedKg: z.nullable(z.number().check(z.gte(0), z.lte(100_000))),
  /** First day on which it is due. */
  since: LocalDate,
  isActive: z.boolean(),
  /** The latest one done; all of them are in the safety home. */
  last: z.nullable(z.strictObject(doneFields)),
})
export type Check = z.infer<typeof Check>

/** One check that was done. Never changed or removed. */
export const CheckDone = z.strictObject({
  id: RecordId,
  checkId: RecordId,
  ...doneFields,
})

/** Something that happened or nearly did. Never changed, removed or archived away; a correction names the old. */
export const Incident = z.strictObject({
  id: RecordId,
  kind: z.enum(['incident', 'near miss']),
  date: LocalDate,
  what: Prose,
  /** What was done about it. */
  done: Prose,
  /** Whom it happened to; null where nobody was hurt or it is not to be said. */
  personId: z.nullable(PersonId),
  placeId: z.nullable(PlaceId),
  pieceId: z.nullable(PieceId),
  by: PersonId,
  at: Instant,
  corrects: z.nullable(RecordId),
})
export type Incident = z.infer<typeof Incident>

/** What one person breathed over a stretch of a day, as sampled. Never changed or removed; a correction names the old. */
export const AirSample = z.strictObject({
  id: RecordId,
  personId: PersonId,
  date: LocalDate,
  /** As in the tables of published limits: `respirable crystalline silica`, `acetone`. */
  agent: Line,
  amount: z.number().check(z.gte(0), z.lte(1_000_000)),
  unit: z.enum(['µg/m³', 'ppm']),
  minutes: z.int().check(z.gte(1), z.lte(1440)),
  /** Pump, method, laboratory. */
  method: OptionalLine,
  by: PersonId,
  at: Instant,
  corrects: z.nullable(RecordId),
})
export type AirSample = z.infer<typeof AirSample>

/** Running minutes with one technique, and what was known of its tool on that day. */
const ToolMinutes = z.strictObject({
  techniqueId: TechniqueId,
  name: Line,
  minutes: Minutes,
  vibrationMs2: z.nullable(z.number()),
  vibrationSource: OptionalLine,
  noiseDba: z.nullable(z.number()),
  noiseSource: OptionalLine,
  /** Level of the place, else the room, without the tool, as it was known then. */
  backgroundDba: z.optional(z.number()),
})

/**
 * What ran in somebody's hand in a month, day by day: raw inputs, from which the figures are computed anew whenever they
 * are shown. Id = `month.person`.
 */
export const ExposureMonth = z.strictObject({
  id: RecordId,
  personId: PersonId,
  month: z.string().check(z.regex(/^\d{4}-\d{2}$/)),
  days: z
    .array(
      z.strictObject({
        date: LocalDate,
        /** Version of the formulas under which it was first counted; see `EXPOSURE_FORMULA`. */
        formula: z.int(),
        tools: z.array(ToolMinutes).check(z.maxLength(40)),
      }),
    )
    .check(z.maxLength(31)),
})
export type ExposureMonth = z.infer<typeof ExposureMonth>

/** One caution in the version that was read. */
export const SeenCaution = z.strictObject({
  key: z.string().check(z.maxLength(60)),
  version: z.string().check(z.maxLength(20)),
  on: LocalDate,
})

/** Cautions that a person has read, each in the version they read. Id = the person's id. */
export const Ack = z.strictObject({
  id: PersonId,
  seen: z.array(SeenCaution).check(z.maxLength(300)),
})
export type Ack = z.infer<typeof Ack>
