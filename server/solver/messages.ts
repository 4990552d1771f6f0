// What the main thread and a solver thread say to each other. Records travel as plain values; only the kinds that a
// day is drawn up from, so that the copy stays small however much the board holds.
import type { Proposal } from '#lib/lineup'
import type { Turn } from '#lib/rules'
import type { Kind, Records } from '#lib/words'

/** Kinds that a line-up depends on. */
export const kindsOfADay = [
  'lab',
  'place',
  'person',
  'attendance',
  'jacket',
  'specimen',
  'step',
  'escalation',
  'due',
  'assignment',
  'work',
  'hold',
  'forbid',
] as const satisfies readonly Kind[]

export type DayRecords = Pick<Records, (typeof kindsOfADay)[number]>

/** One draw-up. `flag[0]` becomes 1 when it is to end with the best found so far. */
export interface Job {
  readonly n: number
  readonly records: DayRecords
  readonly date: string
  readonly seq: number
  readonly seed: number
  readonly isRedraw: boolean
  readonly from: readonly Turn[] | null
  readonly now: { readonly date: string; readonly minute: number }
  readonly flag: Int32Array
}

export type JobAnswer =
  | { readonly n: number; readonly kind: 'better' | 'done'; readonly proposal: Proposal }
  | { readonly n: number; readonly kind: 'failed'; readonly message: string }
