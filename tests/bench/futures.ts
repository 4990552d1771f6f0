/**
 * `npm run -s bench -- futures [--futures N] [--specimens N] [--weeks N] [--threads N] [--seed S] [--busy]`
 *
 * Futures of a season of the scaled demo, people one by one, every piece to its end, nothing stopped early, on so many
 * worker threads, each warm by some futures. The larger demo's crew has had little to do, so its tallies teach that two
 * thirds of half-days are not given; with --busy they are set aside and nine in ten come. A sample of the futures is run again on this thread alone and must come
 * to the same tally. The table goes to standard error, one line of JSON to standard output.
 */
import { performance } from 'node:perf_hooks'
import { Worker } from 'node:worker_threads'
import { createRunner, emptyTally, orderOf, planSeason, runFutures, type Tally } from '#lib/season'
import { noRecords, withChanges } from '#lib/words'
import { demoRecords } from '../../demo/index.ts'
import { bundle } from '../kit/store-worker.ts'
import type { Share } from './futures-thread.ts'

const TODAY = '2026-03-12'
/** Specimens of the demo lab at scale 1 that are still on its board. */
const SPECIMENS_OF_DEMO = 39
const WARM = 300
const SAMPLE = 100

/** Runs the bench; 1 when two threads do not agree with one. */
export async function run(args: readonly string[]): Promise<number> {
  const value = (name: string, otherwise: number): number => {
    const at = args.indexOf(name)
    return at < 0 ? otherwise : Number(args[at + 1] ?? otherwise)
  }
  const futures = value('--futures', 10_000)
  const weeks = value('--weeks', 104)
  const seed = value('--seed', 1)
  const threads = value('--threads', 2)
  const scale = value('--specimens', 300) / SPECIMENS_OF_DEMO
  const demo = withChanges(noRecords(), demoRecords({ seed, today: TODAY, scale }))
  const records = args.includes('--busy') ? { ...demo, tally: new Map() } : demo
  const options = { from: TODAY, weeks, seq: 0, seed }
  const builtAt = performance.now()
  const { season, order } = planSeason(records, options)
  const { model } = season
  const buildMs = performance.now() - builtAt
  process.stderr.write(
    `${records.specimen.size} specimens, ${model.pieceIds.length} pieces, ${model.stepIds.length} steps, ${model.personIds.length} people, ${model.placeIds.length} places, ${model.slotCount} half-days; planned in ${Math.round(buildMs)} ms; seed ${seed}\n`,
  )
  const script = await bundle('tests/bench/futures-thread.ts', 'futures-thread')
  const workers = Array.from({ length: threads }, () => new Worker(script))
  const runAll = (total: number): Promise<readonly Tally[]> =>
    Promise.all(
      workers.map((worker, index) => {
        const share: Share = {
          model,
          pieces: order.pieces,
          seed,
          from: Math.floor((total * index) / threads),
          to: Math.floor((total * (index + 1)) / threads),
        }
        return new Promise<Tally>((resolve, reject) => {
          worker.once('message', resolve)
          worker.once('error', reject)
          worker.postMessage(share)
        })
      }),
    )
  await runAll(WARM * threads)
  const warmMB = memoryMB()
  const cpu = process.cpuUsage()
  const began = performance.now()
  const tallies = await runAll(futures)
  const seconds = (performance.now() - began) / 1000
  const cpuSeconds = process.cpuUsage(cpu).user / 1e6
  const endMB = memoryMB()
  const sampled = await runAll(SAMPLE)
  await Promise.all(workers.map((worker) => worker.terminate()))
  const alone = emptyTally(model)
  const own = orderOf(model, order.pieces)
  const runner = createRunner(model, own)
  runFutures({ model, order: own, runner }, alone, { seed, from: 0, to: SAMPLE })
  const isAgreed = alone.finish.every(
    (count, i) => count === sampled.reduce((sum, { finish }) => sum + (finish[i] ?? 0), 0),
  )
  const done = tallies.reduce((sum, tally) => sum + tally.futures, 0)
  process.stderr.write(
    `${done} futures in ${seconds.toFixed(2)} s, ${cpuSeconds.toFixed(2)} s of processor, ${((1000 * cpuSeconds) / done).toFixed(2)} ms each; memory ${warmMB} MB warm, ${endMB} MB at the end; threads agree: ${isAgreed}\n`,
  )
  const row = { specimens: records.specimen.size, weeks, futures: done, seconds: round(seconds), memoryMB: endMB }
  process.stdout.write(
    `${JSON.stringify({ ...row, grownMB: endMB - warmMB, cpuSeconds: round(cpuSeconds), threads, isAgreed })}\n`,
  )
  return isAgreed && done === futures ? 0 : 1
}

const memoryMB = (): number => Math.round(process.memoryUsage().rss / 2 ** 20)
const round = (value: number): number => Math.round(value * 100) / 100
