/**
 * What a figure is to the command: its input as one schema (units in the names, bounds on every number), what comes
 * out, the formula and the standard behind it. The arithmetic is lib's; here is only the door.
 */
import { z } from 'zod'

/** An answer in words when the input is wrong or the method does not cover it; other keys may say more. */
export interface Refusal {
  readonly refused: string
}

export interface Figure {
  readonly name: string
  /** What it is good for, in a line. */
  readonly says: string
  readonly formula: string
  /** Standard, edition, clause, jurisdiction; or the paper. */
  readonly standard: string
  readonly input: z.ZodType
  /** Output names and what they are, with units. */
  readonly outputs: Readonly<Record<string, string>>
  /** Judges the input and answers; never throws on any JSON. */
  readonly answer: (input: unknown) => object
}

/** Makes a figure of a schema and the function that takes what it lets through. */
export function figure<S extends z.ZodType>(
  spec: Omit<Figure, 'answer' | 'input'> & {
    readonly input: S
    readonly run: (input: z.output<S>) => object
  },
): Figure {
  const { run, ...rest } = spec
  return {
    ...rest,
    answer: (input) => {
      const parsed = spec.input.safeParse(input)
      if (!parsed.success) return refuse(parsed.error.issues.map(sayIssue).join('; '))
      const found = run(parsed.data)
      return areFinite(found) ? found : refuse('These numbers lead beyond what can be computed. Check their size.')
    },
  }
}

export const refuse = (refused: string): Refusal => ({ refused })

export const isRefusal = (answer: object): answer is Refusal => 'refused' in answer

function sayIssue(issue: z.core.$ZodIssue): string {
  const path = issue.path.map((part, i) =>
    typeof part === 'number' ? `[${part}]` : i === 0 ? part : `.${String(part)}`,
  )
  return path.length === 0 ? issue.message : `${path.join('')}: ${issue.message}`
}

function areFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  if (typeof value !== 'object' || value === null) return true
  return Object.values(value).every(areFinite)
}

/** A number from `least` to `most`, both allowed. */
export const between = (least: number, most: number, what: string) => z.number().min(least).max(most).describe(what)

/** A number above nought, up to `most`. */
export const positive = (most: number, what: string) => z.number().positive().max(most).describe(what)

/** A list of at most a thousand. */
export const list = <T extends z.ZodType>(item: T, least = 0) => z.array(item).min(least).max(1000)

/** A name for the reader's own use; nothing is computed from it. */
export const label = z.string().max(200).optional().describe('a name, not used')

const DAY_MINUTES = 1440

/** Minutes within one day. */
export const minutes = between(0, DAY_MINUTES, 'minutes')

/** A list of things with minutes that together fit into a day. */
export const withinADay = <T extends z.ZodType<{ readonly minutes: number }>>(item: T, least = 0) =>
  list(item, least).refine(
    (items) => items.reduce((sum, one) => sum + one.minutes, 0) <= DAY_MINUTES + 1e-9,
    'a day has 1440 minutes',
  )
