// Traces as a collector gets them: which spans there are and what is within what, and nothing of anybody in them; that a
// collector which is down or hangs concerns nobody; and that without one nothing is loaded.
import { readdirSync } from 'node:fs'
import { createServer } from 'node:http'
import { createRequire } from 'node:module'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, it, onTestFinished, vi } from 'vitest'
import { hostsOf, proxiesOf } from '../../server/http/address.ts'
import { makeApi } from '../../server/http/api.ts'
import type { LabAtPort } from '../../server/http/lab-at-port.ts'
import { routeOf } from '../../server/http/routes.ts'
import { makeHttp } from '../../server/http/server.ts'
import { makeSockets } from '../../server/http/sockets.ts'
import { photoFolder } from '../../server/photos/folder.ts'
import { readSettings } from '../../server/settings.ts'
import { createSolver, solverAsks } from '../../server/solver/index.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { noTraces, openTraces, type Traces } from '../../server/traces.ts'
import { aDoor, ids } from '../kit/door.ts'
import { jackets, openFake, people, seed, seedChanges } from '../kit/fake-lab.ts'
import { PLANTS } from '../kit/private-plants.ts'
import { root } from '../kit/server.ts'

/** A span as it was sent. */
interface Sent {
  readonly name: string
  readonly traceId: string
  readonly spanId: string
  readonly parentSpanId?: string
  readonly kind: number
  readonly status: { readonly code?: number; readonly message?: string }
  readonly attributes: readonly { readonly key: string; readonly value: Readonly<Record<string, unknown>> }[]
}

const SERVER = 2
const ERROR = 2

const listening = async (server: ReturnType<typeof createServer>): Promise<string> => {
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  onTestFinished(() => {
    server.close()
    server.closeAllConnections()
  })
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}

/** Takes what is sent; one that hangs takes it and never answers. */
async function aCollector({ hangs = false } = {}) {
  const bodies: string[] = []
  const url = await listening(
    createServer(async (request, response) => {
      const parts: Buffer[] = []
      for await (const part of request) parts.push(part)
      bodies.push(`${Buffer.concat(parts)}`)
      if (!hangs) response.writeHead(200, { 'content-type': 'application/json' }).end('{}')
    }),
  )
  const resources = () => bodies.flatMap((body) => JSON.parse(body).resourceSpans)
  return {
    url,
    text: () => bodies.join('\n'),
    services: () => JSON.stringify(resources().map(({ resource }) => resource)),
    spans: (): Sent[] =>
      resources().flatMap(({ scopeSpans }) => scopeSpans.flatMap(({ spans }: { spans: Sent[] }) => spans)),
  }
}

async function tracesTo(url: string, more: Readonly<Record<string, string>> = {}) {
  const env = { OTEL_EXPORTER_OTLP_ENDPOINT: url, OTEL_BSP_SCHEDULE_DELAY: '10', ...more }
  for (const [name, value] of Object.entries(env)) vi.stubEnv(name, value)
  const remarks: string[] = []
  return { traces: await openTraces(true, (_level, what) => remarks.push(what)), remarks }
}

afterEach(() => vi.unstubAllEnvs())

const fact = ({ attributes }: Sent, key: string): unknown => {
  const value = attributes.find((one) => one.key === key)?.value ?? {}
  return value.stringValue ?? value.intValue ?? value.arrayValue
}

/** The port of a lab among others, and somebody signed in there. */
async function aPort(traces: Traces) {
  const { door, clock } = await aDoor({ isDemo: true })
  const readings = { archive: async () => ({}), history: async () => ({}), log: async () => null }
  const api = makeApi({ door, readings, clock, build: 'b1', fetchCalendar: async () => ({ text: '' }) })
  const photos = photoFolder({ folder: join(tmpdir(), 'talus-no-photos'), clock })
  const parts = { door, api, photos, outlets: () => null, calendar: () => null, mayLook: async () => false }
  const lab: LabAtPort = {
    ...{ labId: () => 'demo-of-the-test', name: 'west', isHost: hostsOf([]), open: () => parts },
    ...{ elsewhere: () => null, connect: (socket) => socket.close(), use: () => () => {} },
  }
  const server = makeHttp({
    ...{
      build: 'b1',
      isDev: false,
      prefix: '',
      isProxy: proxiesOf(''),
      labFor: async () => lab,
      isOwnName: hostsOf([]),
    },
    ...{ errand: async () => null, isReady: () => true, arePhotosWell: () => true, sockets: makeSockets(), clock },
    pages: {
      serve: async (request, response) => {
        if (request.url?.includes('broken')) throw new Error(`no page ${request.url}`)
        response.end('page')
      },
      upgrade: () => false,
      close: async () => {},
    },
    log: () => {},
    traces,
  })
  return listening(server)
}

describe('without a collector', () => {
  const loaded = () =>
    Object.keys(createRequire(import.meta.url).cache).filter((path) => /@opentelemetry.(core|sdk|exporter)/.test(path))

  it('nothing is loaded, and work is done as it is', async () => {
    const traces = await openTraces(readSettings([], {}, root).isTraced, () => {})
    expect(traces).toBe(noTraces)
    expect(traces.ofLab('west').span('edits', {}, (inside) => [inside, 7])).toEqual([noTraces, 7])
    expect(loaded()).toEqual([])
    // So that the search is known to find.
    await tracesTo('http://127.0.0.1:9')
    expect(loaded()).not.toEqual([])
  })

  it.each([
    [{}, false],
    [{ OTEL_EXPORTER_OTLP_ENDPOINT: ' ' }, false],
    [{ OTEL_EXPORTER_OTLP_ENDPOINT: 'http://c:4318' }, true],
    [{ OTEL_EXPORTER_OTLP_TRACES_ENDPOINT: 'https://c/v1/traces' }, true],
    [{ OTEL_EXPORTER_OTLP_ENDPOINT: 'http://c:4318', OTEL_SDK_DISABLED: 'true' }, false],
    [{ OTEL_EXPORTER_OTLP_ENDPOINT: 'http://c:4318', OTEL_TRACES_EXPORTER: 'none' }, false],
  ])('%j switches them on: %s', (env, isTraced) => {
    expect(readSettings([], env, root).isTraced).toBe(isTraced)
  })

  it('an address that is none is refused and not said again', () => {
    const env = { OTEL_EXPORTER_OTLP_ENDPOINT: 'key=SECRET' }
    expect(() => readSettings([], env, root)).toThrow(/^OTEL_EXPORTER_OTLP_ENDPOINT expects (?!.*SECRET)/)
  })
})

describe('a collector gets', () => {
  it('each call by the name of its route, within the span of whoever asked', async () => {
    const collector = await aCollector()
    const { traces } = await tracesTo(collector.url)
    const url = await aPort(traces)
    const [trace, parent] = ['4bf92f3577b34da6a3ce929d0e0e4736', '00f067aa0ba902b7']
    const headers = { traceparent: `00-${trace}-${parent}-01`, tracestate: 'vendor=PLANT-state' }
    const entered = await fetch(`${url}/api/demo`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-talus': '1' },
      body: JSON.stringify({ personId: ids.manager }),
    })
    const cookie = entered.headers.get('set-cookie')?.split(';')[0] ?? ''
    const secret = 'PLANTsecret'.repeat(4)
    const hash = 'ab'.repeat(32)
    await fetch(`${url}/api/me`, { headers: { ...headers, cookie } })
    for (const path of [
      ...[`/sheet/PLANT-piece?by=PLANT-query`, `/p/PLANT-broken`, `/PLANT-page`, `/api/none/PLANT`, `/%ffPLANT`],
      ...[`/api/calendar/${secret}.ics`, `/api/photos/${hash}?of=PLANT-piece`, `/api/out/plant-file.csv`],
    ])
      await fetch(url + path, { headers: { cookie } }).then((answer) => answer.text())
    await traces.close(1000)

    const spans = collector.spans()
    const me = spans.find(({ name }) => name === 'GET /api/me')
    expect(me).toMatchObject({ traceId: trace, parentSpanId: parent, kind: SERVER })
    const facts = (span: Sent) => [fact(span, 'http.response.status_code'), fact(span, 'talus.lab')]
    expect(Object.fromEntries(spans.map((span) => [span.name, facts(span)]))).toEqual({
      'POST /api/demo': [200, 'west'],
      'GET /api/me': [200, 'west'],
      'GET /sheet/[id]': [200, 'west'],
      'GET /p/[id]': [500, 'west'],
      'GET other': expect.any(Array),
      'GET /api/calendar/[secret]': [404, 'west'],
      'GET /api/photos/[hash]': [404, 'west'],
      'GET /api/out/[file]': [404, 'west'],
    })
    expect(spans.filter(({ name }) => name === 'GET other')).toHaveLength(3)
    expect(spans.find(({ name }) => name === 'GET /p/[id]')?.status).toEqual({ code: ERROR })
    expect(spans.filter(({ parentSpanId }) => parentSpanId)).toHaveLength(1)
    expect(cookie.length).toBeGreaterThan(20)
    for (const one of [cookie.split('=')[1] ?? '', hash, '127.0.0.1', 'demo-of-the-test', ...Object.values(ids)])
      expect(collector.text(), one).not.toContain(one)
    expect(collector.text()).not.toMatch(/plant/i)
  })

  it('edits from judged to shown, questions and their jobs, and nothing of anybody', async () => {
    const collector = await aCollector()
    const { traces } = await tracesTo(collector.url)
    const solver = createSolver({ log: () => {}, worker: echo })
    const store = memoryStore()
    await seed(store, [...seedChanges(), ...PLANTS.map(({ change }) => change)])
    const { clock, client, op, close } = await openFake({
      ...{ store, spans: traces, asks: solverAsks(solver), dayOp: null },
    })
    const [mara, vera] = [client('mara'), client('vera')]
    await clock.pass(1)
    const acts = [
      ...[op('mark', { pieceId: 'j1', shelf: 'PLANT-shelf' }), op('whisper', { text: 'PLANT-whisper' })],
      ...[op('take', { pieceId: 'j2' }), op('listen'), op('fault', { how: 'throw' })],
    ]
    for (const act of acts) mara.act(act)
    await clock.pass(50)
    vera.act(op('take', { pieceId: 'j2' }))
    mara.say({ type: 'ask', ask: 'PLANT-ask', what: 'drawUp', body: { date: '2026-03-12', redraw: false } })
    mara.say({ type: 'ask', ask: 'a2', what: 'PLANT-what', body: { text: 'PLANT-body' } })
    await vi.waitFor(async () => {
      await clock.pass(1)
      expect(mara.heard.filter(({ type }) => type === 'answer')).toHaveLength(2)
    })
    await close()
    await solver.close()
    await traces.close(1000)

    const spans = collector.spans()
    const inside = (parent: Sent) => spans.filter(({ parentSpanId }) => parentSpanId === parent.spanId)
    const edits = spans.filter(({ name }) => name === 'edits')
    const kept = edits.find((span) => fact(span, 'talus.outcome') === 'kept')
    if (!kept) throw new Error('no batch was kept')
    expect(kept.parentSpanId ?? '').toBe('')
    expect(JSON.stringify(fact(kept, 'talus.kinds'))).toContain('"mark"')
    const names = inside(kept).map((span) => span.name)
    expect(names.at(-1)).toBe('append')
    expect(names).toContain('judge')
    expect(inside(kept).every(({ traceId }) => traceId === kept.traceId)).toBe(true)
    const judged = spans.filter(({ name }) => name === 'judge').map((span) => fact(span, 'talus.outcome'))
    expect(judged.toSorted()).toEqual([...Array(3).fill('passed'), ...Array(3).fill('refused')])
    const ops = edits.map((span) => [fact(span, 'talus.outcome'), fact(span, 'talus.ops')] as const)
    expect(ops.filter(([outcome]) => outcome === 'kept').reduce((sum, [, n]) => sum + Number(n), 0)).toBe(3)
    // Late, while nothing was being kept.
    expect(ops.at(-1)).toEqual(['refused', 1])

    const asks = spans.filter(({ name }) => name === 'ask')
    expect(asks.map((span) => [fact(span, 'talus.kind'), fact(span, 'talus.outcome')]).toSorted()).toEqual([
      ['drawUp', 'answered'],
      ['unknown', 'unknown'],
    ])
    const [job] = spans.filter(({ name }) => name === 'job')
    expect(job && fact(job, 'talus.outcome')).toBe('done')
    expect(job && fact(job, 'talus.ms')).toBeGreaterThanOrEqual(0)
    expect(asks.find((span) => span.spanId === job?.parentSpanId)).toBeDefined()

    const secrets = [...Object.keys(people), ...jackets, ...acts.map(({ id }) => id), ...PLANTS.map(({ text }) => text)]
    for (const secret of secrets) expect(collector.text(), secret).not.toMatch(new RegExp(`\\b${secret}\\b`))
    expect(collector.text()).not.toMatch(/PLANT|Name of|Family of/)
  })

  it('the name and the sample that the usual variables say', async () => {
    const collector = await aCollector()
    const usual = await tracesTo(collector.url)
    usual.traces.begin('job', {}).end()
    await usual.traces.close(1000)
    expect(collector.services()).toContain('"service.name","value":{"stringValue":"talus"}')
    const named = await tracesTo(collector.url, { OTEL_SERVICE_NAME: 'west-lab' })
    named.traces.begin('job', {}).end()
    await named.traces.close(1000)
    expect(collector.services()).toContain('"west-lab"')
    const none = await tracesTo(collector.url, { OTEL_TRACES_SAMPLER: 'always_off' })
    none.traces.begin('job', {}).end()
    await none.traces.close(1000)
    expect(collector.spans()).toHaveLength(2)
  })
})

describe('a collector that is', { timeout: 20_000 }, () => {
  it.each(['down', 'hanging'])('%s concerns no edit and no end, and is told once', async (how) => {
    const hanging = how === 'hanging' ? await aCollector({ hangs: true }) : null
    const { traces, remarks } = await tracesTo(hanging?.url ?? 'http://127.0.0.1:9', {
      ...{ OTEL_EXPORTER_OTLP_TIMEOUT: '100', OTEL_BSP_MAX_QUEUE_SIZE: '16', OTEL_BSP_MAX_EXPORT_BATCH_SIZE: '8' },
    })
    const { clock, client, op, store, close } = await openFake({ spans: traces })
    const vera = client('vera')
    await clock.pass(1)
    const began = performance.now()
    for (let n = 0; n < 200; n++) {
      vera.act(op('mark', { pieceId: 'j1', shelf: `rack ${n}` }))
      await clock.pass(20)
    }
    expect(vera.kept.size).toBe(200)
    expect(vera.records().jacket.get('j1')?.shelf).toBe('rack 199')
    expect((await store.read('fake', 0, 1000)).filter(({ kind }) => kind === 'mark')).toHaveLength(200)
    await vi.waitFor(() => expect(remarks).toHaveLength(1), 5000)
    // What was not taken in time is dropped: some 600 spans were made, and eight are given up each tenth of a second.
    expect(hanging?.spans().length ?? 0).toBeLessThanOrEqual(8 * (2 + (performance.now() - began) / 100))
    await close()
    await traces.close(300)
    // However long it may take otherwise.
    const patient = await tracesTo(hanging?.url ?? 'http://127.0.0.1:9', { OTEL_EXPORTER_OTLP_TIMEOUT: '60000' })
    for (let n = 0; n < 50; n++) patient.traces.begin('job', {}).end()
    const ending = performance.now()
    await patient.traces.close(300)
    expect(performance.now() - ending).toBeLessThan(3000)
    expect(remarks).toEqual(['traces do not reach the collector and are dropped; nothing else is concerned'])
  })
})

it('every page of the app has a name of its own', () => {
  const files = readdirSync(join(root, 'app'), { recursive: true, encoding: 'utf8' })
  const pages = files.flatMap((path) => /^(?:(.*)\/)?page\.tsx$/.exec(path.replaceAll('\\', '/'))?.slice(1) ?? [])
  expect(pages.length).toBeGreaterThan(10)
  for (const page of pages) expect(routeOf(`/${(page ?? '').replace('[id]', 'some-thing')}`)).toBe(`/${page ?? ''}`)
})

/** A thread that answers at once. */
const echo = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort } from 'node:worker_threads'
    parentPort.on('message', ({ n }) => parentPort.postMessage({ n, kind: 'done', result: { assignments: [] } }))
  `)}`,
)
