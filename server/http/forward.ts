// A process that stands by hands everything on to the one that has the lab, calls and sockets alike, so that whoever stands
// in front of several may choose any of them. What is handed on says so: it is not handed on twice, and the process that
// has the lab checks the name it was asked for by itself.
import { request as ask, type IncomingHttpHeaders, type IncomingMessage, type ServerResponse } from 'node:http'
import type { Duplex } from 'node:stream'
import { clientOf, HANDED_ON, type IsProxy, type Whence } from './address.ts'
import { refuseUpgrade } from './sockets.ts'

const CONNECT_MS = 5_000

/** Hands a call on; `failed` answers when the other process cannot be reached. */
export function forwardCall(
  to: URL,
  request: IncomingMessage,
  response: ServerResponse,
  headers: IncomingHttpHeaders,
  failed: () => void,
): void {
  const there = ask(to, { method: request.method ?? 'GET', headers, timeout: CONNECT_MS })
  there.on('socket', (socket) => {
    // One that was used before is connected already.
    if (socket.connecting) socket.once('connect', () => there.setTimeout(0))
    else there.setTimeout(0)
  })
  there.on('timeout', () => there.destroy(new Error('no connection')))
  there.on('response', (answer) => {
    response.writeHead(answer.statusCode ?? 502, answer.headers)
    answer.pipe(response)
    answer.on('error', () => response.destroy())
  })
  there.on('error', () => {
    if (response.headersSent) response.destroy()
    else failed()
  })
  response.on('close', () => there.destroy())
  request.pipe(there)
}

/** Hands a socket on. */
export function forwardUpgrade(
  to: URL,
  request: IncomingMessage,
  socket: Duplex,
  head: Buffer,
  headers: IncomingHttpHeaders,
): void {
  const there = ask(to, { headers, timeout: CONNECT_MS })
  there.on('timeout', () => there.destroy(new Error('no connection')))
  there.on('error', () => refuseUpgrade(socket, 503))
  there.on('response', (answer) => {
    answer.resume()
    refuseUpgrade(socket, answer.statusCode ?? 503)
  })
  there.on('upgrade', (answer, other, otherHead) => {
    const lines = Object.entries(answer.headers).map(([name, value]) => `${name}: ${value}\r\n`)
    socket.write(`HTTP/1.1 101 Switching Protocols\r\n${lines.join('')}\r\n`)
    socket.write(otherHead)
    other.write(head)
    other.setTimeout(0)
    for (const [one, another] of [
      [socket, other],
      [other, socket],
    ] as const) {
      one.pipe(another)
      one.on('error', () => another.destroy())
      one.on('close', () => another.destroy())
    }
  })
  there.end()
}

/** The headers to hand on: with where the request came from, for a process that counts this one among its proxies. */
export function headersOn(request: IncomingMessage, { isSecure }: Whence, isProxy: IsProxy): IncomingHttpHeaders {
  return {
    ...request.headers,
    [HANDED_ON]: '1',
    'x-forwarded-for': clientOf(request, isProxy),
    'x-forwarded-proto': isSecure ? 'https' : 'http',
    'x-forwarded-host': request.headers['x-forwarded-host'] ?? request.headers.host ?? '',
  }
}
