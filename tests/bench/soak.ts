// Hours in minutes: people edit, come and go, some of them as a line breaks, and after a warm-up the server must not grow:
// memory flat, no handle left behind, every edit answered. Run it long (`--minutes 60`) to trust it; the first tenth is
// warm-up, in which a process takes what it then keeps.
import { Histogram } from './histogram.ts'
import type { LoadReport } from './load.ts'
import { benchDatabase, openClients, option, startOurs, wait } from './rig.ts'

const SAMPLE_MS = 5_000
const WARM_SHARE = 0.1
const EDIT_EVERY_MS = 500

interface Sample {
  readonly atMin: number
  readonly memoryMB: number
  readonly handles: number
}

/** `npm run -s bench -- soak [--minutes 5] [--clients 50] [--churn 5] [--store postgres] [--seed 1]`; churn in clients each five seconds. */
export async function run(args: readonly string[]): Promise<number> {
  const minutes = Number(option(args, 'minutes', '5'))
  const n = Number(option(args, 'clients', '50'))
  const churn = Number(option(args, 'churn', '5'))
  const seed = Number(option(args, 'seed', '1'))
  const { url, end } = await benchDatabase(args)
  const target = await startOurs({ url })
  const loads = await openClients(target.port, n, EDIT_EVERY_MS, seed)
  const samples: Sample[] = []
  let replaced = 0
  try {
    await Promise.all(loads.map((load) => load.tell('start')))
    const began = performance.now()
    const pastMin = () => (performance.now() - began) / 60_000
    while (pastMin() < minutes) {
      await wait(SAMPLE_MS)
      const shares = loads.map((_, i) => Math.floor((churn + i) / loads.length))
      await Promise.all(loads.map((load, i) => load.tell('churn', shares[i])))
      replaced += churn
      const sample = { atMin: Number(pastMin().toFixed(2)), memoryMB: target.memoryMB(), handles: target.handles() }
      samples.push(sample)
      if (samples.length % 12 === 0)
        console.error(`${sample.atMin.toFixed(1)} min: ${sample.memoryMB} MB, ${sample.handles} handles`)
    }
    const reports = (await Promise.all(loads.map((load) => load.tell('report')))) as LoadReport[]
    const kept = new Histogram()
    for (const report of reports) kept.addPairs(report.kept)
    const sum = (figure: (report: LoadReport) => number) => reports.reduce((all, report) => all + figure(report), 0)
    const [lost, refused] = [sum((report) => report.lost), sum((report) => report.refused)]
    const steady = samples.filter(({ atMin }) => atMin > minutes * WARM_SHARE)
    console.log(
      JSON.stringify({
        ...{
          minutes,
          clients: n,
          replaced,
          edits: sum((report) => report.edits),
          keptP95Ms: kept.at(0.95),
          lost,
          refused,
        },
        memoryMB: endsOf(steady.map(({ memoryMB }) => memoryMB)),
        growthMBPerHour: Number((slopeOf(steady.map(({ atMin, memoryMB }) => [atMin, memoryMB])) * 60).toFixed(1)),
        handles: endsOf(steady.map(({ handles }) => handles)),
        seed,
      }),
    )
    return lost > 0 || refused > 0 ? 1 : 0
  } finally {
    await Promise.all(loads.map((load) => load.stop()))
    await target.stop()
    await end()
  }
}

const endsOf = (values: readonly number[]) => ({
  first: values[0] ?? 0,
  last: values.at(-1) ?? 0,
  most: Math.max(0, ...values),
})

/** Least squares through points (x, y). */
function slopeOf(points: readonly (readonly [number, number])[]): number {
  const mean = (index: 0 | 1) => points.reduce((sum, point) => sum + point[index], 0) / Math.max(1, points.length)
  const [x, y] = [mean(0), mean(1)]
  const over = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0)
  const under = points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0)
  return under === 0 ? 0 : over / under
}
