// The thread that draws up days: it builds the problem, searches, explains and checks, while the server's main thread
// goes on taking edits. It knows nothing but the records it was given, and answers until the flag tells it to end.
import { performance } from 'node:perf_hooks'
import { consider, drawWeek, propose, turnsMaxOf, type Week } from '#lib/lineup'
import { type Leads, leadsOf } from '#lib/season'
import { noRecords, type Records } from '#lib/words'
import type { Job, JobAnswer } from './messages.ts'
import { loadSettle } from './settle.ts'
import { hearJobs } from './thread.ts'

/** Better line-ups come by the dozen at first; a screen needs no more than some a second. */
const BETWEEN_ANSWERS_MS = 120

/** Steps of looking ahead: about 150 ms of processor for a lab of 26 people, since a hand is waiting over a place. */
const LOOK_AHEAD_STEPS = 4000

/** Weeks that the season is looked at from a day; dates beyond do not press yet. */
const WEEKS = 40

/** Loaded for the first day that is drawn up; looking ahead and weeks do without. */
let settling: ReturnType<typeof loadSettle> | null = null

let kept: { readonly seq: number; readonly date: string; readonly leads: Leads } | null = null

/** What the season wants of the day. Looking ahead makes do with what this thread knew earlier on the same day. */
function leadsFor({ task, seq, now }: Job, records: Records, isCancelled: () => boolean): Leads {
  if (kept?.date === now.date && (kept.seq === seq || task.what === 'whatIf')) return kept.leads
  // The whole day counts: a draw-up in the afternoon is for the same season as one in the morning.
  const leads = leadsOf(records, { seq, from: now.date, weeks: WEEKS, isCancelled })
  if (!isCancelled()) kept = { seq, date: now.date, leads }
  return leads
}

async function run(job: Job, answer: (message: JobAnswer) => void): Promise<void> {
  const { n, task, seq, seed, now, flag } = job
  const records = { ...noRecords(), ...job.records }
  const isCancelled = () => Atomics.load(flag, 0) === 1
  const leads = leadsFor(job, records, isCancelled)
  const common = { seq, seed, now, ...leads, isCancelled, ...(task.from === null ? {} : { from: task.from }) }
  if (task.what === 'whatIf') {
    const result = consider(records, task.date, { ...common, turns: task.turns, steps: LOOK_AHEAD_STEPS })
    answer({ n, kind: 'done', result })
    return
  }
  if (task.what === 'drawWeek') {
    const onBetter = (week: Week) => answer({ n, kind: 'better', result: week })
    answer({ n, kind: 'done', result: drawWeek(records, { ...common, first: task.date, days: task.days, onBetter }) })
    return
  }
  settling ??= loadSettle()
  const settle = await settling
  let last = Number.NEGATIVE_INFINITY
  const result = propose(records, task.date, {
    ...common,
    settle,
    isRedraw: task.isRedraw,
    ...(task.limits.length === 0 ? {} : { turnsMax: turnsMaxOf(task.limits) }),
    isWanted: () => performance.now() - last >= BETWEEN_ANSWERS_MS,
    onBetter: (better) => {
      last = performance.now()
      answer({ n, kind: 'better', result: better })
    },
  })
  answer({ n, kind: 'done', result })
}

hearJobs(run)
