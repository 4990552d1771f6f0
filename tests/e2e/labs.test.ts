// Many labs in one built server, each under a name of its own. Two of them are copies of one demo lab: the same people,
// pieces, ids and names of cookies, so that nothing but the name they are asked under keeps them apart.
import { cpSync, existsSync, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { type LiveClient, openBoard } from '../kit/live-client.ts'
import { startPostgres } from '../kit/postgres.ts'
import { freshFolder, type RunningServer, runStart, startServer, within } from '../kit/server.ts'
import { enterAs, type Named, underName } from '../kit/under-name.ts'

/** An installation with `west` and `east`, copies of one demo lab, and `north`, an empty lab; served until the file ends. */
async function installation(
  args: readonly string[] = [],
  env: Readonly<Record<string, string>> = {},
): Promise<{ labs: string; server: RunningServer; link: string }> {
  const labs = join(freshFolder(), 'labs')
  const { stdout } = await runStart(['found', 'north', 'North wing', '--labs', labs])
  for (const name of ['west', 'east']) cpSync(process.env.TALUS_TEST_DEMO ?? '', join(labs, name), { recursive: true })
  const server = await startServer({ data: null, args: ['--labs', labs, ...args], env })
  return { labs, server, link: /http:\S+/.exec(stdout)?.[0] ?? '' }
}

test('a session, link, calendar or file of one lab is nothing in another of the same server', async () => {
  const { server } = await installation()
  const [west, east] = [underName(server.url, 'west.localhost'), underName(server.url, 'east.localhost')]
  const cookie = await enterAs(west, 'manager')
  expect(JSON.parse((await west.ask('/api/me', { cookie })).text).role).toBe('manager')

  // Nobody there, at every door, though the cookie has the name that the other lab looks for.
  const eastern = await enterAs(east, 'manager')
  expect(eastern.split('=')[0]).toBe(cookie.split('=')[0])
  expect(JSON.parse((await east.ask('/api/me', { cookie })).text).person).toBeNull()
  const closed = [
    '/api/log',
    '/api/history?subject=lab',
    '/api/archive',
    '/api/out/everything.jsonl',
    '/api/calendar-address',
  ]
  for (const path of closed) {
    expect((await west.ask(path, { cookie })).status, path).toBe(200)
    expect((await east.ask(path, { cookie })).status, path).toBe(401)
  }
  for (const path of ['/sync/board', '/sync/office']) {
    expect(await west.socket(path, cookie), path).toBe(101)
    expect(await east.socket(path, cookie), path).toBe(401)
  }

  // A page of the one cannot act in the other, even for somebody who is in both.
  const aside = { cookie: eastern, headers: { origin: west.origin } }
  expect((await east.ask('/api/wall-link', { ...aside, method: 'POST', body: {} })).status).toBe(403)
  expect(await east.socket('/sync/board', eastern, west.origin)).toBe(403)

  // Secrets that let in without a cookie.
  const calendar = await west.ask('/api/calendar-address', { method: 'POST', cookie, body: { isWanted: true } })
  const address = new URL(JSON.parse(calendar.text).link)
  expect(address.origin).toBe(west.origin)
  expect([(await west.ask(address.pathname)).status, (await east.ask(address.pathname)).status]).toEqual([200, 404])
  const wall = await west.ask('/api/wall-link', { method: 'POST', cookie, body: {} })
  const token = JSON.parse(wall.text).link.split('#')[1]
  const look = (lab: Named) => lab.ask('/api/invitation', { method: 'POST', body: { token } })
  expect([(await look(west)).status, (await look(east)).status]).toEqual([200, 404])

  await within(server.stop())
})

test('what is done in one lab is in no other, also in a real browser, which keeps what they store apart', async () => {
  const { server, link, labs } = await installation()
  const west = underName(server.url, 'west.localhost')
  const browser = await openBrowser()
  try {
    const people = JSON.parse((await west.ask('/api/demo')).text) as { people: { id: string; role: string }[] }
    const personId = people.people.find(({ role }) => role === 'manager')?.id ?? ''
    const { page, context } = await visit(browser, west.origin, null)
    await page.evaluate(async (body) => {
      const headers = { 'content-type': 'application/json', 'x-talus': '1' }
      await fetch('/api/demo', { method: 'POST', headers, body })
    }, JSON.stringify({ personId }))
    await page.reload()
    await page.getByRole('main').waitFor()
    await expect.poll(() => page.evaluate(async () => (await indexedDB.databases()).length)).toBeGreaterThan(0)
    // The empty lab's first manager comes by the link that was printed, in the same browser.
    const other = await context.newPage()
    await other.goto(link.replace(/:\d+\//, `:${new URL(server.url).port}/`))
    await other.getByRole('button').first().waitFor()
    expect(await other.evaluate(async () => (await indexedDB.databases()).length)).toBe(0)
    expect(
      (await context.cookies()).filter(({ name }) => name.startsWith('talus-')).map(({ domain }) => domain),
    ).toEqual(['west.localhost'])
    // Unlike each other to whoever runs the server, too.
    const told = await runStart(['labs', '--labs', labs])
    expect(told.stdout).toMatch(/^west .*open in a server$/m)
    expect(told.stdout).toMatch(/^east .*MB$/m)
  } finally {
    await browser.close()
  }
  await within(server.stop())
})

test('a lab that cannot be opened says so alone, and a name that no lab has is told in words', async () => {
  const { server, labs } = await installation()
  const broken = join(labs, 'broken')
  mkdirSync(broken)
  writeFileSync(join(broken, 'talus.db'), 'this is not a lab, '.repeat(1000))
  const at = (name: string) => underName(server.url, name)
  const page = await at('broken.localhost').ask('/')
  expect([page.status, page.text]).toEqual([503, expect.stringMatching(/^This lab is not open just now/)])
  expect((await at('broken.localhost').ask('/api/me')).status).toBe(503)
  expect(await at('broken.localhost').socket('/sync/board', '')).toBe(503)
  expect((await at('west.localhost').ask('/')).status).toBe(200)
  expect((await fetch(`${server.url}/ready`)).status).toBe(200)
  expect(server.said()).toMatch(/a lab could not be opened; the others are not concerned.*broken/)
  for (const name of ['nowhere.localhost', 'localhost', '127.0.0.1', 'west.elsewhere.example', 'a.west.localhost']) {
    const { status, text } = await at(name).ask('/')
    expect([status, text], name).toEqual([404, expect.stringMatching(/^There is no lab at this address/)])
    expect((await at(name).ask('/api/me')).status).toBe(404)
    expect(await at(name).socket('/sync/board', '')).toBe(404)
  }
  // One that is made while the server runs is there at once.
  expect((await runStart(['found', 'south', 'South wing', '--labs', labs])).code).toBe(0)
  expect((await at('south.localhost').ask('/api/me')).status).toBe(200)
  expect((await runStart(['found', 'south', 'South wing', '--labs', labs])).stderr).toContain('already')
  await within(server.stop())
})

test('a lab goes to rest when nobody is there, lets errands in, and is there again with sessions and edits', async () => {
  const { server, labs } = await installation(['--rest', '1'])
  const west = underName(server.url, 'west.localhost')
  const cookie = await enterAs(west, 'manager')
  const isOpen = () => existsSync(join(labs, 'west', 'running.json'))
  expect(isOpen()).toBe(true)
  const calendar = await west.ask('/api/calendar-address', { method: 'POST', cookie, body: { isWanted: true } })
  const address = new URL(JSON.parse(calendar.text).link).pathname
  await expect.poll(isOpen).toBe(false)
  // At rest it is nobody's: an errand opens it by itself.
  const file = join(freshFolder(), 'west.talus')
  expect((await runStart(['backup', file, '--data', join(labs, 'west')])).stdout).not.toContain('while it runs')
  expect(JSON.parse((await west.ask('/api/me', { cookie })).text).role).toBe('manager')
  expect((await west.ask(address)).status).toBe(200)
  expect((await within(server.stop())).code).toBe(0)
})

test('R8 a lab moves to a database and back while the others go on; there, any of several processes has it, and is followed by another', async () => {
  const postgres = await startPostgres()
  try {
    const url = await postgres.database()
    const env = { TALUS_STORE: url, TALUS_HOST: '127.0.0.1' }
    const { server: one, labs } = await installation(['--rest', '2'], env)
    const two = await startServer({ data: null, args: ['--labs', labs, '--rest', '2'], env })
    const data = join(labs, 'west')
    const at = (server: RunningServer) => underName(server.url, 'west.localhost')
    const cookie = await enterAs(at(one), 'manager')
    const boardAt = (server: RunningServer) => openBoard(server.url, { cookie: () => cookie }, at(server).host)
    const rename = (board: LiveClient, name: string) => board.act({ kind: 'setLab', patch: { name } })
    const nameOf = (board: LiveClient) => board.records().lab.get('lab')?.name

    const inFile = await boardAt(one)
    expect(await rename(inFile, 'In a file')).toBeNull()
    expect((await runStart(['move', url, '--data', data], env)).stderr).toContain('Another Talus is running')
    inFile.close()
    const resting = () => existsSync(join(data, 'running.json'))
    await expect.poll(resting).toBe(false)
    expect((await runStart(['move', url, '--data', data], env)).stdout).toMatch(
      /^All \d+ rows of the lab are in the database/,
    )
    const schemas = "SELECT schema_name AS name FROM information_schema.schemata WHERE schema_name LIKE 'talus%'"
    expect(await postgres.query(url, schemas)).toEqual([{ name: 'talus_lab_west' }])

    // Whoever is asked first has it; the other hands on, and they see each other.
    const here = await boardAt(one)
    const there = await boardAt(two)
    expect([nameOf(here), nameOf(there)]).toEqual(['In a file', 'In a file'])
    expect(await rename(there, 'In a database')).toBeNull()
    await within(here.until(({ lab }) => lab.get('lab')?.name === 'In a database'))
    // The other lab is in its folder still, and at work.
    expect((await underName(one.url, 'east.localhost').ask('/api/me')).status).toBe(200)

    await within(one.kill())
    let after: LiveClient | null = null
    await expect
      .poll(async () => {
        after = await boardAt(two).catch(() => null)
        return after && nameOf(after)
      })
      .toBe('In a database')
    const last = after as LiveClient | null
    expect(last && (await rename(last, 'After the other was killed'))).toBeNull()
    last?.close()
    await expect
      .poll(async () => (await runStart(['move', 'libsql', '--data', data], env)).stdout, { timeout: 120_000 })
      .toContain('what was there before is kept in the schema talus_lab_west_until_')
    expect(nameOf(await boardAt(two))).toBe('After the other was killed')
    expect(await runStart(['labs', '--labs', labs], env)).toMatchObject({
      stdout: expect.stringMatching(/^west .*in its folder/m),
    })
    await within(two.stop())
  } finally {
    await postgres.stop('immediate')
  }
})
