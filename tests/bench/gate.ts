// How many edits a second one process validates, keeps durably and acknowledges, with clients that always have some under
// way; beside what the bare store can append, and what the stock server relays without judging or keeping anything.
import { put } from '#lib/words'
import type { Store } from '../../server/store/contract.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { openPostgres } from '../../server/store/postgres.ts'
import { aJacket } from '../kit/makers.ts'
import { dataFolder, storeWorker } from '../kit/store-worker.ts'
import { median } from './histogram.ts'
import type { LoadOrder } from './load.ts'
import { benchDatabase, option, startLoad, startOurs, startStock, wait } from './rig.ts'

const CLIENTS = 16
const WINDOW = 64
const WARM_MS = 1_500
const STORE_BATCH = 64

/** `npm run -s bench -- gate [--seconds 5] [--rounds 3] [--store postgres] [--seed 1]` */
export async function run(args: readonly string[]): Promise<number> {
  const runMs = Number(option(args, 'seconds', '5')) * 1000
  const rounds = Number(option(args, 'rounds', '3'))
  const seed = Number(option(args, 'seed', '1'))
  const { url, end } = await benchDatabase(args)
  const figures = { editsPerS: [] as number[], storeLimitPerS: [] as number[], stockPerS: [] as number[] }
  for (let round = 0; round < rounds; round++) {
    figures.editsPerS.push(await measure('ours', runMs, seed + round, url))
    figures.stockPerS.push(await measure('stock', runMs, seed + round, ''))
    figures.storeLimitPerS.push(await storeLimit(runMs, url, `limit${round}`))
    console.error(
      `round ${round + 1}: ${Object.entries(figures)
        .map(([name, values]) => `${name} ${values.at(-1)}`)
        .join(', ')}`,
    )
  }
  const [editsPerS, storeLimitPerS, stockPerS] = [figures.editsPerS, figures.storeLimitPerS, figures.stockPerS].map(
    median,
  )
  await end()
  console.log(
    JSON.stringify({
      store: url ? 'postgres' : 'libsql',
      editsPerS,
      storeLimitPerS,
      stockPerS,
      clients: CLIENTS,
      window: WINDOW,
      rounds,
    }),
  )
  return 0
}

/** Ours: edits acknowledged a second. Stock: edits that arrived at one other client a second. */
async function measure(server: 'stock' | 'ours', runMs: number, seed: number, url: string): Promise<number> {
  const target = server === 'stock' ? await startStock() : await startOurs({ isFlood: true, url })
  const load = await startLoad()
  try {
    const order: LoadOrder = {
      server,
      port: target.port,
      clients: server === 'stock' ? 1 : CLIENTS,
      from: 0,
      of: server === 'stock' ? 1 : CLIENTS,
      everyMs: 0,
      window: WINDOW,
      seed,
    }
    await load.tell('open', order)
    if (server === 'stock') {
      await load.tell('fill')
      const reader = await startLoad()
      try {
        await reader.tell('open', { ...order, from: 1 })
        await load.tell('start')
        return await rate(() => count(reader, 'arrived'), runMs)
      } finally {
        await load.tell('report')
        await reader.stop()
      }
    }
    await load.tell('start')
    const perS = await rate(() => count(load, 'acknowledged'), runMs)
    await load.tell('report')
    return perS
  } finally {
    await load.stop()
    await target.stop()
  }
}

async function count(load: Awaited<ReturnType<typeof startLoad>>, what: string): Promise<number> {
  return ((await load.tell('counts')) as Record<string, number>)[what] ?? 0
}

async function rate(read: () => Promise<number>, runMs: number): Promise<number> {
  await wait(WARM_MS)
  const [first, began] = [await read(), performance.now()]
  await wait(runMs)
  const [last, ended] = [await read(), performance.now()]
  return Math.round((last - first) / ((ended - began) / 1000))
}

/** Entries of the same size appended in batches to the bare store, nothing else going on. */
async function storeLimit(runMs: number, url: string, lab: string): Promise<number> {
  const store: Store = url
    ? await openPostgres({ url })
    : await openLibsql({ folder: dataFolder(), worker: await storeWorker() })
  const began = performance.now()
  let seq = 0
  while (performance.now() - began < runMs) {
    const batch = Array.from({ length: STORE_BATCH }, (_, i) => {
      const id = `j${(seq + i) % 979}`
      return {
        opId: `op-${seq + i}`,
        kind: 'editJacket',
        op: { id: `op-${seq + i}`, kind: 'editJacket', pieceId: id, patch: { note: 'lies on its left side' } },
        personId: 'p1',
        at: '2026-03-12T08:00:00.000Z',
        changes: [put('jacket', aJacket({ id, note: 'lies on its left side' }))],
        subjects: [id],
      }
    })
    const appended = await store.append(lab, seq, batch)
    if (!appended.ok) throw new Error('Not appended')
    seq = appended.seq
  }
  const perS = Math.round(seq / ((performance.now() - began) / 1000))
  await store.close()
  return perS
}
