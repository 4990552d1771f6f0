// Sockets of the board: who may open one, and how all of them end. An upgraded socket is no longer Next's or the http
// server's business: `close()` waits for it for ever and `closeAllConnections()` does not see it, so all are kept here.
import type { IncomingMessage } from 'node:http'
import type { Duplex } from 'node:stream'
import { type WebSocket, WebSocketServer } from 'ws'
import { type Home, isHome, PieceId } from '#lib/words'
import type { Identity, Session } from '../door/index.ts'
import { endBroken } from '../sync/ws-socket.ts'

/** Largest message, bytes: the longest note is far below it. */
const MESSAGE_MAX = 1_048_576
/** Sockets in all: memory for idle ones is bounded. */
const SOCKETS_MAX = 20_000
const GOING_AWAY = 1001

/** What a socket is opened for: a home of records, or a piece's text typed together. */
export type SyncPath = Home | `text/${string}`

/** Somebody who is in, on the way to a document. */
export interface Arrival {
  readonly session: Session
  readonly who: Identity
  readonly path: SyncPath
  readonly params: URLSearchParams
  /** Hands the open socket to the lab that it is for. */
  readonly enter: (socket: WebSocket) => void
}

/** What a path under /sync/ names; null for anything else. */
export function syncPathOf(pathname: string): SyncPath | null {
  if (!pathname.startsWith('/sync/')) return null
  const name = pathname.slice('/sync/'.length)
  if (name.startsWith('text/')) {
    const piece = PieceId.safeParse(name.slice('text/'.length))
    return piece.success ? `text/${piece.data}` : null
  }
  return isHome(name) && name !== 'archive' ? name : null
}

export interface Sockets {
  /** Finishes the handshake and hands the socket over. */
  readonly accept: (request: IncomingMessage, socket: Duplex, head: Buffer, arrival: Arrival) => void
  /** Asks all to go and cuts off those that are still there after the grace period. */
  readonly close: (graceMs: number) => Promise<void>
}

/** Keeps the sockets; each is handed over once it is open. */
export function makeSockets(): Sockets {
  const server = new WebSocketServer({ noServer: true, maxPayload: MESSAGE_MAX, perMessageDeflate: false })
  return {
    accept(request, socket, head, arrival) {
      if (server.clients.size >= SOCKETS_MAX) return refuseUpgrade(socket, 503)
      server.handleUpgrade(request, socket, head, (open) => {
        // A frame that breaks the protocol ends its own socket and nothing else.
        open.on('error', () => endBroken(open))
        arrival.enter(open)
      })
    },
    async close(graceMs) {
      for (const client of server.clients) client.close(GOING_AWAY)
      const deadline = Date.now() + graceMs
      while (server.clients.size > 0 && Date.now() < deadline) await new Promise((next) => setTimeout(next, 20))
      for (const client of server.clients) client.terminate()
      server.close()
    },
  }
}

const reasons: Record<number, string> = {
  400: 'Bad Request',
  401: 'Unauthorized',
  403: 'Forbidden',
  404: 'Not Found',
  421: 'Misdirected Request',
  429: 'Too Many Requests',
  503: 'Service Unavailable',
}

/** Answers an upgrade with a plain no. */
export function refuseUpgrade(socket: Duplex, status: number): void {
  socket.on('error', () => socket.destroy())
  socket.end(`HTTP/1.1 ${status} ${reasons[status] ?? 'No'}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`)
}
