// What newcomers go through before they are put to work, and the ways in which people learn on: both as the lab defines
// them. What one person has been through stands on the person.
import * as z from 'zod/mini'
import { Level, Line, LocalDate, RecordId, TechniqueId } from './atoms.ts'

/** One item of the induction: fire exits, where the eyewash is, how to lift. */
export const InductionItem = z.strictObject({
  id: RecordId,
  name: Line,
  /** True when nobody is put to work without it. */
  isRequired: z.boolean(),
  /** First day whose turns ask for it. */
  from: LocalDate,
})
export type InductionItem = z.infer<typeof InductionItem>

/** One step of a learning path: a level in a technique, or an item of the induction. */
export const PathStep = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('skill'), techniqueId: TechniqueId, level: Level.check(z.gte(1)) }),
  z.strictObject({ kind: z.literal('item'), itemId: RecordId }),
])
export type PathStep = z.infer<typeof PathStep>

/** A way to learn, step by step. */
export const LearningPath = z.strictObject({
  id: RecordId,
  name: Line,
  steps: z.array(PathStep).check(z.minLength(1), z.maxLength(30)),
})
export type LearningPath = z.infer<typeof LearningPath>
