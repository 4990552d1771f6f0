// The small words that every record is made of: identifiers, dates, texts and amounts, each with the bounds that
// hold at the door. Units stand in the field's name (`massKg`), so a schema here only says what numbers are possible.
import * as z from 'zod/mini'

// Without dots and short enough that a key joined of a date and two of them is read in one way only and still fits.
const idText = z.string().check(z.regex(/^[0-9a-z][0-9a-z-]{0,39}$/))

export const PersonId = idText.brand<'Person'>()
export const PlaceId = idText.brand<'Place'>()
/** A jacket, block or specimen: whatever a person can sit down to. */
export const PieceId = idText.brand<'Piece'>()
export const StepId = idText.brand<'Step'>()
export const ShiftId = idText.brand<'Shift'>()
export const TechniqueId = idText.brand<'Technique'>()
export const DueId = idText.brand<'Due'>()
export const OpId = idText.brand<'Op'>()
/** Any other record; some are joined by dots from a date and other ids. */
export const RecordId = z.string().check(z.regex(/^[0-9a-z][0-9a-z.-]{0,99}$/))

export type PersonId = z.infer<typeof PersonId>
export type PlaceId = z.infer<typeof PlaceId>
export type PieceId = z.infer<typeof PieceId>
export type StepId = z.infer<typeof StepId>
export type ShiftId = z.infer<typeof ShiftId>
export type TechniqueId = z.infer<typeof TechniqueId>
export type DueId = z.infer<typeof DueId>
export type OpId = z.infer<typeof OpId>

/** ISO 8601 local date in the lab's zone. */
export const LocalDate = z.iso.date()
/** Local time of day, `09:30`. */
export const TimeOfDay = z.string().check(z.regex(/^([01]\d|2[0-3]):[0-5]\d$/))
/** ISO 8601 instant in UTC, stamped by the server. */
export const Instant = z.iso.datetime()

// Control characters and bidirectional overrides can make a name or number show as something it is not.
export const forbiddenLetters =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: naming them is the point
  /[\u0000-\u0008\u000b-\u001f\u007f\u202a-\u202e\u2066-\u2069\ufeff]/

const text = (max: number) =>
  z.string().check(
    z.maxLength(max),
    z.refine((value) => !forbiddenLetters.test(value), { error: 'control character' }),
  )

/** One line that must say something: a name, a number, a code. */
export const Line = text(120).check(
  z.refine((value) => value.trim().length > 0 && !value.includes('\n'), {
    error: 'empty line',
  }),
)
/** One line that may be empty. */
export const OptionalLine = text(240)
/** A paragraph or several. */
export const Prose = text(8000)

/** Kilograms. */
export const Kg = z.number().check(z.gte(0), z.lte(100_000))
/** Metres. */
export const Metres = z.number().check(z.gte(0), z.lte(100))
/** Hours of hands-on work. */
export const Hours = z.number().check(z.gte(0), z.lte(100_000))
/** Whole minutes. */
export const Minutes = z.int().check(z.gte(0), z.lte(1_000_000))
/** Litres of air a minute. */
export const Lpm = z.number().check(z.gte(0), z.lte(100_000))

/** What a person may do; see product.md, section 2. */
export const Role = z.enum(['manager', 'preparator', 'volunteer', 'researcher', 'wall'])
export type Role = z.infer<typeof Role>

/** 0 none, 1 learning (beside a mentor), 2 works alone, 3 delicate or priority pieces, 4 mentors others. */
export const Level = z.int().check(z.gte(0), z.lte(4))

/** A rating from 1 (least) to 5 (most). */
export const Rating = z.int().check(z.gte(1), z.lte(5))
