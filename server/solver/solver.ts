// Drawing up a day for whoever asks: one question in, better and better proposals out, the last one explained. And
// looking ahead, "what if", while somebody holds a tag over a place. The work is done in other threads (pool.ts); the
// same records, date and question always get the same last answer, unless the time ceiling cuts a very large day short.
import { z } from 'zod'
import { DEFAULT_SEED } from '#lib/lineup'
import { LocalDate, PersonId, PieceId, PlaceId, type Records, ShiftId, StepId } from '#lib/words'
import { noTraces, type Spans } from '../traces.ts'
import type { Log } from '../world.ts'
import { type DayRecords, type Job, kindsOfADay, type Results, type Task } from './messages.ts'
import { Pool, threadsHere } from './pool.ts'

const Turns = z
  .array(z.object({ shiftId: ShiftId, personId: PersonId, pieceId: PieceId, stepId: StepId, placeId: PlaceId }))
  .max(5000)

/** What may be asked: a day, whether to change as little as possible, and from which line-up. */
const DrawUp = z.strictObject({
  date: LocalDate,
  redraw: z.boolean(),
  from: Turns.optional(),
  limits: z
    .array(z.strictObject({ pieceId: PieceId, stepId: StepId, turns: z.int().min(0).max(1000) }))
    .max(2000)
    .optional(),
})

/** A day, the turns to be forced upon it, and the line-up one looks at. */
const WhatIf = z.strictObject({ date: LocalDate, turns: Turns.min(1).max(12), from: Turns.optional() })

/** The first date, and how many days from there. */
const DrawWeek = z.strictObject({ date: LocalDate, days: z.int().min(1).max(7) })

/** From what came over the wire to a task; null when it has another form. */
export const parseTask: { readonly [W in Task['what']]: (body: unknown) => Task | null } = {
  drawUp: (body) => {
    const { success, data } = DrawUp.safeParse(body)
    if (!success) return null
    const { date, redraw, from = null, limits = [] } = data
    return { what: 'drawUp', date, isRedraw: redraw, from, limits }
  },
  whatIf: (body) => {
    const { success, data } = WhatIf.safeParse(body)
    return success ? { what: 'whatIf', date: data.date, turns: data.turns, from: data.from ?? null } : null
  },
  drawWeek: (body) => {
    const { success, data } = DrawWeek.safeParse(body)
    return success ? { what: 'drawWeek', date: data.date, days: data.days, from: null } : null
  },
}

const nameOf = { drawUp: 'draw-up', whatIf: 'look ahead', drawWeek: 'draw-up of a week' } as const

export interface Refused {
  readonly refused: 'fault' | 'form' | 'not-allowed' | 'stopped'
}

/** What a task is answered with as it goes over the wire, or why it is not. */
export type Answer<W extends Task['what'] = Task['what']> = Results[W] | Refused

/** The moment of which the records are. */
interface Moment {
  readonly seq: number
  readonly date: string
  readonly minute: number
}

export interface Solver {
  /** Takes up a task; `onAnswer` is told each better answer and then the last. Gives the function that stops it. */
  readonly start: (
    records: Records,
    task: Task,
    moment: Moment,
    onAnswer: (answer: Answer, isLast: boolean) => void,
    spans?: Spans,
  ) => () => void
  readonly close: () => Promise<void>
}

export interface SolverOptions {
  readonly log: Log
  /** The bundled solver/worker.ts; beside the server's bundle unless told otherwise. */
  readonly worker?: URL
  readonly threads?: number
  readonly ceilingMs?: number
}

const CEILING_MS = 20_000
const WEEK_CEILING_MS = 60_000
/** Longest look ahead; a hand does not wait over a place. */
const LOOK_CEILING_MS = 1500

/** Makes a solver; its threads start when they are first needed. */
export function createSolver({ log, worker, threads, ceilingMs }: SolverOptions): Solver {
  const script = worker ?? new URL('./solver-worker.mjs', import.meta.url)
  const days = new Pool<Job, Results[Task['what']]>({
    script,
    threads: threads ?? threadsHere(),
    ceilingMs: ceilingMs ?? CEILING_MS,
  })
  // A thread of its own: whoever drags is not kept waiting by a day that is being drawn up.
  const looks = new Pool<Job, Results[Task['what']]>({
    script,
    threads: 1,
    ceilingMs: Math.min(ceilingMs ?? CEILING_MS, LOOK_CEILING_MS),
  })
  // A week takes many days' time; it must not stand in the way of the day that people wait for.
  const weeks = new Pool<Job, Results[Task['what']]>({
    script,
    threads: 1,
    ceilingMs: ceilingMs ?? WEEK_CEILING_MS,
  })
  return {
    start: (records, task, moment, onAnswer, spans = noTraces) => {
      const pool = { drawUp: days, whatIf: looks, drawWeek: weeks }[task.what]
      const job = {
        n: pool.number(),
        task,
        records: ofADay(records),
        seq: moment.seq,
        seed: DEFAULT_SEED,
        now: { date: moment.date, minute: moment.minute },
        flag: new Int32Array(new SharedArrayBuffer(4)),
      }
      const span = spans.begin('job', { 'talus.kind': task.what })
      return pool.start(job, span, (outcome) => {
        if (outcome.kind === 'failed') {
          log('error', `A ${nameOf[task.what]} failed: ${outcome.message}`)
          onAnswer({ refused: 'fault' }, true)
        } else {
          onAnswer(outcome.result, outcome.kind === 'done')
        }
      })
    },
    close: async () => {
      await Promise.all([days, looks, weeks].map((pool) => pool.close()))
    },
  }
}

/** The kinds a line-up depends on; the rest of the board stays here. */
function ofADay(records: Records): DayRecords {
  const kept = Object.fromEntries(kindsOfADay.map((kind) => [kind, records[kind]]))
  // Made from the list that the type is made from.
  return kept as unknown as DayRecords
}
