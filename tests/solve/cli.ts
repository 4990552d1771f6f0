/**
 * `npm run -s solve -- day FILE… [--seconds S]`, `-- assign FILE… [--seconds S]` and
 * `-- season FILE… [--schedules N | --seconds S]`: answers to published or unseen input, one line of JSON a file, so that
 * anyone can check them. `day --schema` and `day --example` print the format. Exits 1 when an answer breaks a rule or the input is not a problem.
 */
import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import {
  appraiseAssign,
  DEFAULT_SEED,
  exampleProblem,
  explain,
  gapPctOf,
  judgeProblem,
  parseAssign,
  problemSchema,
  type Settle,
  solve,
  solveAssign,
  stepsFor,
  verify,
} from '#lib/lineup'
import { loadSettle } from '../../server/solver/settle.ts'
import { knownGap } from './known.ts'
import { season } from './season.ts'

const here = dirname(fileURLToPath(import.meta.url))

interface Flags {
  readonly files: readonly string[]
  readonly seconds: number | null
  readonly schedules: number | null
  readonly seed: number
  readonly sense: 'min' | 'max' | null
}

/** Runs the command and returns the exit code. */
export async function run(args: readonly string[]): Promise<number> {
  const [kind, ...rest] = args
  if (kind === 'day' && rest.includes('--schema')) {
    return print(JSON.stringify(z.toJSONSchema(problemSchema, { io: 'input' })))
  }
  if (kind === 'day' && rest.includes('--example')) return print(JSON.stringify(exampleProblem(), null, 2))
  const flags = parseFlags(rest)
  if ((kind !== 'day' && kind !== 'assign' && kind !== 'season') || flags.files.length === 0) {
    process.stderr.write('solve -- day FILE… [--seconds S] [--seed N] | day --schema | day --example\n')
    process.stderr.write('solve -- assign FILE… [--seconds S] [--seed N] [--sense min|max]\n')
    process.stderr.write('solve -- season FILE… [--schedules N | --seconds S] [--seed N]\n')
    return 1
  }
  if (![flags.seconds ?? 0, flags.schedules ?? 0, flags.seed].every(Number.isFinite))
    return refuse('', 'expected numbers after --seconds, --schedules and --seed')
  if (kind === 'season') return season(flags.files, flags)
  if (kind === 'assign') return Math.max(...flags.files.map((file) => assign(file, flags)))
  const settle = await loadSettle()
  return Math.max(...flags.files.map((file) => day(file, flags, settle)))
}

function day(file: string, flags: Flags, settle: Settle): number {
  const parsed = problemSchema.safeParse(JSON.parse(readFileSync(file, 'utf8')))
  if (!parsed.success) return refuse(file, z.prettifyError(parsed.error))
  const problem = parsed.data
  const findings = judgeProblem(problem)
  if (findings.length > 0) return refuse(file, JSON.stringify(findings))
  const started = performance.now()
  const until = flags.seconds === null ? null : started + flags.seconds * 1000
  const isLate = (): boolean => until !== null && performance.now() > until
  const steps = flags.seconds === null ? stepsFor(problem) : Math.ceil(flags.seconds * 400_000)
  const solution = solve(problem, { seed: flags.seed, steps, isCancelled: isLate, settle })
  const ms = Math.round(performance.now() - started)
  const faults = verify(problem, solution)
  const { reasons, leftOut } = explain(problem, solution)
  const { score, parts, unmet, lineUp, bound, isProven } = solution
  const gapPct = bound === null ? null : gapPctOf(score, bound)
  print(
    JSON.stringify({
      ...{ file, score, parts, bound, gapPct, isProven, ms, seed: flags.seed },
      ...{ unmet, lineUp, reasons, leftOut },
    }),
  )
  if (faults.length === 0) return 0
  process.stderr.write(`${file}: ${JSON.stringify(faults)}\n`)
  return 1
}

function assign(file: string, flags: Flags): number {
  const known = knownGap(join(here, '../data/gap/known.csv'), file)
  const sense = flags.sense ?? known?.sense ?? 'min'
  const problem = parseAssign(readFileSync(file, 'utf8'), sense)
  const started = performance.now()
  const seconds = flags.seconds ?? 8
  const answer = solveAssign(problem, {
    seed: flags.seed,
    // Less than that time takes on a quiet machine: the cooling should end before the clock cuts it.
    steps: Math.ceil(seconds * 25_000_000),
    isCancelled: () => performance.now() - started > seconds * 1000,
  })
  const counted = answer.machine === null ? null : appraiseAssign(problem, answer.machine)
  print(
    JSON.stringify({
      file,
      sense,
      objective: answer.objective,
      bound: answer.bound,
      best: known?.best ?? null,
      seconds: round((performance.now() - started) / 1000),
      seed: flags.seed,
      machine: answer.machine,
    }),
  )
  return answer.objective !== null && counted === answer.objective ? 0 : 1
}

function parseFlags(args: readonly string[]): Flags {
  const value = (name: string): string | null => {
    const at = args.indexOf(name)
    return at < 0 ? null : (args[at + 1] ?? null)
  }
  const files = args.filter((word, at) => !word.startsWith('--') && !(args[at - 1] ?? '').startsWith('--'))
  const seconds = value('--seconds')
  const schedules = value('--schedules')
  const sense = value('--sense')
  return {
    files,
    seconds: seconds === null ? null : Number(seconds),
    schedules: schedules === null ? null : Number(schedules),
    seed: Number(value('--seed') ?? DEFAULT_SEED),
    sense: sense === 'min' || sense === 'max' ? sense : null,
  }
}

function refuse(file: string, why: string): number {
  print(JSON.stringify({ file, refused: why }))
  return 1
}

function print(line: string): number {
  process.stdout.write(`${line}\n`)
  return 0
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = await run(process.argv.slice(2))
