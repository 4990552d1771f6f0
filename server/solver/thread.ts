// The loop of every computing thread: one job at a time, answers as they come, a fault as an answer and never as an end.
// Edits come first: where the system lets a thread have a priority of its own, a computing one has a lower.
import { getPriority, setPriority } from 'node:os'
import { parentPort } from 'node:worker_threads'
import type { PoolAnswer, PoolJob } from './pool.ts'

/** Hears jobs from the pool that started this thread; outside a thread nothing happens. */
export function hearJobs<Job extends PoolJob, Result>(
  run: (job: Job, answer: (message: PoolAnswer<Result>) => void) => void | Promise<void>,
): void {
  const port = parentPort
  if (port) giveWay()
  port?.on('message', async (job: Job) => {
    const answer = (message: PoolAnswer<Result>) => port.postMessage(message)
    try {
      await run(job, answer)
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error)
      answer({ n: job.n, kind: 'failed', message })
    }
  })
}

/** A thread at this many steps below gets about a third of a busy core beside one at the usual priority. */
const STEPS_BELOW = 5

/** On Linux alone a priority belongs to a thread and not to the whole process. */
function giveWay(): void {
  if (process.platform !== 'linux') return
  try {
    setPriority(Math.min(19, getPriority() + STEPS_BELOW))
  } catch {
    // Not allowed here: it computes all the same.
  }
}
