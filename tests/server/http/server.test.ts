// The port as a stranger meets it: headers, sizes, origins, and what pages and sockets are told about who is here.
import { get } from 'node:http'
import type { AddressInfo } from 'node:net'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import WebSocket from 'ws'
import { Devices } from '#lib/words'
import { hostsOf, proxiesOf } from '../../../server/http/address.ts'
import { makeApi } from '../../../server/http/api.ts'
import type { LabAtPort } from '../../../server/http/lab-at-port.ts'
import { type HttpParts, makeHttp } from '../../../server/http/server.ts'
import { type Arrival, makeSockets } from '../../../server/http/sockets.ts'
import { photoFolder } from '../../../server/photos/folder.ts'
import { aDoor, type DoorKit, ids } from '../../kit/door.ts'

const json = { 'content-type': 'application/json' }
const write = { ...json, 'x-talus': '1' }

let kit: DoorKit
let parts: HttpParts
let url: string
let end: () => Promise<void>
let isOpen = true
const arrivals: Arrival[] = []
const remarks: string[] = []

beforeAll(async () => {
  kit = await aDoor({ isDemo: true })
  const { door, clock } = kit
  const readings = {
    archive: async ({ role }: { role: string }) => (role === 'wall' ? null : { items: [] }),
    history: async () => ({ items: [] }),
    log: async () => null,
  }
  const api = makeApi({
    ...{ door, readings, clock, build: 'b1' },
    fetchCalendar: async (address) => ({ text: `BEGIN:VCALENDAR ${address}` }),
  })
  const calendar = (token: string) => door.calendars.whose(token)?.name ?? null
  const outlets = (who: { readonly role: string }, name: string) => {
    if (name === 'none.csv') return null
    if (who.role !== 'manager') return 'not-allowed' as const
    return { name: 'a.csv', type: 'text/csv', parts: name === 'broken.csv' ? halfAFile() : wholeFile() }
  }
  const sockets = makeSockets()
  const photos = photoFolder({ folder: join(tmpdir(), 'talus-no-photos'), clock })
  const lab: LabAtPort = {
    labId: () => 'demo-01hzzzzzzzzzzzzzzzzzzzzzzz',
    isHost: hostsOf([]),
    open: () => (isOpen ? { door, api, outlets, calendar, photos, mayLook: async () => false } : null),
    elsewhere: () => null,
    connect: (socket, arrival) => {
      arrivals.push(arrival)
      socket.send('here')
    },
    use: () => () => {},
  }
  parts = {
    build: 'b1',
    isDev: false,
    prefix: '',
    isProxy: proxiesOf('loopback'),
    labFor: async () => lab,
    isOwnName: hostsOf([]),
    errand: async () => null,
    isReady: () => isOpen,
    arePhotosWell: () => true,
    pages: {
      serve: async (request, response) => {
        if (request.url === '/broken') throw new Error('a page that fails')
        response.end(JSON.stringify(request.headers))
      },
      upgrade: () => false,
      close: async () => {},
    },
    sockets,
    clock,
    log: (_, what) => remarks.push(what),
  }
  const server = makeHttp(parts)
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  end = async () => {
    server.close()
    await sockets.close(50)
    server.closeAllConnections()
  }
})
afterAll(() => end())

/** Signs in as somebody of the demo; answers the cookie. */
async function cookieOf(personId: string, headers: Record<string, string> = {}): Promise<string> {
  const answer = await fetch(`${url}/api/demo`, {
    method: 'POST',
    headers: { ...write, ...headers },
    body: JSON.stringify({ personId }),
  })
  expect(answer.status).toBe(200)
  return answer.headers.get('set-cookie') ?? ''
}

describe('a calendar', () => {
  const ask = (cookie: string, isWanted: boolean) =>
    fetch(`${url}/api/calendar-address`, {
      ...{ method: 'POST', headers: { ...write, cookie: pair(cookie) }, body: JSON.stringify({ isWanted }) },
    })
  const madeBy = async (cookie: string) => ((await (await ask(cookie, true)).json()) as { link: string }).link

  test('is read by whoever has the address, until it is made anew or taken back', async () => {
    const cookie = await cookieOf(ids.volunteer)
    const first = await madeBy(cookie)
    const answer = await fetch(first)
    expect([await answer.text(), answer.headers.get('content-type')]).toEqual(['Bea', 'text/calendar; charset=utf-8'])
    expect((await fetch(first, { method: 'HEAD' })).headers.get('content-length')).toBe('3')
    const second = await madeBy(cookie)
    expect([(await fetch(first)).status, (await fetch(second)).status]).toEqual([404, 200])
    // The store knows it by its hash alone.
    expect(JSON.stringify(await kit.tables.list('calendar', 0))).not.toContain(second.split('/').at(-1)?.slice(0, 43))
    expect(await (await kit.reopen()).calendars.whose(second.split('/').at(-1)?.slice(0, 43) ?? '')).not.toBeNull()
    await ask(cookie, false)
    expect((await fetch(second)).status).toBe(404)
  })

  test('is nobody’s under any other address, nor when its person has left, nor made on a shared tablet or the Wall', async () => {
    for (const token of ['x', 'x'.repeat(43), '..%2f..%2fapi'])
      expect((await fetch(`${url}/api/calendar/${token}.ics`)).status).toBe(404)
    expect((await ask(await cookieOf('wall'), true)).status).toBe(403)
    const link = await madeBy(await cookieOf(ids.researcher))
    expect((await fetch(link)).status).toBe(200)
    kit.change(ids.researcher, { isActive: false })
    expect((await fetch(link)).status).toBe(404)
    kit.change(ids.researcher, { isActive: true })
    expect((await fetch(link, { method: 'POST', headers: write })).status).toBe(404)
  })
})

describe('one’s devices', () => {
  const ask = (cookie: string, body?: unknown) =>
    fetch(`${url}/api/devices`, {
      method: body === undefined ? 'GET' : 'POST',
      headers: { ...write, cookie: pair(cookie) },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
  const listed = async (answer: Response) => Devices.parse(await answer.json()).devices
  const iPhone =
    'Mozilla/5.0 (iPhone; CPU iPhone OS 17_0 like Mac OS X) AppleWebKit/605.1.15 Mobile/15E148 Safari/604.1'
  const linux = 'Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/120.0 Safari/537.36'

  test('are listed to oneself and signed out one by one, all but this, or all by the manager', async () => {
    const [desk, phone] = [
      await cookieOf(ids.preparator, { 'user-agent': linux }),
      await cookieOf(ids.preparator, { 'user-agent': iPhone }),
    ]
    const answer = await ask(desk)
    // Opened by its address it is a file, and no page.
    expect(answer.headers.get('content-disposition')).toMatch(/^attachment/)
    const seen = await listed(answer)
    expect(seen.map(({ kind, isHere }) => [kind, isHere])).toEqual(
      expect.arrayContaining([
        ['computer', true],
        ['phone', false],
      ]),
    )
    const lost = seen.find(({ kind }) => kind === 'phone')?.id
    // Another's name for it ends nothing.
    await ask(await cookieOf(ids.volunteer), { end: lost })
    expect((await ask(phone)).status).toBe(200)
    expect((await listed(await ask(desk, { end: lost }))).map(({ isHere }) => isHere)).toEqual([true])
    expect((await ask(phone)).status).toBe(401)
    const third = await cookieOf(ids.preparator)
    await ask(third, { endOthers: true })
    expect([(await ask(desk)).status, (await ask(third)).status]).toEqual([401, 200])
    expect((await ask(await cookieOf(ids.volunteer), { endAllOf: ids.preparator })).status).toBe(403)
    expect((await ask(await cookieOf(ids.manager), { endAllOf: ids.preparator })).status).toBe(200)
    expect((await ask(third)).status).toBe(401)
  })

  test('are nothing for the Wall, nor for whoever sits at a shared tablet', async () => {
    expect((await ask(await cookieOf('wall'))).status).toBe(403)
    const own = await cookieOf(ids.preparator)
    const turned = await fetch(`${url}/api/bench-tablet`, {
      ...{ method: 'POST', headers: { ...write, cookie: pair(own) }, body: JSON.stringify({ isBench: true }) },
    })
    const shared = turned.headers.get('set-cookie') ?? ''
    expect([(await ask(shared)).status, (await ask(shared, { endOthers: true })).status]).toEqual([403, 403])
  })
})

async function* wholeFile() {
  yield 'one\n'
  yield 'two\n'
}

async function* halfAFile() {
  yield 'one\n'
  throw new Error('the disk')
}

describe('a file', () => {
  test('is sent to whom it may be, as something to be kept and not shown', async () => {
    const manager = { cookie: pair(await cookieOf(ids.manager)) }
    const answer = await fetch(`${url}/api/out/a.csv`, { headers: manager })
    expect(await answer.text()).toBe('one\ntwo\n')
    expect(Object.fromEntries(answer.headers)).toMatchObject({
      'content-disposition': 'attachment; filename="a.csv"',
      'content-type': 'text/csv',
      'cache-control': 'no-store',
    })
    const volunteer = { cookie: pair(await cookieOf(ids.volunteer)) }
    const statuses = [{}, volunteer].map(async (headers) => (await fetch(`${url}/api/out/a.csv`, { headers })).status)
    expect(await Promise.all(statuses)).toEqual([401, 403])
    expect((await fetch(`${url}/api/out/none.csv`, { headers: manager })).status).toBe(404)
    expect((await fetch(`${url}/api/out/a.csv`, { headers: { ...manager, ...write }, method: 'POST' })).status).toBe(
      403,
    )
  })

  test('that breaks off is a failure for whoever waits for it, and not a short file', async () => {
    const headers = { cookie: pair(await cookieOf(ids.manager)) }
    await expect(fetch(`${url}/api/out/broken.csv`, { headers }).then((answer) => answer.text())).rejects.toThrow()
    expect(remarks).toContain('a file broke off')
  })
})

const pair = (cookie: string) => cookie.split(';')[0] ?? ''

describe('a page', () => {
  test('gets a fresh nonce each time, and headers that keep it to itself', async () => {
    const [one, two] = await Promise.all([fetch(`${url}/`), fetch(`${url}/`)])
    const policy = one.headers.get('content-security-policy') ?? ''
    expect(policy).toMatch(/script-src 'self' 'nonce-[\w+/=]{24}' 'strict-dynamic';/)
    expect(policy).not.toContain('unsafe')
    expect(policy).not.toBe(two.headers.get('content-security-policy'))
    expect(Object.fromEntries(one.headers)).toMatchObject({
      'x-content-type-options': 'nosniff',
      'x-frame-options': 'DENY',
      'referrer-policy': 'same-origin',
    })
    expect(one.headers.get('x-powered-by')).toBeNull()
    const seen = (await one.json()) as Record<string, string>
    expect(seen['content-security-policy']).toBe(policy)
  })

  test('is told who is here by us alone', async () => {
    const forged = { 'x-talus-session': '{"role":"manager"}', 'x-nonce': 'mine', 'x-middleware-subrequest': 'x' }
    const told = (await (await fetch(`${url}/`, { headers: forged })).json()) as Record<string, string>
    expect(JSON.parse(told['x-talus-session'] ?? '')).toMatchObject({ person: null, role: null, isDemo: true })
    expect(told['x-nonce']).not.toBe('mine')
    expect(told['x-middleware-subrequest']).toBeUndefined()
    const headers = { cookie: pair(await cookieOf('bea')) }
    const asBea = (await (await fetch(`${url}/`, { headers })).json()) as Record<string, string>
    expect(JSON.parse(asBea['x-talus-session'] ?? '')).toMatchObject({
      person: { id: 'bea', name: 'Bea', familyName: 'Ødegård' },
      role: 'volunteer',
    })
  })

  test('that fails is answered and logged, and the next one is served', async () => {
    expect((await fetch(`${url}/broken`)).status).toBe(500)
    expect(remarks).toContain('request failed')
    expect((await fetch(`${url}/`)).status).toBe(200)
  })

  test('is only ever read', async () => {
    expect((await fetch(`${url}/`, { method: 'POST' })).status).toBe(403)
  })
})

describe('a call', () => {
  test('that writes needs our header, our origin, JSON, and little of it', async () => {
    const post = (headers: Record<string, string>, body = '{"personId":"bea"}') =>
      fetch(`${url}/api/demo`, { method: 'POST', headers, body })
    expect((await post(json)).status).toBe(403)
    expect((await post({ ...write, origin: 'http://evil.example' })).status).toBe(403)
    expect((await post({ ...write, origin: url })).status).toBe(200)
    expect((await post({ 'x-talus': '1', 'content-type': 'text/plain' })).status).toBe(415)
    expect((await post(write, '{"personId":')).status).toBe(400)
    expect((await post(write, '{"personId":"bea","more":1}')).status).toBe(400)
    expect((await post(write, JSON.stringify({ personId: 'x'.repeat(20_000) }))).status).toBe(413)
  })

  test('that is not known is refused, also under the names every object has', async () => {
    for (const path of ['/api/nothing', '/api/constructor', '/api/__proto__', '/api/']) {
      expect((await fetch(url + path)).status).toBe(404)
    }
  })

  test('sets a cookie that scripts and other sites cannot use, and Secure behind https', async () => {
    expect(await cookieOf('bea')).toMatch(
      /^talus-zzzzzzzzzzzz=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax; Max-Age=\d+$/,
    )
    const secure = await cookieOf('bea', { 'x-forwarded-proto': 'https' })
    expect(secure).toMatch(/^__Host-talus-zzzzzzzzzzzz=.*; Secure$/)
    const answer = await fetch(`${url}/api/me`, { headers: { 'x-forwarded-proto': 'https' } })
    expect(answer.headers.get('strict-transport-security')).not.toBeNull()
  })

  test('says who is here, and signs out', async () => {
    const headers = { cookie: pair(await cookieOf('bea')) }
    const me = await (await fetch(`${url}/api/me`, { headers })).json()
    expect(me).toMatchObject({ person: { id: 'bea' }, role: 'volunteer', lab: 'Yard', isDemo: true, build: 'b1' })
    const out = await fetch(`${url}/api/sign-out`, { method: 'POST', headers: { ...write, ...headers }, body: '{}' })
    expect(out.headers.get('set-cookie')).toContain('Max-Age=0')
    expect(await (await fetch(`${url}/api/me`, { headers })).json()).toMatchObject({ person: null, role: null })
  })

  test('lets managers alone invite others, and everybody their own further devices', async () => {
    const invite = async (as: string, personId: string) => {
      const headers = { ...write, cookie: pair(await cookieOf(as)) }
      return fetch(`${url}/api/invite`, { method: 'POST', headers, body: JSON.stringify({ personId }) })
    }
    expect((await invite('bea', 'odo')).status).toBe(403)
    expect((await invite('odo', 'bea')).status).toBe(403)
    expect((await invite('wall', 'bea')).status).toBe(403)
    expect((await invite('mara', 'nobody')).status).toBe(404)
    expect((await invite('bea', 'bea')).status).toBe(200)
    const { link } = (await (await invite('mara', 'ruth')).json()) as { link: string }
    expect(link).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/join#[\w-]{43}$/)
    const token = link.split('#')[1] ?? ''
    const join = () => fetch(`${url}/api/join`, { method: 'POST', headers: write, body: JSON.stringify({ token }) })
    expect(await (await join()).json()).toMatchObject({ person: { id: 'ruth' }, role: 'researcher' })
    expect((await join()).status).toBe(410)
  })

  test('for the wall link or a shared tablet needs the role', async () => {
    const post = async (as: string, path: string, body: object) => {
      const headers = { ...write, cookie: pair(await cookieOf(as)) }
      return (await fetch(url + path, { method: 'POST', headers, body: JSON.stringify(body) })).status
    }
    expect(await post('odo', '/api/wall-link', {})).toBe(403)
    expect(await post('mara', '/api/wall-link', {})).toBe(200)
    expect(await post('bea', '/api/bench-tablet', { isBench: true })).toBe(403)
    expect(await post('odo', '/api/bench-tablet', { isBench: true })).toBe(200)
    expect(await post('wall', '/api/pin', { pin: '1234' })).toBe(403)
    expect(await post('bea', '/api/pin', { pin: '12' })).toBe(400)
  })

  test('for the archive is refused to the wall and to strangers', async () => {
    const status = async (headers: Record<string, string>) =>
      (await fetch(`${url}/api/archive?q=x`, { headers })).status
    expect(await status({})).toBe(401)
    expect(await status({ cookie: pair(await cookieOf('wall')) })).toBe(403)
    expect(await status({ cookie: pair(await cookieOf('ruth')) })).toBe(200)
  })

  test('that comes too often waits, by address', async () => {
    const headers = { ...write, 'x-forwarded-for': '203.0.113.7' }
    const guess = () =>
      fetch(`${url}/api/join`, { method: 'POST', headers, body: JSON.stringify({ token: 'x'.repeat(43) }) })
    const statuses: number[] = []
    for (let n = 0; n < 70; n++) statuses.push((await guess()).status)
    expect(statuses.slice(0, 60).every((status) => status === 404)).toBe(true)
    expect(statuses.at(-1)).toBe(429)
    await cookieOf('bea')
  })

  test('that comes too often from a signed-in device leaves the others of its address alone', async () => {
    const headers = { ...write, 'x-forwarded-for': '203.0.113.8' }
    const [loud, quiet] = [pair(await cookieOf('bea', headers)), pair(await cookieOf('bea', headers))]
    const guess = async (cookie: string) => {
      const body = JSON.stringify({ personId: 'bea', pin: '0000' })
      return (await fetch(`${url}/api/switch`, { method: 'POST', headers: { ...headers, cookie }, body })).status
    }
    for (let n = 0; n < 60; n++) await guess(loud)
    expect(await guess(loud)).toBe(429)
    expect(await guess(quiet)).not.toBe(429)
  })

  test('and everything else waits while the lab is being restored, and health and readiness say so', async () => {
    isOpen = false
    try {
      expect((await fetch(`${url}/api/me`)).status).toBe(503)
      expect((await fetch(`${url}/`)).status).toBe(503)
      expect((await fetch(`${url}/ready`)).status).toBe(503)
      expect((await fetch(`${url}/health`)).status).toBe(200)
    } finally {
      isOpen = true
    }
    expect((await fetch(`${url}/ready`)).status).toBe(200)
  })
})

test('an address that nothing stands behind, or that climbs, is refused and no fault', async () => {
  const statusOf = (path: string) =>
    new Promise<number | undefined>((done) => {
      const { port } = new URL(url)
      get({ port, path, agent: false }, (response) => done(response.resume().statusCode))
    })
  for (const path of ['/%ff', '/sheet/%E0%A4%A', '/api/%ff', '/%', '//elsewhere/'])
    expect([path, await statusOf(path)]).toEqual([path, 400])
  for (const path of ['/api/photos/..%2f..%2ftalus.db', '/api/uploads/%2e%2e%2ftalus.db'])
    expect([path, await statusOf(path)]).toEqual([path, 404])
})

test('pages and sockets asked for too often are told to wait, each device by itself', async () => {
  const from = (address: string) => ({ headers: { 'x-forwarded-for': address } })
  for (let n = 0; n < 240; n++) await fetch(`${url}/`, from('203.0.113.9'))
  const slowed = await fetch(`${url}/`, from('203.0.113.9'))
  expect([slowed.status, Number(slowed.headers.get('retry-after')) > 0]).toEqual([429, true])
  expect(await slowed.text()).toContain('nothing was changed')
  expect((await fetch(`${url}/`, from('203.0.113.10'))).status).toBe(200)
  const cookie = pair(await cookieOf('bea'))
  const knock = () =>
    new Promise<number>((done) => {
      const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/board`, { headers: { cookie, origin: url } })
      socket.on('open', () => {
        socket.terminate()
        done(101)
      })
      socket.on('unexpected-response', (_request, { statusCode = 0 }) => done(statusCode))
      socket.on('error', () => {})
    })
  for (let n = 0; n < 200; n++) await knock()
  expect(await knock()).toBe(429)
}, 30_000)

describe('a socket', () => {
  /** Opens one; answers its first message, or the status it was refused with. */
  const open = (path: string, headers: Record<string, string>) =>
    new Promise<string | number>((done) => {
      const socket = new WebSocket(url.replace('http', 'ws') + path, { headers })
      socket.on('message', (data) => {
        socket.terminate()
        done(String(data))
      })
      socket.on('unexpected-response', (request, response) => {
        request.destroy()
        done(response.statusCode ?? 0)
      })
      socket.on('error', () => {})
    })

  test('opens for whoever is signed in, from our own pages', async () => {
    const cookie = pair(await cookieOf('bea'))
    expect(await open('/sync/board?epoch=e1', { cookie, origin: url })).toBe('here')
    const last = arrivals.at(-1)
    expect(last?.who).toEqual({ personId: ids.volunteer, name: 'Bea', role: 'volunteer' })
    expect([last?.path, last?.params.get('epoch')]).toEqual(['board', 'e1'])
    expect(await open('/sync/text/p1', { cookie, origin: url })).toBe('here')
    expect(arrivals.at(-1)?.path).toBe('text/p1')
  })

  test('is refused before the upgrade: elsewhere, unknown, signed out', async () => {
    const cookie = pair(await cookieOf('bea'))
    expect(await open('/sync/board', { cookie, origin: 'http://evil.example' })).toBe(403)
    expect(await open('/sync/board', { cookie })).toBe(403)
    expect(await open('/sync/board', { origin: url })).toBe(401)
    expect(await open('/sync/archive', { cookie, origin: url })).toBe(404)
    expect(await open('/sync/sheet/..%2fboard', { cookie, origin: url })).toBe(404)
    expect(await open('/elsewhere', { cookie, origin: url })).toBe(404)
  })

  test('that sends garbage in place of HTTP or frames ends itself alone', async () => {
    const { port } = new URL(url)
    await new Promise<void>((done) => {
      const raw = connect(Number(port), '127.0.0.1', () => raw.write('\x16\x03\x01 not http\r\n\r\n'))
      raw.on('close', () => done())
      raw.on('error', () => {})
      raw.resume()
    })
    const cookie = pair(await cookieOf('bea'))
    await new Promise<void>((done) => {
      const lines = [
        'GET /sync/board HTTP/1.1',
        `Host: 127.0.0.1:${port}`,
        `Origin: ${url}`,
        `Cookie: ${cookie}`,
        'Connection: Upgrade',
        'Upgrade: websocket',
        'Sec-WebSocket-Version: 13',
        'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
        '',
        '',
      ]
      const raw = connect(Number(port), '127.0.0.1', () => raw.write(lines.join('\r\n')))
      // A frame that claims more than anybody may send.
      raw.once('data', () => raw.write(Buffer.from([0x82, 0xff, 0x7f, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff])))
      raw.on('close', () => done())
      raw.on('error', () => {})
      raw.resume()
    })
    expect((await fetch(`${url}/health`)).status).toBe(200)
  })
})

describe('a name that somebody else pointed here', () => {
  /** The status a request under a name is answered with; for a socket that of its upgrade. */
  const status = (port: number, path: string, host: string, more: Record<string, string> = {}) =>
    new Promise<number>((done, fail) => {
      get({ port, path, headers: { host, ...more } }, (response) => {
        response.resume()
        done(response.statusCode ?? 0)
      }).on('error', fail)
    })

  test('reaches no page, call, console or socket, and health all the same', async () => {
    const server = makeHttp({ ...parts, isProxy: proxiesOf('') })
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
    const { port } = server.address() as AddressInfo
    try {
      for (const path of ['/', '/api/me', '/api/demo', '/console/backup', '/_next/static/x.js']) {
        expect(await status(port, path, `rebound.example:${port}`), path).toBe(421)
      }
      for (const host of [`127.0.0.1:${port}`, `localhost:${port}`]) expect(await status(port, '/', host)).toBe(200)
      expect(await status(port, '/health', 'rebound.example')).toBe(200)
      const origin = `http://rebound.example:${port}`
      const upgrade = { connection: 'upgrade', upgrade: 'websocket', origin, 'sec-websocket-version': '13' }
      expect(await status(port, '/sync/board', `rebound.example:${port}`, upgrade)).toBe(421)
    } finally {
      server.close()
      server.closeAllConnections()
    }
  })
})
