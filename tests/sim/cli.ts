/**
 * `npm run -s check:history -- --runs N --seed S [--acts 3,7]`: random histories, one after another from a seed on; prints
 * one line of JSON and exits 1 when anything is wrong. A failed history is made smaller and printed with the command that
 * plays it again. `--mutations [--only NAME]` breaks each guarantee in a copy of the code and asks whether this notices.
 */
import { whats } from './check.ts'
import { runMutations } from './mutate.ts'
import { planOf } from './plan.ts'
import { type Played, play } from './play.ts'
import { shrink, wrongIn } from './shrink.ts'

const TOLD_MAX = 5

/** Runs the command; returns the exit code. */
export async function run(args: readonly string[]): Promise<number> {
  const option = (name: string, otherwise: string) => args[args.indexOf(`--${name}`) + 1 || args.length] ?? otherwise
  if (args.includes('--mutations')) return runMutations(Number(option('runs', '200')), option('only', ''))
  const [runs, first] = [Number(option('runs', '200')), Number(option('seed', '1'))]
  if (!(Number.isInteger(runs) && runs > 0 && Number.isInteger(first))) {
    console.error(
      'check:history -- --runs N --seed S [--acts 3,7] | --mutations [--runs N]: N and S are whole numbers.',
    )
    return 1
  }
  const acts = args.includes('--acts') ? option('acts', '').split(',').map(Number) : undefined
  const { line, failed } = await playMany(first, runs, acts, args.includes('--first'))
  for (const { seed, played } of failed.slice(0, acts ? 1 : TOLD_MAX)) {
    const fewest = acts ?? (await shrink(seed, wrongIn(played)))
    const small = await play(seed, fewest)
    const plan = planOf(seed)
    console.error(`Seed ${seed}: ${fewest.map((at) => `${at} ${plan[at]?.kind}`).join(', ')}`)
    for (const what of whats) for (const said of small[what].slice(0, TOLD_MAX)) console.error(`  ${what}: ${said}`)
    console.error(`  again: npm run -s check:history -- --runs 1 --seed ${seed} --acts ${fewest.join(',')}`)
  }
  console.log(JSON.stringify(line))
  return failed.length > 0 ? 1 : 0
}

/** Plays `runs` histories from a seed on and adds them up; stops at the first that fails when asked to. */
export async function playMany(first: number, runs: number, acts?: readonly number[], isFirstEnough = false) {
  const began = Date.now()
  const faults: Record<string, number> = {}
  const sums = { lost: 0, doubled: 0, diverged: 0, broken: 0, leaked: 0 }
  const kinds = { made: new Set<string>(), kept: new Set<string>() }
  const failed: { seed: number; played: Played }[] = []
  let [edits, done] = [0, 0]
  for (let seed = first; seed < first + runs; seed++) {
    const played = await play(seed, acts)
    done++
    edits += played.edits
    for (const [fault, count] of Object.entries(played.faults)) faults[fault] = (faults[fault] ?? 0) + count
    for (const kind of played.kinds.made) kinds.made.add(kind)
    for (const kind of played.kinds.kept) kinds.kept.add(kind)
    for (const what of whats) sums[what] += played[what].length
    if (wrongIn(played).length > 0) failed.push({ seed, played })
    if (isFirstEnough && failed.length > 0) break
  }
  return {
    line: { runs: done, seconds: Math.round((Date.now() - began) / 1000), edits, faults, ...sums },
    failed,
    kinds,
  }
}
