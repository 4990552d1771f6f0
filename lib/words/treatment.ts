// What an entry of the treatment record says beside its words: with what, where, how long, by whose leave. Every field
// may be missing, and so may the whole: an entry written before they were asked for reads as it did.
import * as z from 'zod/mini'
import { Line, Minutes, OptionalLine, PersonId, RecordId } from './atoms.ts'
import { Jar, Strength } from './materials.ts'

/** What the entry is about. */
export const EntryKind = z.enum([
  'note',
  'condition',
  'treatment',
  'test patch',
  'break',
  'decision',
  'stage',
  'assessment',
  'consolidant',
  'adhesive',
  'gap filler',
  'repair',
  'sample',
  'question',
  'photograph',
])
export type EntryKind = z.infer<typeof EntryKind>

export const Treatment = z.strictObject({
  tool: z.optional(Line),
  setting: z.optional(Line),
  /** Where on the piece, in words. */
  area: z.optional(Line),
  /** Minutes the tool ran in the hand, in entries of before: no longer asked for here, where everybody reads. */
  runningMinutes: z.optional(Minutes),
  /** What was put on, from a batch of the lab. */
  jar: z.optional(Jar),
  /** Why it was put on although something was asked about. */
  despite: z.optional(OptionalLine),
  /** Consolidant, adhesive or filler, as its jar is labelled, where it is no batch of the lab. */
  material: z.optional(Line),
  batch: z.optional(Line),
  strength: z.optional(Strength),
  /** Whether the technique moved the rock; says which is the gentlest that does. */
  movedRock: z.optional(z.boolean()),
  /** Who agreed to a decision. */
  agreed: z.optional(z.array(PersonId).check(z.minLength(1), z.maxLength(20))),
  /** A drawn area or a photograph that shows it. */
  shows: z.optional(z.array(RecordId).check(z.minLength(1), z.maxLength(20))),
})
export type Treatment = z.infer<typeof Treatment>
