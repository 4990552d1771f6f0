// Many labs in one built server: what founding, opening and resting cost, and how the busy ones fare while others wake and
// go to rest beside them. Some labs are copies of the demo lab, the rest are empty, as a new one is.
import { cpSync } from 'node:fs'
import { join } from 'node:path'
import { seededRandom } from '#lib/base'
import { observe } from '#lib/doc'
import { build, bundled } from '../../server/prepare.mjs'
import { type LiveClient, openBoard } from '../kit/live-client.ts'
import { cpuS, handles, memoryMB } from '../kit/process.ts'
import { freshFolder, type RunningServer, root, startServer, within } from '../kit/server.ts'
import { enterAs, underName } from '../kit/under-name.ts'
import { Histogram } from './histogram.ts'
import { freePort, option, wait } from './rig.ts'

/** Everything at rest: the server looks at a lab when its time is up, then closes it. */
const REST_S = 15
const PEOPLE = 5

/**
 * `npm run -s bench -- labs [--labs 1000] [--busy 20] [--full 100] [--founded 900] [--seconds 60] [--every 2000] [--seed 1]`: so many
 * labs, of which so many have five people at work and so many hold a demo lab; each person edits once in so many ms.
 * Empty labs beyond those that are founded are copies of the first of them.
 */
export async function run(args: readonly string[]): Promise<number> {
  const number = (name: string, otherwise: number) => Number(option(args, name, String(otherwise)))
  const [labs, busy, full] = [number('labs', 1000), number('busy', 20), number('full', 100)]
  const say = (line: string) => console.error(line)
  const folder = join(freshFolder('talus-bench'), 'labs')
  const names = Array.from({ length: labs }, (_, n) => `lab-${n}`)

  const empty = names.slice(full)
  const own = empty.slice(0, number('founded', empty.length))
  const founding = await found(folder, own)
  say(`founded ${own.length}: p50 ${founding.at(0.5)} ms, p95 ${founding.at(0.95)} ms each`)
  const demo = await startServer()
  await within(demo.stop())
  for (const name of names.slice(0, full)) cpSync(demo.data, join(folder, name), { recursive: true })
  for (const name of empty.slice(own.length))
    cpSync(join(folder, own[0] ?? ''), join(folder, name), { recursive: true })

  const port = await freePort()
  const server = await startServer({
    data: null,
    args: ['--labs', folder, '--rest', String(REST_S)],
    env: { TALUS_METRICS: String(port) },
  })
  const memory = () => memoryMB(server.pid)
  const readOpen = async () => {
    const text = await (await fetch(`http://127.0.0.1:${port}/metrics`)).text()
    return Number(/^talus_open (\d+)$/m.exec(text)?.[1])
  }
  const atRest = async () => {
    while ((await readOpen()) > 0) await wait(500)
  }
  // The first page loads what all labs share.
  await underName(server.url, `${names[0]}.localhost`).ask('/')
  await atRest()
  const before = { memoryMB: memory(), handles: handles(server.pid) }
  say(`before: ${JSON.stringify(before)}`)

  const rounds = []
  for (const round of [1, 2]) {
    const opening = { full: new Histogram(), empty: new Histogram() }
    let mostMB = 0
    for (const [n, name] of names.entries()) {
      const began = performance.now()
      const { status } = await underName(server.url, `${name}.localhost`).ask('/api/me')
      if (status !== 200) throw new Error(`${name} was answered ${status}`)
      opening[n < full ? 'full' : 'empty'].add(performance.now() - began)
      mostMB = Math.max(mostMB, memory())
    }
    const openThen = await readOpen()
    await atRest()
    const told = (times: Histogram) => ({ p50: times.at(0.5), p95: times.at(0.95), p99: times.at(0.99) })
    rounds.push({
      ...{ round, openMs: { full: told(opening.full), empty: told(opening.empty) }, openThen, mostMB },
      ...{ restedMB: memory(), handles: handles(server.pid) },
    })
    say(JSON.stringify(rounds.at(-1)))
  }

  const work = await atWork(
    server,
    names,
    { busy, seconds: number('seconds', 60), everyMs: number('every', 2000) },
    number('seed', 1),
  )
  await atRest()
  const ended = await within(server.stop())
  console.log(
    JSON.stringify({
      ...{ labs, full, foundMs: { p50: founding.at(0.5), p95: founding.at(0.95) }, before, rounds, work },
      after: { code: ended.code },
    }),
  )
  return work.lost === 0 && ended.code === 0 ? 0 : 1
}

/** Founds labs one after the other, by the errand itself, in this process. */
async function found(folder: string, names: readonly string[]): Promise<Histogram> {
  const made = await build((line: string) => console.error(line))
  const { runErrand } = (await import(bundled(made, 'errands'))) as typeof import('../../server/errands.ts')
  const times = new Histogram()
  // Links are for whoever enters; here nobody does.
  const { write } = process.stdout
  process.stdout.write = () => true
  try {
    for (const name of names) {
      const began = performance.now()
      await runErrand('found', [name, `The lab ${name}`, '--labs', folder], { root, build: made.slice(-16) })
      times.add(performance.now() - began)
    }
  } finally {
    process.stdout.write = write
  }
  return times
}

interface Work {
  readonly busy: number
  readonly seconds: number
  readonly everyMs: number
}

/** People at work in the busy labs, while others are looked into once a second. */
async function atWork(server: RunningServer, names: readonly string[], { busy, seconds, everyMs }: Work, seed: number) {
  const random = seededRandom(seed)
  const [seen, kept, waking] = [new Histogram(), new Histogram(), new Histogram()]
  const boards: LiveClient[] = []
  let lost = 0
  for (const name of names.slice(0, busy)) {
    const lab = underName(server.url, `${name}.localhost`)
    for (let person = 0; person < PEOPLE; person++) {
      const cookie = await enterAs(lab, 'manager')
      const board = await openBoard(server.url, { cookie: () => cookie }, lab.host)
      boards.push(board)
      observe(board.doc, (changes) => {
        for (const { kind, record } of changes) {
          // The moment stands in the name; whoever wrote it sees it too, as anybody does.
          const at = kind === 'lab' && record ? Number(/ at (\d+\.\d+)$/.exec(record.name)?.[1]) : Number.NaN
          if (at > 0) seen.add(performance.now() - at)
        }
      })
    }
  }
  const began = { cpuS: cpuS(server.pid), at: performance.now() }
  let isRunning = true
  const edit = async (board: LiveClient, n: number) => {
    await wait(everyMs * random.unit())
    while (isRunning) {
      const at = performance.now()
      const name = `Lab ${n} at ${at.toFixed(3)}`
      const refused = await board.act({ kind: 'setLab', patch: { name } }).catch(() => 'lost' as const)
      if (refused === null) kept.add(performance.now() - at)
      else lost++
      await wait(everyMs * (0.8 + 0.4 * random.unit()))
    }
  }
  const lookInto = async () => {
    while (isRunning) {
      const name = names[busy + random.below(names.length - busy)]
      const at = performance.now()
      await underName(server.url, `${name}.localhost`).ask('/api/me')
      waking.add(performance.now() - at)
      await wait(1000)
    }
  }
  const all = [...boards.map(edit), lookInto()]
  await wait(seconds * 1000)
  isRunning = false
  const used = (cpuS(server.pid) - began.cpuS) / ((performance.now() - began.at) / 1000)
  const memory = memoryMB(server.pid)
  await Promise.all(all)
  for (const board of boards) board.close()
  return {
    ...{ busy, people: boards.length, edits: kept.count, lost, memoryMB: memory, cpuPct: Math.round(used * 100) },
    seenMs: { p50: seen.at(0.5), p95: seen.at(0.95), p99: seen.at(0.99), count: seen.count },
    keptMs: { p50: kept.at(0.5), p95: kept.at(0.95) },
    wakingMs: { p50: waking.at(0.5), p95: waking.at(0.95), count: waking.count },
  }
}
