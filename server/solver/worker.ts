// The thread that draws up days: it builds the problem, searches, explains and checks, while the server's main thread
// goes on taking edits. It knows nothing but the records it was given, and answers until the flag tells it to end.
import { performance } from 'node:perf_hooks'
import { parentPort } from 'node:worker_threads'
import { chancesOf, paceOf } from '#lib/forecast'
import { propose } from '#lib/lineup'
import { noRecords } from '#lib/words'
import type { Job, JobAnswer } from './messages.ts'

/** Better line-ups come by the dozen at first; a screen needs no more than some a second. */
const BETWEEN_ANSWERS_MS = 120

function draw(job: Job, answer: (message: JobAnswer) => void): void {
  const records = { ...noRecords(), ...job.records }
  const chances = chancesOf(records, job.now.date, paceOf(records, job.now.date))
  let last = Number.NEGATIVE_INFINITY
  const proposal = propose(records, job.date, {
    seq: job.seq,
    seed: job.seed,
    isRedraw: job.isRedraw,
    now: job.now,
    chances,
    ...(job.from === null ? {} : { from: job.from }),
    isCancelled: () => Atomics.load(job.flag, 0) === 1,
    isWanted: () => performance.now() - last >= BETWEEN_ANSWERS_MS,
    onBetter: (better) => {
      last = performance.now()
      answer({ n: job.n, kind: 'better', proposal: better })
    },
  })
  answer({ n: job.n, kind: 'done', proposal })
}

function main(port: NonNullable<typeof parentPort>): void {
  port.on('message', (job: Job) => {
    const answer = (message: JobAnswer) => port.postMessage(message)
    try {
      draw(job, answer)
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error)
      answer({ n: job.n, kind: 'failed', message })
    }
  })
}

if (parentPort) main(parentPort)
