/**
 * `npm run -s bench -- season [DIR] [--schedules N] [--seconds S] [--seed S] [--peer-seconds T | --no-peer] [--sets j30,…]`
 *
 * Published projects beside their best known values: PSPLIB sets by a budget of schedules, the others by seconds. Every
 * answer is gone over by the checker. DIR defaults to ../shared/benchmarks; without it PSPLIB is read from tests/data.
 * The peer is minizinc with gecode on the PSPLIB one-mode sets, where it is installed.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type SeasonAnswer, solveFile } from '../solve/season.ts'
import { hasMinizinc, solveByMinizinc } from './season-peer.ts'

interface Known {
  readonly file: string
  readonly set: string
  readonly best: number
  readonly criticalPath: number
}

const here = dirname(fileURLToPath(import.meta.url))
/** Sets measured by schedules; the others by seconds. */
const BY_SCHEDULES = ['j30', 'j60', 'j120', 'j30mm']

export async function run(args: readonly string[]): Promise<number> {
  const value = (name: string, otherwise: string): string => {
    const at = args.indexOf(name)
    return at < 0 ? otherwise : (args[at + 1] ?? otherwise)
  }
  const named = args.find(
    (word, at) =>
      !word.startsWith('--') && (at === 0 || !args[at - 1]?.startsWith('--') || args[at - 1] === '--no-peer'),
  )
  const folder = named ?? join(here, '../../../shared/benchmarks')
  const hasFolder = existsSync(folder)
  const schedules = Number(value('--schedules', '50000'))
  const seconds = Number(value('--seconds', '10'))
  const seed = Number(value('--seed', '1'))
  const peerSeconds = Number(value('--peer-seconds', '10'))
  const wanted = value('--sets', '')
    .split(',')
    .filter((set) => set !== '')
  if (!hasFolder) process.stderr.write(`${folder} is not there: PSPLIB's files in tests/data alone are measured\n`)
  const withPeer = !args.includes('--no-peer') && hasMinizinc()
  if (!withPeer && !args.includes('--no-peer'))
    process.stderr.write('minizinc is not installed (Debian: minizinc): no peer\n')
  process.stderr.write(`seed ${seed}, ${schedules} schedules or ${seconds} s a file\n`)
  const known = hasFolder ? readKnown(folder) : readOwn(join(here, '../data/psplib'))
  const sets = [...new Set(known.map(({ set }) => set))].filter((set) => wanted.length === 0 || wanted.includes(set))
  const rows = []
  let infeasible = 0
  for (const set of sets) {
    const byCount = BY_SCHEDULES.includes(set)
    const those = known.filter((one) => one.set === set)
    const answers: { readonly one: Known; readonly answer: SeasonAnswer }[] = []
    let broken = 0
    for (const one of those) {
      const result = solveFile(one.file, {
        schedules: byCount ? schedules : null,
        seconds: byCount ? null : seconds,
        seed,
      })
      if (result.kind === 'refused' || result.faults.length > 0) {
        broken++
        process.stderr.write(`${one.file}: ${result.kind === 'refused' ? result.why : result.faults.join('; ')}\n`)
      } else answers.push({ one, answer: result.answer })
    }
    infeasible += broken
    const off = (length: number, { best, criticalPath }: Known): number =>
      (100 * (length - (criticalPath || best))) / (criticalPath || best)
    const peers =
      withPeer && ['j30', 'j60', 'j120'].includes(set)
        ? answers.map(({ one }) => ({ one, peer: solveByMinizinc(one.file, peerSeconds) }))
        : []
    const found = peers.flatMap(({ one, peer }) => (peer === null ? [] : [off(peer, one)]))
    const row = {
      set,
      instances: those.length,
      schedules: byCount ? schedules : Math.round(mean(answers.map(({ answer }) => answer.schedules))),
      seconds: byCount ? round(mean(answers.map(({ answer }) => answer.seconds))) : seconds,
      meanDevPct: those.some(({ best }) => best > 0)
        ? round(mean(answers.map(({ one, answer }) => off(answer.objective, one))))
        : null,
      bestKnownDevPct: those.some(({ best }) => best > 0)
        ? round(mean(answers.map(({ one }) => off(one.best, one))))
        : null,
      proven: answers.filter(({ answer }) => answer.objective === answer.lowerBound).length,
      infeasible: broken,
      peer: peers.length > 0 ? `minizinc gecode ${peerSeconds} s` : null,
      peerMeanDevPct: found.length > 0 ? round(mean(found)) : null,
      peerSolved: found.length,
    }
    rows.push(row)
    process.stderr.write(`${JSON.stringify(row)}\n`)
    for (const { one, answer } of answers) {
      if (answer.objective === one.best) continue
      process.stderr.write(
        `  ${basename(one.file)}: ${answer.objective}, at least ${answer.lowerBound}, best known ${one.best || 'none'}\n`,
      )
    }
  }
  process.stdout.write(`${JSON.stringify({ sets: rows })}\n`)
  return infeasible > 0 ? 1 : 0
}

/** The table beside the shared files; deviations of j60 and j120 are counted from the critical path, as is usual. */
function readKnown(folder: string): readonly Known[] {
  const lines = readFileSync(join(folder, 'best_known.csv'), 'utf8').trim().split('\n').slice(1)
  return lines.flatMap((line) => {
    const [set = '', , file = '', , , best = '', , path = ''] = line.split(',')
    const full = join(folder, file)
    if (
      set === 'gap' ||
      set.startsWith('gap') ||
      !/\.(sm|mm|dzn|def)$/.test(file) === (set !== 'jobshop') ||
      !existsSync(full)
    )
      return []
    return [{ set, file: full, best: Number(best), criticalPath: set === 'j60' || set === 'j120' ? Number(path) : 0 }]
  })
}

function readOwn(folder: string): readonly Known[] {
  const lines = readFileSync(join(folder, 'known.csv'), 'utf8').trim().split('\n').slice(1)
  const files = new Set(readdirSync(folder, { recursive: true }).map(String))
  return lines.flatMap((line) => {
    const [set = '', name = '', , best = '', , path = ''] = line.split(',')
    const file = `${set}/${name}.${set === 'j30mm' ? 'mm' : 'sm'}`
    if (!files.has(file)) return []
    return [
      {
        set,
        file: join(folder, file),
        best: Number(best),
        criticalPath: set === 'j60' || set === 'j120' ? Number(path) : 0,
      },
    ]
  })
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000
}
