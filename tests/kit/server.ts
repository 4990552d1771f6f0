// The real thing for tests: the built server as its own process on a free port with a data folder of its own. It is
// ended by SIGTERM (and must end well), or killed as a crash does it.
import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** The clone's folder. */
export const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

const READY_MS = 180_000
const END_MS = 60_000

/** How a process of ours ended. */
export interface Ended {
  readonly code: number | null
  readonly signal: NodeJS.Signals | null
  readonly stdout: string
  readonly stderr: string
}

export interface RunningServer {
  readonly url: string
  readonly data: string
  readonly pid: number
  /** Everything it printed so far. */
  readonly said: () => string
  /** SIGTERM; answers how it ended. */
  readonly stop: () => Promise<Ended>
  /** SIGKILL: a crash. The data folder stays for the next start. */
  readonly kill: () => Promise<Ended>
  /** SIGSTOP and SIGCONT: a machine that hangs, and goes on as if nothing had been. */
  readonly freeze: () => void
  readonly thaw: () => void
  readonly ended: Promise<Ended>
}

const folders: string[] = []
const children = new Set<ChildProcess>()

/** Ends all servers that still run and takes their data away; tests/e2e/setup.ts calls it after each file. */
export function endAll(): void {
  for (const child of children) child.kill('SIGKILL')
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
}
process.once('exit', endAll)

/** A data folder that is taken away when the test process ends. */
export function freshFolder(name = 'talus'): string {
  const folder = mkdtempSync(join(tmpdir(), `${name}-`))
  folders.push(folder)
  return folder
}

/** Runs `node server/start.mjs` with arguments, to its end. */
export function runStart(args: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ended> {
  return endOf(spawnStart(args, env))
}

/** A weekday morning just before the first shift: what a test finds must not depend on when it is run. */
const aMorning = { TALUS_AS_IF: '2026-03-12T09:25', TALUS_ZONE: 'Europe/Lisbon' }

/** The settings that decide which demo lab a start on an empty folder makes, as they are in that morning. */
const usual: Readonly<Record<string, string | undefined>> = { ...aMorning, TALUS_STORE: undefined }

/** A folder to start on: a copy of the usual demo lab where it is asked for and was drawn up, else an empty one. */
function demoFolder(args: readonly string[], env: Readonly<Record<string, string>>): string {
  const data = freshFolder()
  const drawnUp = process.env.TALUS_TEST_DEMO
  const isUsual = args.length === 0 && Object.entries(usual).every(([name, value]) => env[name] === value)
  if (drawnUp && isUsual) cpSync(drawnUp, data, { recursive: true })
  return data
}

/** Starts a server, in the morning unless told otherwise, and waits for its address. */
export async function startServer(
  options: {
    /** A data folder; null where the arguments name what is served. */
    readonly data?: string | null
    readonly args?: readonly string[]
    readonly env?: Readonly<Record<string, string>>
  } = {},
): Promise<RunningServer> {
  const { args = [] } = options
  const env = { PORT: '0', ...aMorning, ...options.env }
  const data = options.data === undefined ? demoFolder(args, env) : options.data
  const child = spawnStart([...(data === null ? [] : ['--data', data]), ...args], env)
  let said = ''
  child.stdout?.on('data', (part) => {
    said += part
  })
  child.stderr?.on('data', (part) => {
    said += part
  })
  const ended = endOf(child)
  const url = await new Promise<string>((done, fail) => {
    const timer = setTimeout(() => fail(new Error(`No address after ${READY_MS} ms:\n${said}`)), READY_MS)
    const look = () => {
      const address = /(?:is open|stands by) at (http:[^\s:]+:\d+(?:\/[\w/-]+)?)/.exec(said)?.[1]?.replace('NAME.', '')
      if (!address) return
      clearTimeout(timer)
      done(address)
    }
    child.stdout?.on('data', look)
    void ended.then(({ code }) => fail(new Error(`It ended with ${code} before it had an address:\n${said}`)))
  })
  const { pid } = child
  if (pid === undefined) throw new Error('The server has no process.')
  const end = (signal: NodeJS.Signals) => () => {
    child.kill(signal)
    return ended
  }
  return {
    url,
    data: data ?? '',
    pid,
    said: () => said,
    stop: end('SIGTERM'),
    kill: end('SIGKILL'),
    freeze: () => void child.kill('SIGSTOP'),
    thaw: () => void child.kill('SIGCONT'),
    ended,
  }
}

function spawnStart(args: readonly string[], env: Readonly<Record<string, string>>): ChildProcess {
  return spawn(process.execPath, ['server/start.mjs', ...args], {
    cwd: root,
    // Settings of the machine must not leak into a test.
    env: { ...withoutOurs(process.env), ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
}

function withoutOurs(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  const clean = { ...env }
  for (const name of Object.keys(clean)) {
    if (name === 'PORT' || name === 'INIT_CWD' || /^(?:TALUS|OTEL)_/.test(name)) delete clean[name]
  }
  return clean
}

function endOf(child: ChildProcess): Promise<Ended> {
  let stdout = ''
  let stderr = ''
  child.stdout?.on('data', (part) => {
    stdout += part
  })
  child.stderr?.on('data', (part) => {
    stderr += part
  })
  children.add(child)
  return new Promise((done) => {
    child.once('close', (code, signal) => {
      children.delete(child)
      done({ code, signal, stdout, stderr })
    })
  })
}

/** Fails when a promise takes longer than an ending may. */
export async function within<T>(promise: Promise<T>, ms = END_MS): Promise<T> {
  let timer: NodeJS.Timeout | undefined
  const late = new Promise<never>((_, fail) => {
    timer = setTimeout(() => fail(new Error(`Not done after ${ms} ms`)), ms)
  })
  try {
    return await Promise.race([promise, late])
  } finally {
    clearTimeout(timer)
  }
}
