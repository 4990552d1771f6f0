// Starts servers and load for the benches, each in a process of its own, and reads what a process used from the system.
import { type ChildProcess, fork, spawn } from 'node:child_process'
import { rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { startPostgres } from '../kit/postgres.ts'
import { cpuS, handles, memoryMB } from '../kit/process.ts'
import { bundle, dataFolder, root, storeWorker } from '../kit/store-worker.ts'
import type { LoadOrder } from './load.ts'

export interface ServerUnderLoad {
  readonly port: number
  /** Processor seconds used so far, all threads. */
  readonly cpuS: () => number
  readonly memoryMB: () => number
  /** Open files and sockets. */
  readonly handles: () => number
  /** Its data; null where there is none. */
  readonly folder: string | null
  /** As a crash ends it; the data stays. */
  readonly kill: () => Promise<void>
  readonly stop: () => Promise<void>
}

/** Processes that clients are spread over. */
const LOAD_PROCESSES = 2

function underLoad(child: ChildProcess, port: number, folder: string | null): ServerUnderLoad {
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const { pid } = child
  if (pid === undefined) throw new Error('The server has no process.')
  return {
    port,
    cpuS: () => cpuS(pid),
    memoryMB: () => memoryMB(pid),
    handles: () => handles(pid),
    folder,
    kill: async () => {
      child.kill('SIGKILL')
      await ended
    },
    stop: async () => {
      child.kill('SIGTERM')
      await ended
      if (folder) rmSync(folder, { recursive: true, force: true })
    },
  }
}

let serverScript: Promise<URL> | null = null

export interface OursOptions {
  readonly isFlood?: boolean
  /** Address of a PostgreSQL database; empty for the embedded store. */
  readonly url?: string
  /** Data of an earlier run, and the port it had. */
  readonly again?: { readonly folder: string; readonly port: number }
}

/** Our server over a new data folder, or started again on one. */
export async function startOurs({ isFlood = false, url = '', again }: OursOptions = {}): Promise<ServerUnderLoad> {
  serverScript ??= bundle('tests/bench/board-server.ts', 'board-server')
  const [script, worker] = await Promise.all([serverScript, storeWorker()])
  const folder = again?.folder ?? dataFolder()
  const child = spawn(
    process.execPath,
    [
      fileURLToPath(script),
      folder,
      fileURLToPath(worker),
      url,
      String(again?.port ?? 0),
      ...(isFlood ? ['flood'] : []),
    ],
    { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, NODE_ENV: 'production' } },
  )
  const port = await new Promise<number>((resolve, reject) => {
    child.stdout.once('data', (data: Buffer) => resolve(Number(data.toString())))
    child.once('exit', (code) => reject(new Error(`The server ended with ${code}`)))
  })
  return underLoad(child, port, folder)
}

/** The stock y-websocket server, as it comes. */
export async function startStock(): Promise<ServerUnderLoad> {
  // Its program is not among its exports, so it is found by its place.
  const script = join(root, 'node_modules/@y/websocket-server/src/server.js')
  const port = await freePort()
  const child = spawn(process.execPath, [script], {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, HOST: '127.0.0.1', PORT: String(port), NODE_ENV: 'production' },
  })
  await new Promise<void>((resolve, reject) => {
    child.stdout.once('data', () => resolve())
    child.once('exit', (code) => reject(new Error(`The stock server ended with ${code}`)))
  })
  return underLoad(child, port, null)
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(address && typeof address === 'object' ? address.port : 0))
    })
  })
}

export interface Load {
  readonly tell: (what: string, order?: LoadOrder | number) => Promise<unknown>
  readonly stop: () => Promise<void>
}

let loadScript: Promise<URL> | null = null

/** One process of clients. */
export async function startLoad(): Promise<Load> {
  loadScript ??= bundle('tests/bench/load.ts', 'load')
  const child = fork(fileURLToPath(await loadScript), { env: { ...process.env, NODE_ENV: 'production' } })
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const tell = (what: string, order?: LoadOrder | number) =>
    new Promise<unknown>((resolve, reject) => {
      const onExit = () => reject(new Error('A load process ended.'))
      child.once('exit', onExit)
      child.once('message', (message: { result: unknown }) => {
        child.off('exit', onExit)
        resolve(message.result)
      })
      child.send({ do: what, order })
    })
  return {
    tell,
    stop: async () => {
      child.send({ do: 'stop' })
      await ended
    },
  }
}

/** Clients of ours in several processes, each with the whole board. */
export async function openClients(
  port: number,
  clients: number,
  everyMs: number,
  seed: number,
): Promise<readonly Load[]> {
  const loads = await Promise.all(Array.from({ length: LOAD_PROCESSES }, () => startLoad()))
  const share = Math.ceil(clients / LOAD_PROCESSES)
  await Promise.all(
    loads.map((load, i) => {
      const own = { clients: Math.min(share, clients - i * share), from: i * share, of: clients }
      return load.tell('open', { server: 'ours', port, ...own, everyMs, window: 1, seed })
    }),
  )
  return loads
}

/** A database of a PostgreSQL of its own when `--store postgres` says so, with how to end it; empty otherwise. */
export async function benchDatabase(
  args: readonly string[],
): Promise<{ readonly url: string; readonly end: () => Promise<void> }> {
  if (option(args, 'store', 'libsql') !== 'postgres') return { url: '', end: async () => {} }
  const postgres = await startPostgres()
  return { url: await postgres.database(), end: () => postgres.stop('immediate') }
}

export const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** The value after `--name`, or the default. */
export function option(args: readonly string[], name: string, otherwise: string): string {
  const at = args.indexOf(`--${name}`)
  return at >= 0 ? (args[at + 1] ?? otherwise) : otherwise
}
