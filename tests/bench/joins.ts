/**
 * `npm run -s bench -- joins [--sizes 30,60,100,200] [--seeds N] [--seed S] [--no-noise] [--marks M]`
 *
 * Generated breakages whose answer is known (`joins/breakage.ts`): pairs handled until the advice says done, against the
 * systematic grid of all n(n−1)/2 pairs and against pairs in a chance order that skips what an assembly has settled. A
 * join is missed when its two fragments are not in one assembly at the end. The hand is taken to be right: two that
 * share an unworn break fit, all others do not. Checking every piece against every other is common practice; the grid
 * stands for it. `--marks` says what the lab marks as assemblies grow: `nothing`, fragments `closed in` all round, or `each
 * edge` seen to be taken (the usual). The second table changes one thing at a time at 100 fragments.
 */
import { seededRandom } from '#lib/base'
import { Assemblies, advise, studyRound, studyTray } from '#lib/joins'
import type { TrySeen } from '#lib/rules'
import type { FragmentPair } from '#lib/words'
import { type Breakage, breakUp, type Circumstances, shuffled, usualCircumstances } from './joins/breakage.ts'

interface Run {
  readonly handled: number
  readonly missed: number
  readonly joins: number
  /** Tries after the last one that found something. */
  readonly after: number
  readonly untried: number
  readonly chanceLeft: number
  readonly cpuMs: number
}

/** What the lab marks of an assembly as it grows: nothing, fragments closed in all round, or each edge that is taken. */
type Marks = 'nothing' | 'closed in' | 'each edge'
/** Share of an edge that its neighbours in the assembly must cover for it to be seen as taken. */
const TAKEN_SHARE = 0.8

/** The fragments with the edges marked that are seen to be taken in the assemblies found so far. */
function marked({ fragments, faces }: Breakage, found: Assemblies, marks: Marks): Breakage['fragments'] {
  if (marks === 'nothing') return fragments
  return fragments.map((fragment, index) => {
    const own = found.find(fragment.number)
    const isTaken = (faces[index] ?? []).map((facing) => {
      const inside = facing.filter(({ number }) => found.find(number) === own)
      return inside.reduce((sum, { share }) => sum + share, 0) >= TAKEN_SHARE
    })
    if (marks === 'closed in' && !isTaken.every((one) => one)) return fragment
    return { ...fragment, edges: fragment.edges.map((edge, side) => ({ ...edge, isTaken: isTaken[side] === true })) }
  })
}

/** Follows the advice until it says done. */
function follow(broken: Breakage, marks: Marks): Run {
  const { fragments, joins } = broken
  const found = new Assemblies(fragments.length + 1)
  const truth = new Set(joins.map((pair) => pair.join('-')))
  const tries: TrySeen[] = []
  const began = process.cpuUsage()
  let study = studyTray(fragments, tries)
  let round = 0
  let advice = advise(study, tries)
  let lastFit = 0
  while (!advice.isDone && advice.next) {
    const { pair } = advice.next
    const isFit = truth.has(pair.join('-'))
    tries.push({ id: `t${tries.length}`, at: '', pair, result: isFit ? 'fit' : 'no fit' })
    if (isFit) {
      lastFit = tries.length
      found.join(pair[0], pair[1])
      const now = studyRound(tries)
      if (now !== round) study = studyTray(fragments, tries)
      round = now
      study = { ...study, fragments: marked(broken, found, marks) }
    }
    advice = advise(study, tries, advice.carry)
  }
  const spent = process.cpuUsage(began)
  return {
    handled: tries.length,
    missed: joins.filter(([a, b]) => found.find(a) !== found.find(b)).length,
    joins: joins.length,
    after: tries.length - lastFit,
    untried: advice.pairs.untried,
    chanceLeft: advice.chanceLeft,
    cpuMs: (spent.user + spent.system) / 1000,
  }
}

/** Pairs in a chance order until the last join is found, which nobody would know: the least such an order could cost. */
function inChanceOrder({ fragments, joins }: Breakage, seed: number): number {
  const truth = new Set(joins.map((pair) => pair.join('-')))
  const pairs: FragmentPair[] = []
  for (let b = 2; b <= fragments.length; b++) for (let a = 1; a < b; a++) pairs.push([a, b])
  const whole = new Assemblies(fragments.length + 1)
  for (const [a, b] of joins) whole.join(a, b)
  let toFind = fragments.length - new Set(fragments.map(({ number }) => whole.find(number))).size
  const found = new Assemblies(fragments.length + 1)
  let handled = 0
  for (const [a, b] of shuffled(pairs, seededRandom(seed))) {
    if (toFind === 0) break
    if (found.find(a) === found.find(b)) continue
    handled++
    if (!truth.has(`${a}-${b}`)) continue
    found.join(a, b)
    toFind--
  }
  return handled
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
const round = (value: number, places = 0) => Number(value.toFixed(places))

/** One size under given circumstances, over the seeds. */
function measure(count: number, seeds: readonly number[], how: Circumstances, marks: Marks) {
  const runs = seeds.map((seed) => {
    const broken = breakUp(count, seed, how)
    return { ...follow(broken, marks), chanceOrder: inChanceOrder(broken, seed) }
  })
  const grid = (count * (count - 1)) / 2
  const over = (key: keyof (typeof runs)[number]) => runs.map((one) => one[key])
  return {
    fragments: count,
    grid,
    handled: round(mean(over('handled'))),
    missed: over('missed').reduce((sum, value) => sum + value, 0),
    handledMost: Math.max(...over('handled')),
    handledPct: round((100 * mean(over('handled'))) / grid, 1),
    joins: round(mean(over('joins'))),
    runsThatMissed: runs.filter((one) => one.missed > 0).length,
    runs: runs.length,
    afterLastFit: round(mean(over('after'))),
    untried: round(mean(over('untried'))),
    chanceLeft: round(mean(over('chanceLeft')), 3),
    chanceOrder: round(mean(over('chanceOrder'))),
    cpuMsATry: round(mean(runs.map((one) => one.cpuMs / Math.max(1, one.handled))), 2),
  }
}

/** What is changed one at a time, at `NOISE_COUNT` fragments. */
const noises: Readonly<Record<string, Partial<Circumstances>>> = {
  usual: {},
  'calipers twice as rough': { thicknessMm: 0.4, thicknessPct: 6 },
  'calipers twice as fine': { thicknessMm: 0.1, thicknessPct: 1.5 },
  'lengths twice as rough': { lengthPct: 14 },
  'a quarter misnamed': { misnamedPct: 25, chartSteps: 1 },
  'a third of edges worn': { wornPct: 33 },
  'a fifth lost': { lostPct: 20 },
  'thickness at the middle only': { isThicknessAtEdges: false },
  'no profiles': { hasProfiles: false },
  'no lengths': { hasLengths: false },
  'none of the three': { isThicknessAtEdges: false, hasProfiles: false, hasLengths: false },
}
const NOISE_COUNT = 100

/** Runs the bench. */
export function run(args: readonly string[]): number {
  const value = (name: string, otherwise: string): string => {
    const at = args.indexOf(name)
    return at < 0 ? otherwise : (args[at + 1] ?? otherwise)
  }
  const sizes = value('--sizes', '30,60,100,200').split(',').map(Number)
  const first = Number(value('--seed', '1'))
  const count = Number(value('--seeds', '6'))
  const seeds = Array.from({ length: count }, (_, index) => first + index)
  process.stderr.write(`seeds ${first} to ${first + count - 1}\n\n`)
  const show = (name: string, one: ReturnType<typeof measure>) =>
    process.stderr.write(
      `${name.padEnd(30)} grid ${String(one.grid).padStart(6)}  handled ${String(one.handled).padStart(5)} (${one.handledPct} %, most ${one.handledMost})  ` +
        `missed ${one.missed} of ${one.joins * one.runs} in ${one.runsThatMissed} of ${one.runs}  after the last fit ${one.afterLastFit}  ` +
        `untried ${one.untried}, chance said ${one.chanceLeft}  chance order ${one.chanceOrder}  ${one.cpuMsATry} ms a try\n`,
    )
  const measured = sizes.map((size) => {
    const one = measure(
      size,
      size > 100 ? seeds.slice(0, 2) : seeds,
      usualCircumstances,
      value('--marks', 'each edge') as Marks,
    )
    show(`${size} fragments`, one)
    return one
  })
  const noise = args.includes('--no-noise')
    ? {}
    : Object.fromEntries(
        Object.entries(noises).map(([name, change]) => {
          const one = measure(NOISE_COUNT, seeds.slice(0, 3), { ...usualCircumstances, ...change }, 'each edge')
          show(name, one)
          return [name, one]
        }),
      )
  const marking = args.includes('--no-noise')
    ? {}
    : Object.fromEntries(
        (['closed in', 'nothing'] as const).map((marks) => {
          const one = measure(NOISE_COUNT, seeds.slice(0, 3), usualCircumstances, marks)
          show(`marked: ${marks}`, one)
          return [marks, one]
        }),
      )
  process.stdout.write(`${JSON.stringify({ sizes: measured, noise, marking, seed: first, seeds: count })}\n`)
  return 0
}
