// What the server says to those who run it: remarks as lines or as JSON, figures for a watcher on this machine alone.
import { expect, it } from 'vitest'
import { makeLog } from '../../server/logs.ts'
import { makeMetrics, serveMetrics } from '../../server/metrics.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { anEntry } from '../suites/store.ts'

const nobody = { isReady: () => true, open: () => 0, connections: () => 7 }

it('remarks are plain lines, or one JSON object a line with the same in it', () => {
  const lines: string[] = []
  const to = { write: (line: string) => void lines.push(line) }
  makeLog('plain', to)('warn', 'the store is slow', { seconds: 2 })
  makeLog('json', to)('warn', 'the store is slow', { seconds: 2 })
  makeLog('json', to)('info', 'two\nlines')
  expect(lines[0]).toBe('warn: the store is slow {"seconds":2}\n')
  expect(JSON.parse(lines[1] ?? '')).toMatchObject({
    level: 'warn',
    what: 'the store is slow',
    seconds: 2,
    service: 'talus',
  })
  expect(lines[2]?.trimEnd()).not.toContain('\n')
  expect(Date.parse(JSON.parse(lines[2] ?? '').time)).toBeGreaterThan(0)
})

it('edits that were kept and appends that failed are counted and timed, and nobody is named', async () => {
  let isFull = false
  const before = (call: string) => {
    if (isFull && call === 'append') throw new Error('full')
  }
  const metrics = makeMetrics(nobody)
  const store = metrics.measured(memoryStore({ before }))
  await store.append('lab', 0, [anEntry(), anEntry()])
  await store.append('lab', 0, [anEntry()])
  isFull = true
  await expect(store.append('lab', 2, [anEntry()])).rejects.toThrow('full')
  const text = await metrics.text()
  expect(text).toMatch(/^talus_edits_kept_total 2$/m)
  expect(text).toMatch(/^talus_appends_failed_total 1$/m)
  expect(text).toMatch(/^talus_append_seconds_count 3$/m)
  expect(text).toMatch(/^talus_connections 7$/m)
  expect(text).toMatch(/^talus_ready 1$/m)
  expect(text).toMatch(/^talus_open 0$/m)
  expect(text).toMatch(/^process_resident_memory_bytes \d+/m)
  expect(text).not.toMatch(/vera|op-\d/)
})

it('figures are given on this machine alone, and nothing else is', async () => {
  const server = await serveMetrics(makeMetrics(nobody), 0)
  const address = server.address()
  if (address === null || typeof address === 'string') throw new Error('no port')
  expect(address.address).toBe('127.0.0.1')
  const answer = await fetch(`http://127.0.0.1:${address.port}/metrics`)
  expect(answer.headers.get('content-type')).toContain('text/plain; version=0.0.4')
  expect(await answer.text()).toContain('# TYPE talus_append_seconds histogram')
  expect((await fetch(`http://127.0.0.1:${address.port}/`)).status).toBe(404)
  await new Promise((resolve) => server.close(resolve))
})
