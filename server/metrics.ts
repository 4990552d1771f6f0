// Figures for whoever watches the machine, in Prometheus' text form, on a port of their own that only this machine can
// reach, and off unless a port is named. They count; they name nobody and nothing of the lab.
import { createServer, type Server } from 'node:http'
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client'
import type { Store } from './store/contract.ts'

/** What is looked up at the moment somebody asks. */
export interface Readable {
  readonly isReady: () => boolean
  /** Labs that are open here: not at rest, and not in another process. */
  readonly open: () => number
  readonly connections: () => number
}

export interface Metrics {
  /** A store whose appends are counted and timed. */
  readonly measured: (store: Store) => Store
  readonly text: () => Promise<string>
}

/** From a commit on a fast disk to a database that hangs. */
const SECONDS = [0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.5, 1, 5]

export function makeMetrics(read: Readable): Metrics {
  const registers = [new Registry()]
  const [registry] = registers
  if (registry === undefined) throw new Error('Believed: there is one registry')
  // Processor, memory, handles and the delay of the event loop, as every Node process names them.
  collectDefaultMetrics({ register: registry })
  const kept = new Counter({ name: 'talus_edits_kept_total', help: 'Edits written to the store', registers })
  const failed = new Counter({
    name: 'talus_appends_failed_total',
    help: 'Appends that the store could not do',
    registers,
  })
  const took = new Histogram({
    name: 'talus_append_seconds',
    help: 'From the append of a batch to its being durable',
    buckets: SECONDS,
    registers,
  })
  const gauge = (name: string, help: string, value: () => number) =>
    new Gauge({
      name,
      help,
      registers,
      collect() {
        this.set(value())
      },
    })
  gauge('talus_ready', '1 while edits can be kept, here or where this process hands on to', () =>
    Number(read.isReady()),
  )
  gauge('talus_open', 'Labs that are open in this process: not at rest, and not in another', read.open)
  gauge('talus_connections', 'Open connections of people and screens', read.connections)
  return {
    measured: (store) => ({
      ...store,
      async append(...args) {
        const end = took.startTimer()
        try {
          const appended = await store.append(...args)
          if (appended.ok) kept.inc(args[2].length)
          return appended
        } catch (error) {
          failed.inc()
          throw error
        } finally {
          end()
        }
      },
    }),
    text: () => registry.metrics(),
  }
}

/** Serves them on this machine alone; answers once it listens. */
export function serveMetrics({ text }: Metrics, port: number): Promise<Server> {
  const server = createServer((request, response) => {
    if (request.url !== '/metrics' || request.method !== 'GET') {
      response.writeHead(404).end()
      return
    }
    text().then(
      (body) => response.writeHead(200, { 'content-type': 'text/plain; version=0.0.4; charset=utf-8' }).end(body),
      () => response.writeHead(500).end(),
    )
  })
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, '127.0.0.1', () => resolve(server))
  })
}
