// What the main thread and a season thread say to each other: records of the kinds a season hangs on, and a question.
import type { HelpsAnswer, PromiseAnswer, SeasonAnswer, SeasonRefused } from '#lib/season'
import type { Kind, Records } from '#lib/words'
import type { PoolJob } from '../solver/pool.ts'

/** Kinds that a season depends on. */
export const kindsOfASeason = [
  'lab',
  'place',
  'person',
  'attendance',
  'tally',
  'jacket',
  'specimen',
  'step',
  'escalation',
  'due',
  'question',
  'watch',
  'hours',
] as const satisfies readonly Kind[]

export type SeasonRecords = Pick<Records, (typeof kindsOfASeason)[number]>

/** The whole season; what would help a date; whether a date could be promised. */
export type Task =
  | { readonly what: 'season' }
  | { readonly what: 'helps'; readonly dueId: string }
  | { readonly what: 'promise'; readonly pieceId: string; readonly date: string }

export type Result = SeasonAnswer | HelpsAnswer | PromiseAnswer | SeasonRefused

/** One question on the records of one moment. */
export interface Job extends PoolJob {
  readonly task: Task
  readonly records: SeasonRecords
  readonly seq: number
  readonly now: { readonly date: string; readonly minute: number }
}
