/**
 * `npm run -s check:hostile -- --messages N --seed S [--rate R] [--people P]`: the built server with people editing, beside
 * many hostile clients in a process of their own (attacker.ts). Quiet and hostile stretches take turns, so that the others'
 * times are compared within the same minutes of the same machine. One line of JSON last; exit 1 when the server fell or
 * faulted, anything was stored or lost, or a bad client was given no reason, never for a slow machine.
 */
import { type ChildProcess, fork } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { seededRandom } from '#lib/base'
import { type Caller, managersBoard, peopleOf, signedIn } from '../kit/live-client.ts'
import { cpuS, memoryMB } from '../kit/process.ts'
import { type RunningServer, startServer } from '../kit/server.ts'
import type { AttackOrder, AttackReport } from './attacker.ts'
import { editAll, typeText } from './honest.ts'

const QUIET_MS = 10_000
const HOSTILE_MS = 30_000
/** A long run has stretches enough to compare, and rests less. */
const LONG_RUN = 200_000
/** MB of heap that the server has here: what an attack leaves behind fills it and ends the server, which is counted. */
const HEAP_MB = 256
/** The server's memory is not judged before so much of the run is over. */
const WARM = 0.1
const NOTE = 'What honest people typed together.'

const wait = (ms: number) => new Promise<void>((next) => setTimeout(next, ms))

export interface HostileOptions {
  readonly messages: number
  readonly seed: number
  readonly rate: number
  /** Honest people who edit. */
  readonly people: number
  readonly quietMs: number
  readonly hostileMs: number
}

/** Runs the command; returns the exit code. */
export async function run(args: readonly string[]): Promise<number> {
  const number = (name: string, otherwise: number) =>
    Number(args[args.indexOf(`--${name}`) + 1 || args.length] ?? otherwise)
  const messages = number('messages', 20_000)
  const options = {
    ...{ messages, seed: number('seed', 1), rate: number('rate', 600), people: number('people', 20) },
    ...{ quietMs: QUIET_MS, hostileMs: messages >= LONG_RUN ? 3 * HOSTILE_MS : HOSTILE_MS },
  }
  if (!(Number.isInteger(messages) && messages > 0 && Number.isInteger(options.seed))) {
    console.error('check:hostile -- --messages N --seed S [--rate R] [--people P]: whole numbers.')
    return 1
  }
  const { line, problems } = await attackServer(options, (told) => console.error(told))
  for (const problem of problems.slice(0, 40)) console.error(`  ${problem}`)
  console.log(JSON.stringify(line))
  return problems.length > 0 ? 1 : 0
}

/** Starts the server, the honest and the hostile, and counts what happened. */
export async function attackServer(options: HostileOptions, tell: (line: string) => void) {
  const { messages, seed, rate, people } = options
  const began = Date.now()
  const server = await startServer({
    env: { TALUS_PROXY: 'loopback', TALUS_HOST: '127.0.0.1', NODE_OPTIONS: `--max-old-space-size=${HEAP_MB}` },
  })
  const { url } = server
  let fell: string | null = null
  let isStopping = false
  void server.ended.then(({ code, signal }) => {
    if (!isStopping) fell = `the server ended with ${code ?? signal}`
  })
  const cast = await castOf(url)
  const { staff, typist, crew, all } = cast
  const callers = await Promise.all(staff.map((personId) => signedIn(url, personId)))
  const manager = callers[0] as Caller
  const random = seededRandom(seed)
  const honest = await editAll(url, callers, people, random)
  const [text] = cast.specimens
  const typed = await typeText(url, callers[1] as Caller, text ?? '', NOTE)
  const logBefore = await logLength(manager)
  const order: AttackOrder = {
    url,
    seed,
    messages,
    rate,
    crew,
    typist,
    people: all,
    pieces: cast.jackets,
    text: text ?? '',
    authors: typed.authors,
  }
  const attacker = startAttacker()
  attacker.send({ do: 'begin', order })

  const busy: Record<'quiet' | 'hostile', number[]> = { quiet: [], hostile: [] }
  const memory: { readonly sent: number; readonly mb: number }[] = []
  const stretches: Record<'quiet' | 'hostile', number[]> = { quiet: [], hostile: [] }
  const stretch = async (kind: 'quiet' | 'hostile', ms: number, isOver: () => boolean) => {
    attacker.send({ do: kind === 'quiet' ? 'rest' : 'go', honestIds: honest.recentIds() })
    // What is under way from the stretch before belongs to neither.
    await wait(Math.min(1000, ms / 5))
    honest.takeSeen()
    const [cpu, start] = [used(server, cpuS), Date.now()]
    const until = start + ms
    while (Date.now() < until && !isOver() && fell === null) {
      await wait(200)
      memory.push({ sent: report.sent, mb: used(server, memoryMB) })
      report = await attacker.ask()
    }
    busy[kind].push(((used(server, cpuS) - cpu) / (Date.now() - start)) * 100_000)
    const seen = honest.takeSeen()
    if (seen.length >= 20) stretches[kind].push(at(seen, 0.95))
    tell(
      `${kind}: p95 ${seen.length > 0 ? at(seen, 0.95).toFixed(1) : '–'} ms of ${seen.length}, ${report.sent} sent, ${used(server, memoryMB)} MB`,
    )
  }
  const photosBefore = photosIn(server.data)
  let report = await attacker.ask()
  const isDone = () => report.isDone || report.sent >= messages
  await stretch('quiet', options.quietMs, () => false)
  while (!isDone() && fell === null) {
    await stretch('hostile', options.hostileMs, isDone)
    await stretch('quiet', options.quietMs, () => false)
  }
  attacker.send({ do: 'go' })
  for (let n = 0; n < 300 && !report.isDone && fell === null; n++) {
    await wait(100)
    report = await attacker.ask()
  }
  attacker.stop()
  const wrong = fell === null ? await honest.end() : []
  const strangers = fell === null ? await strangersSince(manager, logBefore, honest.kept) : []
  const after = fell === null ? (await typed.read()).text : NOTE
  const stored = [...strangers, ...(after === NOTE ? [] : [`the text says ${after.slice(0, 80)}`])]
  const faults = [...report.faults, ...faultsSaid(server)]
  const kept = photosIn(server.data) - photosBefore
  if (kept > 0) stored.push('a photograph was kept')
  isStopping = true
  const { code } = fell === null ? await server.stop() : { code: null }
  if (code !== 0) fell ??= `the server ended with ${code}`
  const quiet = median(stretches.quiet)
  const hostile = median(stretches.hostile)
  const line = {
    messages: report.sent,
    seconds: Math.round((Date.now() - began) / 1000),
    seed,
    kinds: report.kinds,
    reasons: report.reasons,
    crashes: (fell === null ? 0 : 1) + faults.length,
    stored: stored.length,
    honestEdits: honest.kept.size,
    lost: wrong.length,
    cutOff: report.cutOff,
    slowed: report.slowed,
    rssGrowthMb: growth(memory, report.sent),
    othersP95Ms: round(hostile),
    quietP95Ms: round(quiet),
    othersP95RatioToQuiet: round(hostile / quiet),
    serverCpuPct: round(median(busy.hostile)),
    quietCpuPct: round(median(busy.quiet)),
    reasonsMissing: report.missing.length,
  }
  return { line, problems: [...(fell === null ? [] : [fell]), ...faults, ...stored, ...wrong, ...report.missing] }
}

/** Who edits, who attacks: nobody who attacks may change what the honest change. */
async function castOf(url: string) {
  const people = await peopleOf(url)
  const of = (role: string) => people.filter((one) => one.role === role).map(({ id }) => id)
  const [typist = '', ...preparators] = of('preparator')
  const board = await managersBoard(url)
  const [jackets, specimens] = [[...board.records().jacket.keys()], [...board.records().specimen.keys()]]
  board.close()
  return {
    ...{ staff: [...of('manager'), ...preparators], typist, crew: [...of('volunteer'), ...of('researcher'), 'wall'] },
    ...{ all: people.map(({ id }) => id), jackets, specimens },
  }
}

type LogLine = { readonly seq: number; readonly kind: string; readonly opId: string; readonly personId: string | null }

async function* logAfter(manager: Caller, after: number): AsyncGenerator<LogLine> {
  for (let seq = after; ; ) {
    const { status, body } = await manager.get(`/api/log?of=changes&after=${seq}`)
    if (status === 429) {
      await wait(1000)
      continue
    }
    const { items } = body as { items: LogLine[] }
    for (const item of items) {
      seq = item.seq
      yield item
    }
    if (items.length === 0) return
  }
}

async function logLength(manager: Caller): Promise<number> {
  let last = 0
  for await (const { seq } of logAfter(manager, 0)) last = seq
  return last
}

/** What stands in the log that neither the honest nor the server itself did. */
async function strangersSince(manager: Caller, after: number, kept: ReadonlyMap<string, string>): Promise<string[]> {
  const found: string[] = []
  for await (const { seq, kind, opId, personId } of logAfter(manager, after))
    if (personId !== null && !kept.has(opId)) found.push(`stored at ${seq}: ${kind} by ${personId}`)
  return found
}

function startAttacker() {
  const child: ChildProcess = fork(fileURLToPath(new URL('attacker.ts', import.meta.url)), {
    execArgv: ['--import', 'tsx'],
  })
  return {
    send: (message: unknown) => void child.send(message as object),
    ask: () =>
      new Promise<AttackReport>((done, fail) => {
        child.once('message', (report) => done(report as AttackReport))
        child.once('exit', () => fail(new Error('The attackers ended.')))
        child.send({ do: 'report' })
      }).finally(() => child.removeAllListeners('exit')),
    stop: () => void child.kill(),
  }
}

/** What a server has used; nothing of one that fell, which is told as a problem of its own. */
function used({ pid }: RunningServer, what: (pid: number) => number): number {
  try {
    return what(pid)
  } catch {
    return 0
  }
}

/** Memory at the end less memory once warm, each the middle of a tenth of the samples. */
function growth(memory: readonly { readonly sent: number; readonly mb: number }[], sent: number): number {
  const warm = memory.filter((one) => one.sent >= sent * WARM).map(({ mb }) => mb)
  const part = Math.max(1, Math.floor(warm.length / 10))
  return Math.round(median(warm.slice(-part)) - median(warm.slice(0, part)))
}

const faultsSaid = (server: RunningServer) =>
  server
    .said()
    .split('\n')
    .filter((line) => line.startsWith('error:'))

/** Whole files and their small copies alike. */
const photosIn = (data: string) =>
  existsSync(join(data, 'photos')) ? readdirSync(join(data, 'photos'), { recursive: true }).length : 0

function at(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
}
const median = (values: readonly number[]) => at(values, 0.5)
const round = (value: number) => Number(value.toFixed(2))
