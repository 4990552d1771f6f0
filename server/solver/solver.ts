// Drawing up a day for whoever asks: one question in, better and better proposals out, the last one explained. The
// work is done in other threads (pool.ts); the same records, date and question always get the same last answer,
// unless the time ceiling cuts a very large day short.
import { availableParallelism } from 'node:os'
import { z } from 'zod'
import { DEFAULT_SEED, type Proposal } from '#lib/lineup'
import { LocalDate, PersonId, PieceId, PlaceId, type Records, ShiftId, StepId } from '#lib/words'
import type { Log } from '../world.ts'
import { type DayRecords, kindsOfADay } from './messages.ts'
import { Pool } from './pool.ts'

/** What may be asked: a day, whether to change as little as possible, and from which line-up. */
export const DrawUp = z.strictObject({
  date: LocalDate,
  redraw: z.boolean(),
  from: z
    .array(z.object({ shiftId: ShiftId, personId: PersonId, pieceId: PieceId, stepId: StepId, placeId: PlaceId }))
    .max(5000)
    .optional(),
})
export type DrawUp = z.infer<typeof DrawUp>

/** A proposal as it goes over the wire, or why there is none. */
export type DrawUpAnswer = Proposal | { readonly refused: 'fault' | 'form' | 'not-allowed' | 'stopped' }

/** The moment of which the records are. */
interface Moment {
  readonly seq: number
  readonly date: string
  readonly minute: number
}

export interface Solver {
  /** Draws a day up; `onAnswer` is told each better proposal and then the last. Gives the function that stops it. */
  readonly drawUp: (
    records: Records,
    body: DrawUp,
    moment: Moment,
    onAnswer: (answer: DrawUpAnswer, isLast: boolean) => void,
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

/** Draw-ups at once: as many as cores beside the one that serves, two at most. */
const threadsHere = () => Math.max(1, Math.min(2, availableParallelism() - 1))
const CEILING_MS = 20_000

/** Makes a solver; its threads start when they are first needed. */
export function createSolver({ log, worker, threads, ceilingMs }: SolverOptions): Solver {
  const pool = new Pool({
    script: worker ?? new URL('./solver-worker.mjs', import.meta.url),
    threads: threads ?? threadsHere(),
    ceilingMs: ceilingMs ?? CEILING_MS,
  })
  let count = 0
  return {
    drawUp: (records, body, moment, onAnswer) => {
      count += 1
      const job = {
        n: count,
        records: ofADay(records),
        date: body.date,
        seq: moment.seq,
        seed: DEFAULT_SEED,
        isRedraw: body.redraw,
        from: body.from ?? null,
        now: { date: moment.date, minute: moment.minute },
        flag: new Int32Array(new SharedArrayBuffer(4)),
      }
      return pool.start(job, (outcome) => {
        if (outcome.kind === 'failed') {
          log('error', `A draw-up failed: ${outcome.message}`)
          onAnswer({ refused: 'fault' }, true)
        } else {
          onAnswer(outcome.answer.proposal, outcome.kind === 'done')
        }
      })
    },
    close: () => pool.close(),
  }
}

/** The kinds a line-up depends on; the rest of the board stays here. */
function ofADay(records: Records): DayRecords {
  const kept = Object.fromEntries(kindsOfADay.map((kind) => [kind, records[kind]]))
  // Made from the list that the type is made from.
  return kept as unknown as DayRecords
}
