// A process that stands by hands calls and sockets on to the one that has the lab, once, and lets nobody in by a name that
// the lab does not go by.
import { createServer, get, type IncomingMessage, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, test } from 'vitest'
import WebSocket, { WebSocketServer } from 'ws'
import { hostsOf, isForUs, proxiesOf, whenceOf } from '../../../server/http/address.ts'
import { type HttpParts, makeHttp } from '../../../server/http/server.ts'

const isProxy = proxiesOf('loopback')
const servers: Server[] = []
/** Address of the process that has the lab, while there is one. */
let owner: string | null = null
let standingBy = ''
const handedOn: IncomingMessage[] = []

async function listen(server: Server): Promise<string> {
  servers.push(server)
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}

/** What stands behind: says what it got. */
function echo(): Server {
  const sockets = new WebSocketServer({ noServer: true })
  const server = createServer((request, response) => {
    handedOn.push(request)
    let body = ''
    request.setEncoding('utf8')
    request.on('data', (part) => {
      body += part
    })
    request.on('end', () => {
      response.writeHead(207, { 'x-said': 'yes', 'set-cookie': ['a=1', 'b=2'] })
      response.end(`${request.method} ${request.url} ${body}`)
    })
  })
  server.on('upgrade', (request, socket, head) => {
    if (request.url === '/sync/office') {
      socket.end('HTTP/1.1 401 Unauthorized\r\nConnection: close\r\nContent-Length: 0\r\n\r\n')
      return
    }
    sockets.handleUpgrade(request, socket, head, (open) => open.on('message', (data) => open.send(`heard ${data}`)))
  })
  return server
}

beforeAll(async () => {
  owner = await listen(echo())
  // Nothing else of it is asked while it stands by.
  const lab = { isHost: hostsOf([]), open: () => null, elsewhere: () => owner, use: () => () => {} }
  const parts = {
    ...{ build: 'b1', isDev: false, prefix: '', isProxy, labFor: async () => lab, isOwnName: hostsOf([]) },
    ...{ errand: async () => null, isReady: () => owner !== null, arePhotosWell: () => true, log: () => {} },
  } as unknown as HttpParts
  standingBy = await listen(makeHttp(parts))
})
afterAll(() => {
  for (const server of servers) {
    server.close()
    server.closeAllConnections()
  }
})

test('a call goes on with its body and comes back with its status, headers and cookies', async () => {
  const answer = await fetch(`${standingBy}/api/x?q=1`, { method: 'PUT', body: 'é'.repeat(100_000) })
  expect([answer.status, answer.headers.get('x-said'), answer.headers.getSetCookie()]).toEqual([
    207,
    'yes',
    ['a=1', 'b=2'],
  ])
  expect(await answer.text()).toBe(`PUT /api/x?q=1 ${'é'.repeat(100_000)}`)
})

test('many calls one after the other leave nothing behind on the connections they share', async () => {
  const warnings: string[] = []
  const hear = (warning: Error) => void warnings.push(warning.message)
  process.on('warning', hear)
  for (let call = 0; call < 30; call++) await (await fetch(`${standingBy}/api/x`)).text()
  await new Promise((done) => setTimeout(done, 10))
  process.off('warning', hear)
  expect(warnings).toEqual([])
})

test('it says where it came from, as a proxy in front of it said', async () => {
  await fetch(`${standingBy}/api/x`, { headers: { 'x-forwarded-for': '203.0.113.7', 'x-forwarded-proto': 'https' } })
  expect(handedOn.at(-1)?.headers).toMatchObject({ 'x-forwarded-for': '203.0.113.7', 'x-forwarded-proto': 'https' })
  expect(handedOn.at(-1)?.headers['x-talus-handed-on']).toBe('1')
})

test('a socket goes on both ways, and a no is a no', async () => {
  const socket = new WebSocket(`${standingBy.replace('http', 'ws')}/sync/board`)
  const heard = new Promise((done) => socket.once('message', (data) => done(String(data))))
  await new Promise((done) => socket.once('open', done))
  socket.send('hello')
  expect(await heard).toBe('heard hello')
  socket.terminate()
  const refused = new WebSocket(`${standingBy.replace('http', 'ws')}/sync/office`)
  expect(await new Promise((done) => refused.once('error', (error) => done(error.message)))).toContain('401')
})

test('health and console are each process’s own, and nothing is handed on twice', async () => {
  const before = handedOn.length
  expect(await (await fetch(`${standingBy}/health`)).json()).toEqual({ health: 'up', build: 'b1' })
  expect((await fetch(`${standingBy}/ready`)).status).toBe(200)
  expect((await fetch(`${standingBy}/console/backup`, { method: 'POST' })).status).toBe(404)
  expect((await fetch(`${standingBy}/api/x`, { headers: { 'x-talus-handed-on': '1' } })).status).toBe(503)
  expect(handedOn.length).toBe(before)
})

test('a proxy vouches for the name it passes on, another process of ours does not', async () => {
  const asked = await new Promise<IncomingMessage>((done) => {
    const server = createServer((request, response) => {
      response.end()
      done(request)
    })
    void listen(server).then((url) => get(url, { headers: { host: 'evil.example' } }, (answer) => answer.resume()))
  })
  const isLabs = () => isForUs(asked, whenceOf(asked, isProxy), isProxy, hostsOf([]))
  expect(isLabs()).toBe(true)
  asked.headers['x-talus-handed-on'] = '1'
  expect(isLabs()).toBe(false)
})

test('while nobody has the lab, or it cannot be reached, the answer is: not now', async () => {
  const former = owner
  owner = 'http://127.0.0.1:9'
  expect((await fetch(`${standingBy}/api/x`)).status).toBe(503)
  owner = null
  expect((await fetch(`${standingBy}/api/x`)).status).toBe(503)
  expect((await fetch(`${standingBy}/ready`)).status).toBe(503)
  owner = former
})
