// Seasons for whoever asks. One question about the whole season is worked on at a time and shared by all who ask it; its
// answer is kept, so that opening Due again costs nothing until something was edited. A newer question takes over from
// an older one: who asked that hears the newer answer. Until it is there, the last whole answer is told.
import type { SeasonAnswer } from '#lib/season'
import type { Records } from '#lib/words'
import { Pool, threadsHere } from '../solver/pool.ts'
import { noTraces, type Spans } from '../traces.ts'
import type { Log } from '../world.ts'
import { type Job, kindsOfASeason, type Result, type SeasonRecords, type Task } from './messages.ts'

/** The moment of which the records are. */
interface Moment {
  readonly seq: number
  readonly date: string
  readonly minute: number
}

type Tell = (answer: Result, isLast: boolean) => void

export interface Seasons {
  /** Takes up a question; `tell` hears each better answer and then the last. Gives the function that stops it. */
  readonly start: (records: Records, task: Task, moment: Moment, tell: Tell, spans?: Spans) => () => void
}

/** The threads that play seasons, for any number of labs. */
export type SeasonThreads = Pool<Job, Result>

export interface ThreadsOptions {
  /** The bundled season/worker.ts; beside the server's bundle unless told otherwise. */
  readonly worker?: URL
  readonly threads?: number
  readonly ceilingMs?: number
}

/** Longest time of one question; then what is counted is the answer. */
const CEILING_MS = 20_000

interface Running {
  readonly key: string
  readonly stop: () => void
  readonly listeners: Set<Tell>
  last: Result | null
}

/** Makes the threads; each starts when it is first needed. */
export const seasonThreads = ({ worker, threads, ceilingMs }: ThreadsOptions = {}): SeasonThreads =>
  new Pool<Job, Result>({
    script: worker ?? new URL('./season-worker.mjs', import.meta.url),
    threads: threads ?? threadsHere(),
    ceilingMs: ceilingMs ?? CEILING_MS,
  })

/** What a lab's seasons are made with. */
interface SeasonsWorld {
  readonly log: Log
  readonly threads: SeasonThreads
  /** For what nobody asked. */
  readonly spans?: Spans
}

/** Makes one lab's desk for seasons. */
export function createSeasons({ log, threads, spans = noTraces }: SeasonsWorld): Seasons {
  let kept: { readonly key: string; readonly date: string; readonly answer: SeasonAnswer } | null = null
  let running: Running | null = null

  const ask = (
    records: Records,
    task: Task,
    { seq, date, minute }: Moment,
    tell: Tell,
    inside: Spans,
  ): (() => void) => {
    const flag = new Int32Array(new SharedArrayBuffer(4))
    const job: Job = { n: threads.number(), task, records: ofASeason(records), seq, now: { date, minute }, flag }
    const span = inside.begin('job', { 'talus.kind': task.what })
    return threads.start(job, span, (outcome) => {
      if (outcome.kind !== 'failed') return tell(outcome.result, outcome.kind === 'done')
      log('error', `A season failed: ${outcome.message}`)
      tell({ refused: 'fault' }, true)
    })
  }

  const whole = (records: Records, moment: Moment, tell: Tell, inside: Spans): (() => void) => {
    const key = `${moment.seq} ${moment.date}`
    if (kept?.key === key) {
      tell(kept.answer, true)
      return () => {}
    }
    if (kept?.date === moment.date) tell({ ...kept.answer, isWhole: false }, false)
    if (running?.key !== key) {
      const before: Running | null = running
      before?.stop()
      running = begin(records, moment, key, before?.listeners ?? new Set(), inside)
    }
    const mine = running
    mine.listeners.add(tell)
    if (mine.last !== null) tell(mine.last, false)
    return () => {
      // Listeners go along when a newer question takes over.
      const now = running
      now?.listeners.delete(tell)
      if (now === null || now.listeners.size > 0) return
      now.stop()
      running = null
    }
  }

  // Shared by all who ask, it is within the question that had it begun.
  const begin = (records: Records, moment: Moment, key: string, listeners: Set<Tell>, inside: Spans): Running => {
    const hear: Tell = (answer, isLast) => {
      mine.last = answer
      if (isLast && running === mine) running = null
      if (isLast && 'kind' in answer && answer.kind === 'season' && answer.isWhole) {
        kept = { key, date: moment.date, answer }
      }
      for (const tell of [...listeners]) tell(answer, isLast)
      if (isLast) listeners.clear()
    }
    const stop = ask(records, { what: 'season' }, moment, hear, inside)
    const mine: Running = { key, stop, listeners, last: null }
    return mine
  }

  return {
    start: (records, task, moment, tell, inside = spans) =>
      task.what === 'season' ? whole(records, moment, tell, inside) : ask(records, task, moment, tell, inside),
  }
}

/** The kinds a season depends on; the rest of the board stays here. */
function ofASeason(records: Records): SeasonRecords {
  const kept = Object.fromEntries(kindsOfASeason.map((kind) => [kind, records[kind]]))
  // Made from the list that the type is made from.
  return kept as unknown as SeasonRecords
}
