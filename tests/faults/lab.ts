// A lab on a real disk with people who edit it, for the faults: made once, started and killed as often as wanted, and gone
// over in the end by the log that the program itself writes.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Random, seededRandom } from '#lib/base'
import { boardAs, peopleOf, signedIn } from '../kit/live-client.ts'
import { freshFolder, type RunningServer, runStart, startServer } from '../kit/server.ts'
import { Editor, type Told } from './editors.ts'

export const wait = (ms: number) => new Promise<void>((next) => setTimeout(next, ms))

export interface FaultLab {
  readonly data: string
  readonly told: Told
  readonly editors: readonly Editor[]
  readonly random: Random
  /** The running server. */
  server: RunningServer
}

const env = { TALUS_PROXY: 'loopback', TALUS_HOST: '127.0.0.1' }
export const start = (data: string) => startServer({ data, env })

/** A new lab, in a folder where one is named, running, with people who may edit; none is connected yet. */
export async function openLab(people: number, seed: number, data?: string): Promise<FaultLab> {
  const server = await (data === undefined ? startServer({ env }) : start(data))
  const all = await peopleOf(server.url)
  const staff = all.filter(({ role }) => role === 'manager' || role === 'preparator').map(({ id }) => id)
  const board = await boardAs(server.url, staff[0] ?? '')
  const pieces = [...board.records().jacket.keys()]
  board.close()
  const told: Told = { kept: new Map(), refused: [], states: [] }
  const random = seededRandom(seed)
  const editors: Editor[] = []
  for (let n = 0; n < people; n++) {
    const visitor = await signedIn(server.url, staff[n % staff.length] ?? '')
    editors.push(new Editor(visitor.cookie(), pieces[n % pieces.length] ?? '', random, told))
  }
  return { data: server.data, told, editors, random, server }
}

/** Waits until all that was written has been answered. */
export async function settled({ editors }: FaultLab, ms = 60_000): Promise<boolean> {
  const until = Date.now() + ms
  while (editors.some(({ waiting }) => waiting > 0) && Date.now() < until) await wait(50)
  return editors.every(({ waiting }) => waiting === 0)
}

/** Goes over the log of a folder that no server runs on, and over what was told kept. */
export async function goOver({
  data,
  told,
}: FaultLab): Promise<{ lost: string[]; doubled: string[]; broken: string[] }> {
  const file = join(freshFolder(), 'log.jsonl')
  const { code, stderr } = await runStart(['log', file, '--data', data])
  if (code !== 0) return { lost: [], doubled: [], broken: [stderr.trim()] }
  const seen = new Map<string, number>()
  for (const line of readFileSync(file, 'utf8').trim().split('\n')) {
    const { opId } = JSON.parse(line) as { opId: string }
    seen.set(opId, (seen.get(opId) ?? 0) + 1)
  }
  return {
    lost: [...told.kept.keys()].filter((id) => !seen.has(id)),
    doubled: [...seen].filter(([, times]) => times > 1).map(([id]) => id),
    broken: [],
  }
}

/** Statuses of health and readiness; 0 where nobody answers. */
export async function tells({ url }: RunningServer): Promise<{ health: number; ready: number }> {
  const of = (path: string) =>
    fetch(url + path).then(
      ({ status }) => status,
      () => 0,
    )
  return { health: await of('/health'), ready: await of('/ready') }
}
