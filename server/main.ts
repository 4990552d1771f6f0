// The server: reads settings, makes clock, chance and threads, puts http and pages in front of the lab or labs, and ends in
// good order. With errands.ts the only code that knows the process it runs in; start.mjs calls `main` once all is built.
import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { WrongFolder } from './house.ts'
import { hostsOf } from './http/address.ts'
import { openPages } from './http/pages.ts'
import { makeHttp } from './http/server.ts'
import { makeSockets } from './http/sockets.ts'
import { makeLog } from './logs.ts'
import { makeMetrics, serveMetrics } from './metrics.ts'
import { seasonThreads } from './season/index.ts'
import { allLabs, oneLab, ownNames, type ServedLabs } from './served-labs.ts'
import { BadSetting, readSettings, type Settings } from './settings.ts'
import { createSolver } from './solver/index.ts'
import { StoreTrouble } from './store/contract.ts'
import { clockFrom, systemChance } from './system-world.ts'
import { openTraces } from './traces.ts'
import type { Log } from './world.ts'

/** How long connections may take to end by themselves. */
const GRACE_MS = 1500
export interface Start {
  readonly args: readonly string[]
  readonly root: string
  readonly build: string
  readonly isDev: boolean
}

/** Starts the server; it ends the process by itself, with exit code 0 after a signal and 1 when it could not start. */
export async function main(start: Start): Promise<void> {
  try {
    await serve(start, readSettings(start.args, process.env, start.root))
  } catch (error) {
    const message = messageFor(error)
    if (message === null) throw error
    process.stderr.write(`${message}\n`)
    process.exit(1)
  }
}

async function serve({ root, build, isDev }: Start, settings: Settings): Promise<void> {
  const log = makeLog(settings.log, process.stderr)
  const clock = clockFrom(settings.asIf)
  const traces = await openTraces(settings.isTraced, log)
  let labs: ServedLabs | null = null
  const metrics =
    settings.metrics === null
      ? null
      : makeMetrics({
          isReady: () => labs?.isReady() ?? false,
          open: () => labs?.open() ?? 0,
          connections: () => labs?.connections() ?? 0,
        })
  const solver = createSolver({ log })
  const threads = seasonThreads()
  const world = {
    ...{ clock, chance: systemChance, log, spans: traces, build, solver, seasonThreads: threads },
    ...(metrics && { measured: metrics.measured }),
  }
  let base = ''
  const serving = { settings, world, base: () => base }
  labs = settings.labs === null ? oneLab(serving) : allLabs(settings.labs, serving)
  const served = labs
  const sockets = makeSockets()
  const pages = await openPages(root, isDev, settings.port)
  const server = makeHttp({
    ...{ build, isDev, isProxy: settings.isProxy, prefix: settings.prefix, pages, sockets, clock, log, traces },
    isOwnName: hostsOf(ownNames(settings)),
    labFor: served.labFor,
    errand: served.errand,
    isReady: served.isReady,
    arePhotosWell: served.arePhotosWell,
  })
  // Others on the database must know where this process is before it takes a lab.
  const isFirst = settings.store.kind === 'postgres' || settings.labs !== null
  if (isFirst) base = baseOf(settings, await listen(server, settings))
  await served.enter()
  if (!isFirst) base = baseOf(settings, await listen(server, settings))

  const figures = metrics && settings.metrics !== null ? await serveMetrics(metrics, settings.metrics) : null
  endOnSignal(log, async () => {
    figures?.close()
    server.close()
    server.closeIdleConnections()
    await served.close()
    await Promise.all([solver.close(), threads.close()])
    await Promise.all([sockets.close(GRACE_MS), traces.close(GRACE_MS)])
    server.closeAllConnections()
    await pages.close()
  })
  for (const line of await served.sayWhere()) process.stdout.write(`${line}\n`)
}

/** What people are told to open. */
const baseOf = ({ host, prefix }: Settings, port: number): string =>
  `http://${host && !host.includes(':') ? host : 'localhost'}:${port}${prefix}`

function listen(server: Server, { port, host }: Settings): Promise<number> {
  return new Promise((done, fail) => {
    server.once('error', fail)
    server.listen({ port, ...(host ? { host } : {}) }, () => {
      server.off('error', fail)
      // Listening on a port gives an address with one.
      done((server.address() as AddressInfo).port)
    })
  })
}

function endOnSignal(log: Log, end: () => Promise<void>): void {
  let isEnding = false
  const begin = () => {
    // npm passes a signal on that the terminal sent to us as well.
    if (isEnding) return
    isEnding = true
    end().then(
      () => process.exit(0),
      (error) => {
        log('error', 'could not end in good order', { error: String(error) })
        process.exit(1)
      },
    )
  }
  process.on('SIGTERM', begin)
  process.on('SIGINT', begin)
}

/** Trouble that a person at the console can do something about, in one line; null for a fault of ours. */
function messageFor(error: unknown): string | null {
  if (error instanceof BadSetting || error instanceof WrongFolder || error instanceof StoreTrouble) return error.message
  const code = error instanceof Error && 'code' in error ? error.code : null
  const port = error instanceof Error && 'port' in error ? error.port : ''
  const path = error instanceof Error && 'path' in error ? error.path : ''
  if (code === 'EADDRINUSE') return `Port ${port} is taken. Choose another: npm start -- --port ${Number(port) + 1}`
  if (code === 'EADDRNOTAVAIL') return 'TALUS_HOST is not an address of this machine.'
  if (code === 'EACCES' && error instanceof Error && 'syscall' in error && error.syscall === 'listen')
    return `Port ${port} is not ours to open. Choose one above 1023: npm start -- --port 3000`
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS' || code === 'ENOTDIR' || code === 'EEXIST')
    return `The data folder cannot be used: ${path} (${code}). Name another with --data DIR.`
  return null
}
