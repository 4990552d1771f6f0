// The loop of every computing thread: one job at a time, answers as they come, a fault as an answer and never as an end.
import { parentPort } from 'node:worker_threads'
import type { PoolAnswer, PoolJob } from './pool.ts'

/** Hears jobs from the pool that started this thread; outside a thread nothing happens. */
export function hearJobs<Job extends PoolJob, Result>(
  run: (job: Job, answer: (message: PoolAnswer<Result>) => void) => void | Promise<void>,
): void {
  const port = parentPort
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
