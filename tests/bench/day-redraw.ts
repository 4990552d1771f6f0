/**
 * The redraw rows of `bench -- day`: posted days that something upsets (people away or late, a broken place, a clock),
 * drawn again, beside the smallest number of changed people that a general MIP solver proves within the same loss.
 */
import { performance } from 'node:perf_hooks'
import { redraw, type Settle, solve, verify } from '#lib/lineup'
import { aDay, type DaySize } from '../lib/lineup/days.ts'
import { UPSETS, type Upset, upsetDay } from '../lib/lineup/mornings.ts'
import { fewestChanges, solveByPeer } from '../lib/lineup/peer.ts'

const SMALL: DaySize = { people: 12, shifts: 2, pieces: 60, places: 10 }
const MIDDLE: DaySize = { people: 40, shifts: 2, pieces: 300, places: 30 }
/** Loss that is allowed for the sake of fewer changes, in thousandths. */
const LOSS_PER_MILLE = 10

export interface RedrawRow {
  readonly size: string
  readonly upset: Upset['kind']
  readonly seed: number
  readonly absent: number
  readonly changed: number
  /** Proven by the peer; null where it was not asked or did not come to an end. */
  readonly fewestPossible: number | null
  /** Whether the redraw itself went through every way of changing fewer people. */
  readonly isFewest: boolean
  readonly scoreLossPct: number
  readonly ms: number
  /** Processor time, which a busy machine stretches less. */
  readonly cpuMs: number
  readonly broken: number
}

export interface RedrawSettings {
  /** The general solver that the product's thread has too. */
  readonly settle: Settle
  readonly days: number
  readonly seed: number
  readonly peerSeconds: number
  readonly withPeer: boolean
}

/** Every upset on `days` small days with the peer, and on one middle day without. */
export async function benchRedraws({
  settle,
  days,
  seed,
  peerSeconds,
  withPeer,
}: RedrawSettings): Promise<RedrawRow[]> {
  const rows: RedrawRow[] = []
  for (let day = 0; day < days; day++) {
    for (const upset of UPSETS) {
      rows.push(
        await benchRedraw('12x2', SMALL, { settle, upset, seed: seed + day, peerSeconds: withPeer ? peerSeconds : 0 }),
      )
    }
  }
  for (const upset of UPSETS) rows.push(await benchRedraw('40x2', MIDDLE, { settle, upset, seed, peerSeconds: 0 }))
  for (const row of rows) process.stderr.write(`${sayRow(row)}\n`)
  const asked = rows.filter((row) => row.fewestPossible !== null)
  const equal = asked.filter((row) => row.changed === row.fewestPossible).length
  process.stderr.write(`redraw: ${equal} of ${asked.length} with the proven fewest changes\n`)
  return rows
}

const sayRow = (row: RedrawRow): string =>
  `redraw ${row.size} seed ${row.seed}, ${row.upset} ${row.absent || ''}: ${row.changed} changed${row.isFewest ? ' (settled)' : ''}, proven fewest ${row.fewestPossible ?? '–'}, loss ${row.scoreLossPct} %, ${row.ms} ms, processor ${row.cpuMs} ms`

async function benchRedraw(
  name: string,
  size: DaySize,
  {
    settle,
    upset,
    seed,
    peerSeconds,
  }: { readonly settle: Settle; readonly upset: Upset; readonly seed: number; readonly peerSeconds: number },
): Promise<RedrawRow> {
  const day = aDay(size, seed)
  const problem = upsetDay(day, solve(day, { seed, steps: 200_000 }), upset, seed)
  const [started, spent] = [performance.now(), process.cpuUsage()]
  const redrawn = redraw(problem, { seed, lossPerMille: LOSS_PER_MILLE, settle })
  const { user, system } = process.cpuUsage(spent)
  const ms = Math.round(performance.now() - started)
  const best = peerSeconds > 0 ? await solveByPeer(problem, { seconds: peerSeconds }) : null
  const bestScore = best?.isProven === true && best.score !== null ? Math.round(best.score) : null
  const least = bestScore === null ? null : bestScore - Math.floor((bestScore * LOSS_PER_MILLE) / 1000)
  const measure = bestScore ?? redrawn.bestScore
  return {
    size: name,
    upset: upset.kind,
    seed,
    absent: upset.kind === 'absent' ? upset.people : 0,
    changed: redrawn.changedPeople,
    fewestPossible:
      best === null || least === null
        ? null
        : await fewestChanges(problem, { leastScore: least, mustsKept: best.mustsKept, seconds: 6 * peerSeconds }),
    isFewest: redrawn.isFewest,
    scoreLossPct: Math.round((100_000 * (measure - redrawn.solution.score)) / measure) / 1000,
    ms,
    cpuMs: Math.round((user + system) / 1000),
    broken: verify(problem, redrawn.solution).length,
  }
}
