// How long an edit takes to be seen by the others, and what that costs the server: ours, which judges and fsyncs first,
// beside the stock y-websocket server, which does neither, on the same machine in the same run. Rounds are
// interleaved, clients live in other processes, figures are medians over the rounds.
import { Histogram, median } from './histogram.ts'
import type { LoadOrder, LoadReport } from './load.ts'
import { benchDatabase, option, startLoad, startOurs, startStock, wait } from './rig.ts'

const WARM_MS = 2_000
const LOAD_PROCESSES = 2

interface Round {
  readonly seen: Histogram
  readonly kept: Histogram
  readonly cpuPct: number
  readonly memoryMB: number
  readonly edits: number
}

/** `npm run -s bench -- sync [--clients 50,200] [--rounds 3] [--seconds 6] [--every 500] [--store postgres] [--seed 1]` */
export async function run(args: readonly string[]): Promise<number> {
  const sizes = option(args, 'clients', '50,200').split(',').map(Number)
  const rounds = Number(option(args, 'rounds', '3'))
  const runMs = Number(option(args, 'seconds', '6')) * 1000
  const everyMs = Number(option(args, 'every', '500'))
  const seed = Number(option(args, 'seed', '1'))
  console.error(`seed ${seed}, ${rounds} rounds of ${runMs / 1000} s, ${LOAD_PROCESSES} load processes`)
  const { url, end } = await benchDatabase(args)
  const results = []
  for (const n of sizes) {
    const all: Record<'stock' | 'ours', Round[]> = { stock: [], ours: [] }
    for (let round = 0; round < rounds; round++)
      for (const server of ['stock', 'ours'] as const) {
        const measured = await measure(server, n, { runMs, everyMs }, seed + round, url)
        all[server].push(measured)
        console.error(row(server, n, round, measured))
      }
    results.push(sumUp(n, all.ours, all.stock))
  }
  await end()
  console.log(JSON.stringify({ store: url ? 'postgres' : 'libsql', clients: results }))
  return 0
}

async function measure(
  server: 'stock' | 'ours',
  n: number,
  { runMs, everyMs }: { readonly runMs: number; readonly everyMs: number },
  seed: number,
  url: string,
): Promise<Round> {
  const target = server === 'stock' ? await startStock() : await startOurs({ url })
  const loads = await Promise.all(Array.from({ length: LOAD_PROCESSES }, () => startLoad()))
  try {
    const share = Math.ceil(n / LOAD_PROCESSES)
    const orders = loads.map(
      (_, i): LoadOrder => ({
        server,
        port: target.port,
        clients: Math.min(share, n - i * share),
        from: i * share,
        of: n,
        everyMs,
        window: 1,
        seed,
      }),
    )
    if (server === 'stock') {
      const [first, order] = [loads[0], orders[0]]
      // One client fills the document before the others come.
      await first?.tell('open', order && { ...order, clients: 1, from: 100_000 })
      await first?.tell('fill')
      await wait(300)
    }
    await Promise.all(loads.map((load, i) => load.tell('open', orders[i])))
    await Promise.all(loads.map((load) => load.tell('start')))
    await wait(WARM_MS)
    await Promise.all(loads.map((load) => load.tell('clear')))
    const [cpu, began] = [target.cpuS(), performance.now()]
    await wait(runMs)
    const cpuPct = ((target.cpuS() - cpu) / ((performance.now() - began) / 1000)) * 100
    const memoryMB = target.memoryMB()
    const reports = (await Promise.all(loads.map((load) => load.tell('report')))) as LoadReport[]
    const [seen, kept] = [new Histogram(), new Histogram()]
    for (const report of reports) {
      seen.addPairs(report.seen)
      kept.addPairs(report.kept)
      if (report.lost > 0 || report.refused > 0)
        throw new Error(`${report.lost} edits without an answer, ${report.refused} refused`)
    }
    if (seen.count === 0) throw new Error('No edit was seen')
    return { seen, kept, cpuPct, memoryMB, edits: reports.reduce((sum, { edits }) => sum + edits, 0) }
  } finally {
    await Promise.all(loads.map((load) => load.stop()))
    await target.stop()
  }
}

function sumUp(n: number, ours: readonly Round[], stock: readonly Round[]) {
  const of = (rounds: readonly Round[], figure: (round: Round) => number) => median(rounds.map(figure))
  const seenP95Ms = of(ours, ({ seen }) => seen.at(0.95))
  const stockSeenP95Ms = of(stock, ({ seen }) => seen.at(0.95))
  return {
    n,
    seenP50Ms: of(ours, ({ seen }) => seen.at(0.5)),
    seenP95Ms,
    seenP99Ms: of(ours, ({ seen }) => seen.at(0.99)),
    keptP50Ms: of(ours, ({ kept }) => kept.at(0.5)),
    keptP95Ms: of(ours, ({ kept }) => kept.at(0.95)),
    stockSeenP50Ms: of(stock, ({ seen }) => seen.at(0.5)),
    stockSeenP95Ms,
    ratioP95: Number((seenP95Ms / stockSeenP95Ms).toFixed(2)),
    serverCpuPct: Number(of(ours, ({ cpuPct }) => cpuPct).toFixed(1)),
    stockCpuPct: Number(of(stock, ({ cpuPct }) => cpuPct).toFixed(1)),
    serverMB: of(ours, ({ memoryMB }) => memoryMB),
    stockMB: of(stock, ({ memoryMB }) => memoryMB),
    rounds: ours.length,
  }
}

function row(server: string, n: number, round: number, { seen, kept, cpuPct, memoryMB, edits }: Round): string {
  const times = (histogram: Histogram) =>
    histogram.count > 0 ? [0.5, 0.95, 0.99].map((share) => histogram.at(share).toFixed(1)).join(' / ') : '–'
  return `${server.padEnd(6)}${String(n).padStart(5)} clients, round ${round + 1}: seen ${times(seen)} ms, kept ${times(kept)} ms, CPU ${cpuPct.toFixed(1)} %, ${memoryMB} MB, ${edits} edits`
}
