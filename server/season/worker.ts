// The thread that plays seasons, while the server's main thread goes on taking edits. It knows nothing but the records
// it was given, and answers until the flag tells it to end.
import { performance } from 'node:perf_hooks'
import { type HelpsOptions, helps, type Planned, type PlayOptions, planSeason, playSeason, promise } from '#lib/season'
import { noRecords } from '#lib/words'
import type { PoolAnswer } from '../solver/pool.ts'
import { hearJobs } from '../solver/thread.ts'
import type { Job, Result, Task } from './messages.ts'

/** A screen needs no more than some answers a second. */
const BETWEEN_ANSWERS_MS = 250
/** A year: beyond it nobody promises, and a piece that takes longer is told as not within the season. */
const WEEKS = 52

/** The plan of the moment asked for last; helps and promises of the same moment start from it. */
let kept: { readonly key: string; readonly planned: Planned } | null = null

function run({ n, task, records: given, seq, now, flag }: Job, answer: (message: PoolAnswer<Result>) => void): void {
  let last = performance.now()
  const asked = {
    seq,
    from: now.date,
    minute: now.minute,
    weeks: WEEKS,
    isCancelled: () => Atomics.load(flag, 0) === 1,
  }
  const tell = (result: Result) => {
    last = performance.now()
    answer({ n, kind: 'better', result })
  }
  const key = `${seq} ${now.date}`
  if (kept?.key !== key) kept = null
  const planned = kept?.planned ?? planSeason({ ...noRecords(), ...given }, asked)
  // A plan that was cut short is not the one that these records and this seed give.
  if (!asked.isCancelled()) kept = { key, planned }
  const isWanted = () => performance.now() - last >= BETWEEN_ANSWERS_MS
  answer({ n, kind: 'done', result: resultOf(task, planned, { ...asked, isWanted, onAnswer: tell }) })
}

function resultOf(task: Task, planned: Planned, options: PlayOptions & HelpsOptions): Result {
  switch (task.what) {
    case 'season':
      return playSeason(planned, options)
    case 'helps':
      return helps(planned, task, options)
    case 'promise':
      return promise(planned, task, options)
  }
}

hearJobs(run)
