// A few threads and a queue. A thread has one job at a time; who waits can be stopped without anybody noticing, who
// runs is told by a shared flag and ends within a moment with the best found so far. A thread that dies fails its job
// and is replaced by the next one that is needed.
import { availableParallelism } from 'node:os'
import { Worker } from 'node:worker_threads'
import type { Span } from '../traces.ts'

/** What every job has. `flag[0]` becomes 1 when it is to end with the best found so far. */
export interface PoolJob {
  readonly n: number
  readonly flag: Int32Array
}

/** What a thread says of a job. */
export type PoolAnswer<Result> =
  | { readonly n: number; readonly kind: 'better' | 'done'; readonly result: Result }
  | { readonly n: number; readonly kind: 'failed'; readonly message: string }

/** What came of a job: results, the last one marked, or a fault. */
export type Outcome<Result> =
  | { readonly kind: 'better' | 'done'; readonly result: Result }
  | { readonly kind: 'failed'; readonly message: string }

/** Jobs at once: as many as cores beside the one that serves, two at most. */
export const threadsHere = () => Math.max(1, Math.min(2, availableParallelism() - 1))

export interface PoolOptions {
  /** The bundled worker.ts. */
  readonly script: URL
  readonly threads: number
  /** Longest time of one job; then its best is its answer. */
  readonly ceilingMs: number
}

interface Waiting<Job, Result> {
  readonly job: Job
  readonly tell: (outcome: Outcome<Result>) => void
  /** When a thread took it; null while it waits. */
  takenAt: number | null
}

interface Thread<Job, Result> {
  readonly worker: Worker
  running: { readonly waiting: Waiting<Job, Result>; readonly timer: NodeJS.Timeout } | null
}

/**
 * Time a stopped job has to end by itself before its thread is ended. Its reasons are still made, which takes a large lab
 * a second or two of processor, and several times that on a busy machine: better late than a day that is lost.
 */
const GRACE_MS = 20_000

export class Pool<Job extends PoolJob, Result> {
  readonly #options: PoolOptions
  readonly #threads = new Set<Thread<Job, Result>>()
  #queue: Waiting<Job, Result>[] = []
  #isClosed = false
  #count = 0

  constructor(options: PoolOptions) {
    this.#options = options
  }

  /** A number that no other job of this pool has. */
  number(): number {
    this.#count += 1
    return this.#count
  }

  /**
   * Starts a job or lets it wait its turn; gives the function that stops it. After that nothing more is told. The span is
   * the job's, and ends with it.
   */
  start(job: Job, span: Span, tell: (outcome: Outcome<Result>) => void): () => void {
    if (this.#isClosed) {
      span.end(true)
      tell({ kind: 'failed', message: 'The solver is closed.' })
      return () => {}
    }
    let isStopped = false
    const end = (outcome: string) => {
      const ms = waiting.takenAt === null ? 0 : Math.round(performance.now() - waiting.takenAt)
      span.note({ 'talus.outcome': outcome, 'talus.ms': ms })
      span.end(outcome === 'failed')
    }
    const waiting: Waiting<Job, Result> = {
      job,
      takenAt: null,
      tell: (outcome) => {
        if (outcome.kind !== 'better') end(isStopped ? 'stopped' : outcome.kind)
        if (!isStopped) tell(outcome)
      },
    }
    this.#queue.push(waiting)
    this.#next()
    return () => {
      if (isStopped) return
      isStopped = true
      if (this.#queue.includes(waiting)) end('stopped')
      this.#queue = this.#queue.filter((one) => one !== waiting)
      for (const thread of this.#threads) if (thread.running?.waiting === waiting) this.#hurry(thread, waiting)
    }
  }

  /** Ends all threads; jobs that run or wait are told nothing more. */
  async close(): Promise<void> {
    this.#isClosed = true
    this.#queue = []
    const threads = [...this.#threads]
    this.#threads.clear()
    for (const thread of threads) if (thread.running) clearTimeout(thread.running.timer)
    await Promise.all(threads.map(({ worker }) => worker.terminate()))
  }

  #next(): void {
    while (this.#queue.length > 0) {
      const idle = [...this.#threads].find((thread) => thread.running === null) ?? this.#another()
      if (!idle) return
      const waiting = this.#queue.shift()
      if (!waiting) return
      const timer = setTimeout(() => this.#hurry(idle, waiting), this.#options.ceilingMs)
      idle.running = { waiting, timer }
      waiting.takenAt = performance.now()
      idle.worker.ref()
      idle.worker.postMessage(waiting.job)
    }
  }

  #another(): Thread<Job, Result> | null {
    if (this.#threads.size >= this.#options.threads) return null
    const thread: Thread<Job, Result> = { worker: new Worker(this.#options.script, { name: 'solver' }), running: null }
    this.#threads.add(thread)
    thread.worker.on('message', (answer: PoolAnswer<Result>) => this.#hear(thread, answer))
    thread.worker.on('error', (error) => this.#lose(thread, String(error)))
    thread.worker.on('exit', () => this.#lose(thread, 'The thread ended.'))
    return thread
  }

  #hear(thread: Thread<Job, Result>, answer: PoolAnswer<Result>): void {
    const { running } = thread
    if (running === null || running.waiting.job.n !== answer.n) return
    if (answer.kind === 'better') {
      running.waiting.tell({ kind: 'better', result: answer.result })
      return
    }
    clearTimeout(running.timer)
    thread.running = null
    // An idle thread does not keep the process alive.
    thread.worker.unref()
    running.waiting.tell(answer.kind === 'failed' ? answer : { kind: 'done', result: answer.result })
    this.#next()
  }

  /** Asks for an end; a thread that does not come to one is ended. */
  #hurry(thread: Thread<Job, Result>, waiting: Waiting<Job, Result>): void {
    if (thread.running?.waiting !== waiting) return
    clearTimeout(thread.running.timer)
    Atomics.store(waiting.job.flag, 0, 1)
    const timer = setTimeout(() => {
      this.#lose(thread, 'The job did not end in time.')
      void thread.worker.terminate()
    }, GRACE_MS)
    thread.running = { waiting, timer }
  }

  #lose(thread: Thread<Job, Result>, message: string): void {
    if (!this.#threads.delete(thread)) return
    if (thread.running) {
      clearTimeout(thread.running.timer)
      thread.running.waiting.tell({ kind: 'failed', message })
      thread.running = null
    }
    if (!this.#isClosed) this.#next()
  }
}
