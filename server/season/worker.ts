// The thread that plays seasons, while the server's main thread goes on taking edits. It knows nothing but the records
// it was given, and answers until the flag tells it to end.
import { performance } from 'node:perf_hooks'
import { parentPort } from 'node:worker_threads'
import { playSeason } from '#lib/season'
import { noRecords } from '#lib/words'
import type { PoolAnswer } from '../solver/pool.ts'
import type { Job, Result } from './messages.ts'

/** A screen needs no more than some answers a second. */
const BETWEEN_ANSWERS_MS = 250
/** A year: beyond it nobody promises, and a piece that takes longer is told as not within the season. */
const WEEKS = 52

function run({ n, task, records: given, seq, now, flag }: Job, answer: (message: PoolAnswer<Result>) => void): void {
  const records = { ...noRecords(), ...given }
  let last = performance.now()
  const common = {
    seq,
    from: now.date,
    minute: now.minute,
    weeks: WEEKS,
    isCancelled: () => Atomics.load(flag, 0) === 1,
    isWanted: () => performance.now() - last >= BETWEEN_ANSWERS_MS,
    onAnswer: (result: Result) => {
      last = performance.now()
      answer({ n, kind: 'better', result })
    },
  }
  if (task.what !== 'season') throw new Error(`Got ${task.what}; expected a question this thread can answer`)
  answer({ n, kind: 'done', result: playSeason(records, common) })
}

function main(port: NonNullable<typeof parentPort>): void {
  port.on('message', (job: Job) => {
    const answer = (message: PoolAnswer<Result>) => port.postMessage(message)
    try {
      run(job, answer)
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error)
      answer({ n: job.n, kind: 'failed', message })
    }
  })
}

if (parentPort) main(parentPort)
