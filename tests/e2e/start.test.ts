// How the built server starts, refuses to start, and ends.
import { existsSync, mkdirSync, statSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { boardAs, caller, openBoard, signedIn } from '../kit/live-client.ts'
import { freshFolder, runStart, startServer, within } from '../kit/server.ts'

test('--help lists every setting and opens nothing', async () => {
  const { code, stdout } = await runStart(['--help'])
  expect(code).toBe(0)
  for (const word of ['PORT', 'TALUS_DATA', 'TALUS_STORE', 'TALUS_PROXY', '--new', 'npm run backup']) {
    expect(stdout).toContain(word)
  }
})

test('a start prints one line with the address, serves pages, and SIGTERM ends it well', async () => {
  const server = await startServer()
  expect((await fetch(`${server.url}/ready`)).status).toBe(200)
  const page = await fetch(server.url)
  expect(page.status).toBe(200)
  expect(page.headers.get('content-security-policy')).toContain("'strict-dynamic'")
  const board = await boardAs(server.url, 'wall')
  expect(board.records().place.size).toBeGreaterThan(0)
  const { code, stdout } = await within(server.stop())
  expect(code).toBe(0)
  expect(stdout.trim().split('\n')).toEqual([
    expect.stringMatching(/^Talus: .+ \(demo\) is open at http:\/\/localhost:\d+$/),
  ])
  expect(await board.ended).toEqual({ code: 1012, reason: 'stopping' })
  expect(board.heard.at(-1)).toEqual({ type: 'bye', reason: 'stopping' })
})

test('a socket that does not answer the goodbye does not keep the process', async () => {
  const server = await startServer()
  const visitor = await signedIn(server.url, 'wall')
  // Opened by hand and never read again, as a sleeping laptop's.
  const { connect } = await import('node:net')
  const { port, host } = new URL(server.url)
  const raw = connect(Number(port), 'localhost')
  const head = ['GET /sync/board HTTP/1.1', `Host: ${host}`, `Origin: ${server.url}`, `Cookie: ${visitor.cookie()}`]
  const keys = [
    'Connection: Upgrade',
    'Upgrade: websocket',
    'Sec-WebSocket-Version: 13',
    'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
  ]
  raw.write(`${[...head, ...keys].join('\r\n')}\r\n\r\n`)
  await new Promise((next) => raw.once('data', next))
  raw.pause()
  expect((await within(server.stop(), 6000)).code).toBe(0)
  raw.destroy()
})

test('a second start on the same data refuses, and the first goes on', async () => {
  const server = await startServer()
  const second = await runStart(['--data', server.data, '--port', '0'])
  expect(second.code).toBe(1)
  expect(second.stderr).toMatch(
    /^Another Talus is running on the data in .*\. Stop it first, or name another folder\.\n$/m,
  )
  expect(second.stderr).not.toContain('    at ')
  expect((await fetch(`${server.url}/ready`)).status).toBe(200)
  expect((await within(server.stop())).code).toBe(0)
  const third = await startServer({ data: server.data })
  expect((await within(third.stop())).code).toBe(0)
})

test('a killed server leaves nothing that keeps the next one out', async () => {
  const server = await startServer()
  await server.kill()
  const next = await startServer({ data: server.data })
  expect((await within(next.stop())).code).toBe(0)
})

test('--new makes a lab with a one-time link for its first manager, apart from any demo', async () => {
  const data = join(freshFolder(), 'lab')
  const server = await startServer({ data, args: ['--new', 'Yard of Łódź', '--zone', 'Europe/Warsaw'] })
  const token = /#([\w-]{43})/.exec(server.said())?.[1] ?? ''
  const manager = caller(server.url)
  expect((await manager.get('/api/demo')).status).toBe(404)
  expect((await manager.post('/api/demo', { personId: 'wall' })).status).toBe(404)
  expect((await manager.post('/api/invitation', { token })).body).toEqual({
    lab: 'Yard of Łódź',
    role: 'manager',
    name: null,
    asksName: true,
  })
  const joined = await manager.post('/api/join', { token, name: 'Mara' })
  expect(joined.body).toMatchObject({ person: { name: 'Mara' }, role: 'manager', isDemo: false })
  expect((await caller(server.url).post('/api/join', { token })).status).toBe(410)
  const board = await openBoard(server.url, manager)
  await within(board.until((records) => records.lab.get('lab')?.zone === 'Europe/Warsaw'))
  expect([...board.records().person.values()].map(({ name, hasJoined }) => [name, hasJoined])).toEqual([['Mara', true]])
  expect((await within(server.stop())).code).toBe(0)

  const again = await runStart(['--new', 'Another', '--data', data, '--port', '0'])
  expect([again.code, again.stderr.trim()]).toEqual([
    1,
    `The folder ${data} holds a lab already. Make the new one in an empty folder.`,
  ])
  const reopened = await startServer({ data, args: ['--invite', 'mara'] })
  expect(reopened.said()).toMatch(/One-time link for Mara: http:\S+#[\w-]{43}\n/)
  expect(reopened.said()).not.toContain('first manager')
  const me = await fetch(`${reopened.url}/api/me`, { headers: { cookie: manager.cookie() } })
  expect(await me.json()).toMatchObject({ person: { name: 'Mara' } })
  expect((await within(reopened.stop())).code).toBe(0)
})

test('the link is printed again as long as nobody used it, and a demo folder takes no new lab', async () => {
  const data = join(freshFolder(), 'lab')
  const first = await startServer({ data, args: ['--new', 'Yard'] })
  await within(first.stop())
  const second = await startServer({ data })
  expect(second.said()).toMatch(/One-time link for the first manager: http:\S+#[\w-]{43}\n/)
  await within(second.stop())
  const demo = await startServer()
  await within(demo.stop())
  const mixed = await runStart(['--new', 'Yard', '--data', demo.data, '--port', '0'])
  expect(mixed.code).toBe(1)
  expect(mixed.stderr).toContain('holds the demo lab already')
})

test('trouble is told in one line: a taken port, a folder that cannot be used, a wrong setting', async () => {
  const holder = createServer()
  await new Promise<void>((done) => holder.listen(0, done))
  const { port } = holder.address() as AddressInfo
  const taken = await runStart(['--data', freshFolder(), '--port', String(port)])
  holder.close()
  expect([taken.code, taken.stderr.trim()]).toEqual([
    1,
    `Port ${port} is taken. Choose another: npm start -- --port ${port + 1}`,
  ])
  const file = join(freshFolder(), 'file')
  writeFileSync(file, '')
  const unusable = await runStart(['--data', join(file, 'lab'), '--port', '0'])
  expect([unusable.code, unusable.stderr.trim()]).toEqual([
    1,
    `The data folder cannot be used: ${join(file, 'lab')} (ENOTDIR). Name another with --data DIR.`,
  ])
  const broken = freshFolder()
  writeFileSync(join(broken, 'talus.db'), 'not a database at all, but long enough to look like one'.repeat(100))
  const unreadable = await runStart(['--data', broken, '--port', '0'])
  expect(unreadable.code).toBe(1)
  expect(unreadable.stderr).not.toContain('    at ')
  const wrong = await runStart(['--zone', 'Mars/Olympus'])
  expect([wrong.code, wrong.stderr.trim()]).toEqual([
    1,
    'TALUS_ZONE expects an IANA time zone such as Europe/Lisbon, got Mars/Olympus.',
  ])
})

test('the console secret is for the owner of the folder alone, and goes with the server', async () => {
  const server = await startServer()
  const file = join(server.data, 'running.json')
  expect(statSync(file).mode & 0o777).toBe(0o600)
  expect((await fetch(`${server.url}/console/backup`, { method: 'POST' })).status).toBe(404)
  await within(server.stop())
  expect(existsSync(file)).toBe(false)
  mkdirSync(server.data, { recursive: true })
})
