/**
 * `npm run -s check:faults -- --rounds N --seed S [--idle N] [--step BYTES] [--only NAME,…]`: the built server on a real disk under the
 * faults of faults.ts, one after the other; `--step` leaves out cuts of the data between so many bytes. One line of JSON last; exit 1 when anything kept is lost or doubled, an edit is
 * left without an answer, a log is broken, or health and readiness do not tell the truth; never for a slow machine.
 */
import { cuts, fullDisk, halfOpen, idle, kills, readOnlyDisk, type Seen, slowReader, truncated } from './faults.ts'

const PEOPLE = 50

export async function run(args: readonly string[]): Promise<number> {
  const option = (name: string, otherwise: string) => args[args.indexOf(`--${name}`) + 1 || args.length] ?? otherwise
  const [rounds, seed, crowd, step] = ['rounds:10', 'seed:1', 'idle:10000', 'step:1'].map((text) => {
    const [name = '', otherwise = ''] = text.split(':')
    return Number(option(name, otherwise))
  }) as [number, number, number, number]
  if (![rounds, seed, crowd, step].every((number) => Number.isInteger(number) && number >= 0)) {
    console.error('check:faults -- --rounds N --seed S [--idle N] [--step BYTES] [--only NAME,…]: whole numbers.')
    return 1
  }
  const faults: Readonly<Record<string, () => Promise<Seen>>> = {
    kills: () => kills(rounds, PEOPLE, seed),
    cuts: () => cuts(rounds, PEOPLE, seed),
    fullDisk: () => fullDisk(PEOPLE, seed),
    readOnlyDisk: () => readOnlyDisk(seed),
    truncated: () => truncated(PEOPLE, seed, step),
    slowReader: () => slowReader(seed),
    halfOpen: () => halfOpen(seed),
    idle: () => idle(crowd, seed),
  }
  const only = option('only', '')
    .split(',')
    .filter((name) => name !== '')
  const line: Record<string, unknown> = { rounds, seed }
  let problems = 0
  const began = Date.now()
  for (const [name, fault] of Object.entries(faults)) {
    if (only.length > 0 && !only.includes(name)) continue
    const seen = await fault().catch((error): Seen => ({ figures: {}, problems: [String(error?.stack ?? error)] }))
    console.error(`${name}: ${JSON.stringify(seen.figures)}`)
    for (const problem of seen.problems.slice(0, 10)) console.error(`  ${problem}`)
    line[name] = { ...seen.figures, wrong: seen.problems.length }
    problems += seen.problems.length
  }
  console.log(JSON.stringify({ ...line, seconds: Math.round((Date.now() - began) / 1000), wrong: problems }))
  return problems > 0 ? 1 : 0
}
