/**
 * `npm run -s bench -- forecast [--labs N] [--seed S] [--steps 2000]`
 *
 * The learning curve of the hours model, from nothing to 2 000 finished steps, on invented labs whose truth is known;
 * eleven of the twelve kinds break what the model believes. At each count of finished steps the model learns from what
 * the lab knows that day, unfinished steps too, and forecasts the next steps to be begun; each forecast is scored by the
 * hours the step really takes, also where the lab would give it up. Beside it the naive ways: all steps alike, steps of
 * the same technique, the typed estimate as stated, and the typed estimate times what such estimates were out by so far.
 */
import { crpsLogNormal, learn, logHoursOf, pieceSeen } from '#lib/forecast'
import { type LifeStep, labKinds, pastOn } from './forecast/labs.ts'

const Z90 = 1.2815515655446004
const COUNTS = [0, 5, 10, 20, 30, 50, 100, 200, 500, 1000, 2000]
/** Steps forecast at each count. */
const AHEAD = 40

type Way = 'model' | 'labMean' | 'sameClass' | 'typed' | 'typedCorrected'
interface Spread {
  readonly median: number
  readonly logSd: number
}

const args = process.argv.slice(2)
const value = (name: string, otherwise: string): string => {
  const at = args.indexOf(name)
  return at < 0 ? otherwise : (args[at + 1] ?? otherwise)
}
const labs = Number(value('--labs', '4'))
const seed = Number(value('--seed', '1'))
const most = Number(value('--steps', '2000'))
const counts = COUNTS.filter((n) => n <= most)
process.stderr.write(
  `seed ${seed}, ${labs} labs of each of ${labKinds.length} kinds, ${AHEAD} forecasts at each count\n`,
)

/** Sums of one way at one count. */
interface Tally {
  scored: number
  crps: number
  inside: number
  below10: number
  below90: number
}
const tallies = new Map<string, Tally>()
const tallyOf = (key: string): Tally => {
  const found = tallies.get(key) ?? { scored: 0, crps: 0, inside: 0, below10: 0, below90: 0 }
  tallies.set(key, found)
  return found
}

for (const [number, kind] of labKinds.entries()) {
  for (let lab = 0; lab < labs; lab++) {
    const life = kind.make(seed * 100_000 + number * 1000 + lab, Math.ceil(most * 1.5) + 200)
    const ends = life.filter((step) => step.trueH <= step.givenUpH).map((step) => step.to)
    ends.sort((a, b) => a - b)
    for (const n of counts) {
      const day = n === 0 ? 0 : (ends[n - 1] ?? 0) + 1e-6
      const { model } = learn(pastOn(life, day))
      const done = life.filter((step) => step.to <= day && step.trueH <= step.givenUpH)
      for (const step of life.filter(({ from }) => from >= day).slice(0, AHEAD)) {
        const mine = done.filter(({ pieceId }) => pieceId === step.pieceId)
        const piece = pieceSeen(
          model,
          mine.map(({ facts, trueH }) => ({ facts, minutes: trueH * 60 })),
        )
        const log = logHoursOf(model, step.facts, mine.length === 0 ? null : piece)
        const ways: Partial<Record<Way, Spread>> = {
          model: { median: Math.exp(log.mean), logSd: Math.sqrt(log.shared + log.own) },
          ...naive(done, step),
        }
        for (const [way, spread] of Object.entries(ways)) score(kind.name, n, way, spread, step.trueH)
      }
    }
  }
}

function score(kind: string, n: number, way: string, { median, logSd }: Spread, hours: number): void {
  const z = Math.log(hours / median) / logSd
  for (const key of [`${kind} ${n} ${way}`, `all ${n} ${way}`]) {
    const tally = tallyOf(key)
    tally.scored++
    tally.crps += crpsLogNormal({ median, logSd }, hours)
    if (z < -Z90) tally.below10++
    if (z <= Z90) tally.below90++
    if (Math.abs(z) <= Z90) tally.inside++
  }
}

/** The naive ways, from the same finished steps. Each has two steps' worth of not knowing, or none could be scored at first. */
function naive(done: readonly LifeStep[], step: LifeStep): Partial<Record<Way, Spread>> {
  const logs = done.map(({ trueH }) => Math.log(trueH))
  const same = done
    .filter(({ facts }) => facts.techniqueId === step.facts.techniqueId)
    .map(({ trueH }) => Math.log(trueH))
  const { typedH } = step.facts
  const labMean = spreadOfLogs(logs, Math.log(10), 1.2)
  const sameClass = same.length < 2 ? labMean : spreadOfLogs(same, Math.log(labMean.median), labMean.logSd)
  if (typedH === null) return { labMean, sameClass }
  const ratios = done.map(({ trueH, facts }) => Math.log(trueH / (facts.typedH ?? trueH)))
  const ratio = spreadOfLogs(ratios, 0, 0.45)
  const logSd = Math.log(step.typedHighH / step.typedLowH) / (2 * Z90)
  return {
    labMean,
    sameClass,
    typed: { median: typedH, logSd },
    typedCorrected: { median: typedH * ratio.median, logSd: ratio.logSd },
  }
}

function spreadOfLogs(logs: readonly number[], usual: number, usualSd: number): Spread {
  const weight = logs.length + 2
  const mean = (logs.reduce((sum, log) => sum + log, 0) + 2 * usual) / weight
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) + 2 * (usualSd ** 2 + (usual - mean) ** 2)
  return { median: Math.exp(mean), logSd: Math.sqrt(squares / weight) }
}

const round = (amount: number, places = 3): number => Number(amount.toFixed(places))
const ways: readonly Way[] = ['labMean', 'sameClass', 'typed', 'typedCorrected']
const line = (kind: string, n: number) => {
  const own = tallyOf(`${kind} ${n} model`)
  const crps = own.crps / own.scored
  const others = ways.flatMap((way) => {
    const tally = tallies.get(`${kind} ${n} ${way}`)
    return tally
      ? [[way, { crps: round(tally.crps / tally.scored), coverage8010: round(tally.inside / tally.scored) }] as const]
      : []
  })
  return { n, coverage8010: round(own.inside / own.scored), crps: round(crps), baselines: Object.fromEntries(others) }
}
for (const kind of ['all', ...labKinds.map(({ name }) => name)]) {
  process.stderr.write(`\n${kind}${kind === 'all' ? '' : `: ${labKinds.find(({ name }) => name === kind)?.breaks}`}\n`)
  process.stderr.write('finished  inside  CRPS h |  all alike  same technique   typed  typed × ratio\n')
  for (const n of counts) {
    const { coverage8010, crps, baselines } = line(kind, n)
    const cell = (way: Way) => (baselines[way]?.crps.toFixed(2) ?? '–').padStart(10)
    process.stderr.write(
      `${String(n).padStart(8)} ${(coverage8010 * 100).toFixed(1).padStart(6)}% ${crps.toFixed(2).padStart(7)} | ${ways.map(cell).join(' ')}\n`,
    )
  }
}
const speed = learningSpeed()
process.stderr.write(
  `\nlearning from 5 000 finished steps, by the processor: ${speed.coldMs} ms from nothing, ${speed.nextMs} ms at each further end\n`,
)
const atSteps = counts.map((n) => line('all', n))
const kinds = Object.fromEntries(labKinds.map(({ name }) => [name, counts.map((n) => line(name, n))]))
process.stdout.write(`${JSON.stringify({ atSteps, learning5000: speed, seed, labs, kinds })}\n`)

/** Milliseconds of processor for 5 000 finished steps: the first time, and when one more is finished; medians of seven. */
function learningSpeed() {
  const kind = labKinds[0]
  if (!kind) throw new Error('no labs')
  const life = kind.make(seed, 5400)
  const ends = life.map(({ to }) => to).sort((a, b) => a - b)
  const [past, next] = [pastOn(life, ends[4999] ?? 0), pastOn(life, ends[5000] ?? 0)]
  const ms = (work: () => unknown): number => {
    const before = process.cpuUsage()
    work()
    return process.cpuUsage(before).user / 1000
  }
  const { scales } = learn(past)
  const middle = (list: readonly number[]) => round(list.toSorted((a, b) => a - b)[3] ?? 0, 0)
  return {
    coldMs: middle(Array.from({ length: 7 }, () => ms(() => learn(past)))),
    nextMs: middle(Array.from({ length: 7 }, () => ms(() => learn(next, scales)))),
  }
}
