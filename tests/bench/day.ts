/**
 * `npm run -s bench -- day [--days N] [--seed S] [--peer-seconds T] [--sizes 12x2,40x2,120x3] [--no-peer]
 * [--no-best-bound] [--redraw-days N] [--no-redraw]`
 *
 * The day solver at three sizes, seeded days, beside a general MIP solver on the same rules as equations. Every
 * line-up is gone over by the checker that shares no code with the search. `bound` and `gapPct` are those told with the
 * line-up within `ms`; `bestBound` is the best our prices give however long they take. Then redraws (day-redraw.ts). The table goes
 * to standard error, one line of JSON to standard output.
 */
import { performance } from 'node:perf_hooks'
import { boundOf, type Settle, type Solution, solve, verify } from '#lib/lineup'
import { loadSettle } from '../../server/solver/settle.ts'
import { aDay, type DaySize } from '../lib/lineup/days.ts'
import { solveByPeer } from '../lib/lineup/peer.ts'
import { benchRedraws } from './day-redraw.ts'

interface Size extends DaySize {
  readonly name: string
  readonly steps: number
  /** Why the peer is not asked; null where it is. */
  readonly peerNote: string | null
}

const TOO_LARGE = 'not asked: 880 000 columns fill its memory, and it found nothing in 150 s'

const SIZES: readonly Size[] = [
  { name: '12x2', people: 12, shifts: 2, pieces: 60, places: 10, steps: 120_000, peerNote: null },
  {
    name: '26x2',
    people: 26,
    shifts: 2,
    pieces: 60,
    places: 14,
    steps: 200_000,
    peerNote: 'not asked: a size between',
  },
  { name: '40x2', people: 40, shifts: 2, pieces: 300, places: 30, steps: 300_000, peerNote: null },
  { name: '120x3', people: 120, shifts: 3, pieces: 1000, places: 80, steps: 600_000, peerNote: TOO_LARGE },
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
  readonly peerNote: string | null
  readonly peer: string | null
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
    process.stderr.write(
      `${size.name}: ${row.ms} ms (most ${row.msMax}), score ${row.score}, at most ${row.gapPct} % better exists (most ${row.gapPctMax}), proven ${row.proven}, best bound ${row.bestBound ?? '–'}, broken ${row.broken}, peer ${row.peerScore ?? '–'} in ${row.peerMs ?? '–'} ms, proven ${row.peerProven} of ${row.days}, ours below it ${row.belowPeerPct ?? '–'} %\n`,
    )
  }
  const redrawn = args.includes('--no-redraw')
    ? []
    : await benchRedraws({ days: Number(value('--redraw-days', String(days))), seed, peerSeconds, withPeer })
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
  const peers: { readonly score: number; readonly ms: number; readonly isProven: boolean; readonly below: number }[] =
    []
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
    if (!withPeer || size.peerNote !== null) continue
    const peerStarted = performance.now()
    const peer = await solveByPeer(problem, { seconds: peerSeconds })
    if (peer.score === null) continue
    const below = (100 * (peer.score - solution.score)) / peer.score
    peers.push({ score: peer.score, ms: performance.now() - peerStarted, isProven: peer.status === 'Optimal', below })
  }
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
    peerNote: size.peerNote,
    peer: peers.length > 0 ? 'HiGHS' : null,
    peerMs: peers.length > 0 ? Math.round(mean(peers.map(({ ms }) => ms))) : null,
    peerScore: peers.length > 0 ? Math.round(mean(peers.map(({ score }) => score))) : null,
    // The peer's package tells a bound only by proving.
    peerBound:
      peers.length > 0 && peers.every(({ isProven }) => isProven)
        ? Math.round(mean(peers.map(({ score }) => score)))
        : null,
    peerProven: peers.filter(({ isProven }) => isProven).length,
    belowPeerPct: peers.length > 0 ? round(mean(peers.map(({ below }) => below))) : null,
  }
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000
}
