import { createServer } from 'node:http'
import type { AddressInfo, Socket as TcpSocket } from 'node:net'
import { afterEach, expect, it } from 'vitest'
import { WebSocket, WebSocketServer } from 'ws'
import { CLOSE } from '../../../server/sync/socket.ts'
import { endBroken, wsSocket } from '../../../server/sync/ws-socket.ts'
import { systemClock } from '../../../server/system-world.ts'

const FLOOD_BYTES = 64 * 1024 * 1024
const closing: (() => void)[] = []
afterEach(() => {
  for (const close of closing.splice(0)) close()
})

/** A socket to a server that closes each as bad at its first message; what was read of it is counted. */
async function toBad() {
  const http = createServer().listen(0, '127.0.0.1')
  await new Promise((next) => http.once('listening', next))
  const server = new WebSocketServer({ server: http, maxPayload: 1024 })
  const lines: { heard: number; tcp: TcpSocket }[] = []
  server.on('connection', (ws) => {
    const line = { heard: 0, tcp: (ws as unknown as { readonly _socket: TcpSocket })._socket }
    lines.push(line)
    ws.on('error', () => endBroken(ws))
    const socket = wsSocket(ws, systemClock)
    socket.onMessage(() => {
      line.heard++
      socket.close(CLOSE.badMessage, 'bad-message')
    })
  })
  const client = new WebSocket(`ws://127.0.0.1:${(http.address() as AddressInfo).port}`)
  client.on('error', () => {})
  await new Promise((next) => client.once('open', next))
  closing.push(() => {
    client.terminate()
    server.close()
    http.close()
  })
  return { client, lines, closed: new Promise<number>((done) => client.once('close', done)) }
}

for (const [what, first] of [
  ['a bad message', new Uint8Array(10)],
  ['a frame that breaks the protocol', new Uint8Array(2000)],
] as const)
  it(`whoever sent ${what} is told so, and what they send on is not read`, async () => {
    const { client, lines, closed } = await toBad()
    client.send(first)
    const flood = Buffer.alloc(FLOOD_BYTES / 64)
    const raw = (client as unknown as { readonly _socket: TcpSocket })._socket
    for (let n = 0; n < 64 && !raw.destroyed; n++) raw.write(flood)
    expect(await closed).toBe(first.length > 1024 ? 1009 : CLOSE.badMessage)
    await new Promise((next) => setTimeout(next, 100))
    const [line] = lines
    // A part or two may have come with the first.
    expect(line?.tcp.bytesRead).toBeLessThan(FLOOD_BYTES / 8)
    expect(line?.heard).toBeLessThanOrEqual(2)
  })
