// What the main thread and a solver thread say to each other. Records travel as plain values; only the kinds that a
// day is drawn up from, so that the copy stays small however much the board holds.
import type { Considered, Proposal, TurnLimit, Week } from '#lib/lineup'
import type { Turn } from '#lib/rules'
import type { Kind, Records } from '#lib/words'
import type { PoolAnswer, PoolJob } from './pool.ts'

/** Kinds that a line-up depends on. */
export const kindsOfADay = [
  'lab',
  'place',
  'person',
  'attendance',
  'jacket',
  'specimen',
  'step',
  'clock',
  'escalation',
  'due',
  'assignment',
  'work',
  'check',
  'hold',
  'forbid',
  'lately',
  'hours',
  'day',
  'tally',
  'watch',
  'question',
] as const satisfies readonly Kind[]

export type DayRecords = Pick<Records, (typeof kindsOfADay)[number]>

/** What is to be computed: a day drawn up, what would become of it if some turns were forced, several days together. */
export type Task =
  | {
      readonly what: 'drawUp'
      readonly date: string
      readonly isRedraw: boolean
      readonly from: readonly Turn[] | null
      /** Turns that other days of the week need. */
      readonly limits: readonly TurnLimit[]
    }
  | {
      readonly what: 'whatIf'
      readonly date: string
      readonly turns: readonly Turn[]
      readonly from: readonly Turn[] | null
    }
  | { readonly what: 'drawWeek'; readonly date: string; readonly days: number; readonly from: null }

/** What comes of each kind of task. */
export interface Results {
  readonly drawUp: Proposal
  readonly whatIf: Considered
  readonly drawWeek: Week
}

/** One task on the records of one moment. */
export interface Job extends PoolJob {
  readonly task: Task
  readonly records: DayRecords
  readonly seq: number
  readonly seed: number
  readonly now: { readonly date: string; readonly minute: number }
}

export type JobAnswer = PoolAnswer<Results[Task['what']]>
