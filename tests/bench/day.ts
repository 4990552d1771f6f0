/**
 * `npm run -s bench -- day [--days N] [--seed S] [--peer-seconds T] [--sizes 12x2,40x2,120x3] [--no-peer]
 * [--no-best-bound] [--redraw-days N] [--no-redraw]`
 *
 * The day solver at three sizes, seeded days, beside a general MIP solver on the same rules as equations. Every
 * line-up is gone over by the checker that shares no code with the search. `ms` is the line-up with its bound;
 * `bound` and `gapPct` are those told with it; `bestBound` is the best our prices give however long they take.
 * `peerScore` and `peerMs` are means over the `peerFound` days on which the peer found a line-up (its equations written
 * and read in included), `belowPeerPct` how far ours is below it there, negative where ours is better; `peerBound` over
 * the days on which it knew one. Then redraws (day-redraw.ts). The table goes to standard error, one line of JSON to standard output.
 */
import { performance } from 'node:perf_hooks'
import { boundOf, type Settle, type Solution, solve, verify } from '#lib/lineup'
import { loadSettle } from '../../server/solver/settle.ts'
import { aDay, type DaySize } from '../lib/lineup/days.ts'
import type { PeerAnswer } from '../lib/lineup/peer.ts'
import { askPeer } from './day-peer.ts'
import { benchRedraws } from './day-redraw.ts'

interface Size extends DaySize {
  readonly name: string
  readonly steps: number
  /** Days on which the peer is asked at most: one is enough to see that a size is beyond it. */
  readonly peerDays: number
}

const SIZES: readonly Size[] = [
  { name: '12x2', people: 12, shifts: 2, pieces: 60, places: 10, steps: 120_000, peerDays: 99 },
  { name: '26x2', people: 26, shifts: 2, pieces: 60, places: 14, steps: 200_000, peerDays: 0 },
  { name: '40x2', people: 40, shifts: 2, pieces: 300, places: 30, steps: 300_000, peerDays: 99 },
  { name: '120x3', people: 120, shifts: 3, pieces: 1000, places: 80, steps: 600_000, peerDays: 1 },
]

/** Rounds of the long computation; it ends by itself before that. */
const BEST_ROUNDS = 2000

interface Row {
  readonly people: number
  readonly shifts: number
  readonly pieces: number
  readonly places: number
  readonly days: number
  readonly ms: number
  readonly msMax: number
  readonly score: number
  readonly bound: number
  readonly gapPct: number
  readonly gapPctMax: number
  readonly proven: number
  readonly bestBound: number | null
  readonly broken: number
  readonly peer: string | null
  readonly peerAsked: number
  readonly peerFound: number
  readonly peerNote: string | null
  readonly peerMs: number | null
  readonly peerScore: number | null
  readonly peerBound: number | null
  readonly peerProven: number
  readonly belowPeerPct: number | null
}

/** Runs the bench; throws nothing, returns the exit code: 1 when a line-up broke a rule. */
export async function run(args: readonly string[]): Promise<number> {
  const value = (name: string, otherwise: string): string => {
    const at = args.indexOf(name)
    return at < 0 ? otherwise : (args[at + 1] ?? otherwise)
  }
  const days = Number(value('--days', '10'))
  const seed = Number(value('--seed', '1'))
  const peerSeconds = Number(value('--peer-seconds', '60'))
  const names = value('--sizes', SIZES.map((size) => size.name).join(',')).split(',')
  const withPeer = !args.includes('--no-peer')
  process.stderr.write(`seed ${seed}, ${days} days a size, peer ${withPeer ? `HiGHS ${peerSeconds} s` : 'none'}\n`)
  const settle = await loadSettle()
  // The compiler of the engine needs a day to warm up, as the server's worker has had when the morning comes.
  solve(aDay({ people: 12, shifts: 2, pieces: 60, places: 10 }, 0), { steps: 60_000, settle })
  const rows: Row[] = []
  for (const size of SIZES) {
    if (!names.includes(size.name)) continue
    const row = await benchSize(size, {
      days,
      seed,
      withBestBound: !args.includes('--no-best-bound'),
      settle,
      peerSeconds,
      withPeer,
    })
    rows.push(row)
    process.stderr.write(`${sayRow(size.name, row)}\n`)
  }
  const redrawn = args.includes('--no-redraw')
    ? []
    : await benchRedraws({
        settle,
        days: Number(value('--redraw-days', String(days))),
        seed,
        peerSeconds,
        withPeer,
      })
  process.stdout.write(`${JSON.stringify({ sizes: rows, redraw: redrawn })}\n`)
  return rows.some((row) => row.broken > 0) || redrawn.some((row) => row.broken > 0) ? 1 : 0
}

interface Settings {
  readonly days: number
  readonly seed: number
  readonly peerSeconds: number
  readonly withPeer: boolean
  readonly withBestBound: boolean
  readonly settle: Settle
}

async function benchSize(
  size: Size,
  { days, seed, peerSeconds, withPeer, withBestBound, settle }: Settings,
): Promise<Row> {
  const ours: { readonly solution: Solution; readonly bound: number; readonly ms: number }[] = []
  const bestBounds: number[] = []
  const peers: { readonly answer: PeerAnswer; readonly ms: number; readonly ours: number }[] = []
  let peerNote: string | null = null
  let broken = 0
  for (let day = 0; day < days; day++) {
    const problem = aDay(size, seed + day)
    const started = performance.now()
    const solution = solve(problem, { seed: seed + day, steps: size.steps, settle })
    const ms = performance.now() - started
    broken += verify(problem, solution).length
    if (solution.bound === null) throw new Error('the solver tells a bound with each day')
    ours.push({ solution, bound: solution.bound, ms })
    if (withBestBound && size.people > 100) {
      bestBounds.push(boundOf(problem, { target: solution.score, rounds: BEST_ROUNDS, isThorough: true }))
    }
    if (!withPeer || day >= size.peerDays) continue
    const peerStarted = performance.now()
    const word = await askPeer({ problem, seconds: peerSeconds })
    if (word.kind === 'failed') peerNote = word.why
    else peers.push({ answer: word.answer, ms: performance.now() - peerStarted, ours: solution.score })
  }
  const found = peers.flatMap(({ answer, ms, ours: own }) =>
    answer.score === null ? [] : [{ score: answer.score, ms, below: (100 * (answer.score - own)) / answer.score }],
  )
  const peerBounds = peers.flatMap(({ answer }) => (answer.bound === null ? [] : [answer.bound]))
  const asked = withPeer ? Math.min(days, size.peerDays) : 0
  if (asked > 0 && found.length === 0) peerNote ??= `found nothing in ${peerSeconds} s`
  const gaps = ours.map(({ solution, bound }) => (100 * (bound - solution.score)) / solution.score)
  const { people, shifts, pieces, places } = size
  return {
    people,
    shifts,
    pieces,
    places,
    days,
    ms: Math.round(mean(ours.map(({ ms }) => ms))),
    msMax: Math.round(Math.max(...ours.map(({ ms }) => ms))),
    score: Math.round(mean(ours.map(({ solution }) => solution.score))),
    bound: Math.round(mean(ours.map(({ bound }) => bound))),
    gapPct: round(mean(gaps)),
    gapPctMax: round(Math.max(...gaps)),
    proven: ours.filter(({ solution }) => solution.isProven).length,
    bestBound: bestBounds.length > 0 ? Math.round(mean(bestBounds)) : null,
    broken,
    peer: asked > 0 ? 'HiGHS' : null,
    peerAsked: asked,
    peerFound: found.length,
    peerNote,
    peerMs: found.length > 0 ? Math.round(mean(found.map(({ ms }) => ms))) : null,
    peerScore: found.length > 0 ? Math.round(mean(found.map(({ score }) => score))) : null,
    peerBound: peerBounds.length > 0 ? Math.round(mean(peerBounds)) : null,
    peerProven: peers.filter(({ answer }) => answer.isProven).length,
    belowPeerPct: found.length > 0 ? round(mean(found.map(({ below }) => below))) : null,
  }
}

function sayRow(name: string, row: Row): string {
  const own = `${name}: ${row.days} days, ${row.ms} ms (most ${row.msMax}), score ${row.score}, at most ${row.gapPct} % better exists (most ${row.gapPctMax}), ${row.proven} proven, best bound ${row.bestBound ?? 'not computed'}, rules broken ${row.broken}`
  if (row.peer === null) return `${own}; peer not asked`
  const said = `peer ${row.peer} asked on ${row.peerAsked}: line-ups on ${row.peerFound}, ${row.peerProven} proven`
  const values = `score ${row.peerScore} in ${row.peerMs} ms, ours ${row.belowPeerPct} % below`
  return `${own}; ${said}${row.peerFound > 0 ? `, ${values}` : ''}${row.peerNote === null ? '' : ` (${row.peerNote})`}`
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000
}
