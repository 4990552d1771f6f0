// A ws socket as the rooms want it. A frame that goes to many readers gets its WebSocket header once; ws would make it
// anew, and run its whole sending path, for each of them. This relies on two facts of ws 8: without compression it
// writes each message to the TCP socket at once and whole, and a server's frames carry no mask.
import type { Socket as TcpSocket } from 'node:net'
import type { RawData, WebSocket } from 'ws'
import type { Clock } from '../world.ts'
import { CLOSE, type Socket } from './socket.ts'

/** A peer that answers no ping in this time is gone, whatever TCP believes. */
const PING_MS = 30_000
/** A goodbye that is not answered by then is not waited for. */
const CLOSE_GRACE_MS = 2_000
/** A bad client has so long to take its reason; nothing more is read from it meanwhile. */
const BAD_GRACE_MS = 1_000
const FIN_BINARY = 0x82

/** ws keeps the connection that it was given here; what writes whole frames of its own must write them there. */
const tcpOf = (ws: WebSocket) => (ws as unknown as { readonly _socket: TcpSocket })._socket

let lastFrame: Uint8Array | null = null
let lastWire: Buffer | null = null

/** Takes over a socket that has just been opened. */
export function wsSocket(ws: WebSocket, clock: Clock): Socket {
  const tcp = tcpOf(ws)
  let isAlive = true
  let onMessage: (bytes: Uint8Array) => void = () => {}
  let onClose: () => void = () => {}
  let cancelPing = () => {}
  ws.binaryType = 'nodebuffer'
  const ping = () => {
    cancelPing = clock.after(PING_MS, () => {
      if (!isAlive) {
        ws.terminate()
        return
      }
      isAlive = false
      if (ws.readyState === ws.OPEN) ws.ping()
      ping()
    })
  }
  ping()
  // Whoever opened it ends it after a bad frame; without a listener the error would end the process.
  ws.on('error', () => {})
  ws.on('pong', () => {
    isAlive = true
  })
  ws.on('message', (data: RawData, isBinary: boolean) => {
    isAlive = true
    if (!isBinary || !Buffer.isBuffer(data)) ws.close(1003, 'binary frames only')
    else onMessage(data)
  })
  ws.on('close', () => {
    cancelPing()
    onClose()
  })
  return {
    send: (frame) => {
      if (ws.readyState !== ws.OPEN || tcp.destroyed) return
      tcp.write(wireOf(frame))
    },
    close: (code, reason) => {
      ws.close(code, reason)
      const isBad = code === CLOSE.badMessage || code === CLOSE.tooMuch
      if (isBad) stopReading(ws, tcp)
      clock.after(isBad ? BAD_GRACE_MS : CLOSE_GRACE_MS, () => ws.terminate())
    },
    drop: () => ws.terminate(),
    unsentBytes: () => tcp.writableLength,
    onMessage: (listener) => {
      onMessage = listener
    },
    onClose: (listener) => {
      onClose = listener
    },
  }
}

/**
 * Reads nothing more: what a bad client goes on sending stays with it, where reading only to throw it away would take time
 * from the others. The goodbye that was written before still arrives, and then our end of the line.
 */
function stopReading(ws: WebSocket, tcp: TcpSocket): void {
  ws.pause()
  tcp.end()
}

/** Ends a socket that broke the protocol; ws has said why by a code already. Cut at once, a sender in full flow would never read it. */
export function endBroken(ws: WebSocket): void {
  // ws begins to read on in the next step, to throw it away.
  process.nextTick(() => stopReading(ws, tcpOf(ws)))
  setTimeout(() => ws.terminate(), BAD_GRACE_MS).unref()
}

/** The frame with its header, as it goes over the wire; kept for the next reader of the same frame. */
function wireOf(frame: Uint8Array): Buffer {
  if (frame === lastFrame && lastWire) return lastWire
  const { length } = frame
  const head = length < 126 ? 2 : length < 65_536 ? 4 : 10
  const wire = Buffer.allocUnsafe(head + length)
  wire[0] = FIN_BINARY
  if (head === 2) wire[1] = length
  else if (head === 4) {
    wire[1] = 126
    wire.writeUInt16BE(length, 2)
  } else {
    wire[1] = 127
    wire.writeBigUInt64BE(BigInt(length), 2)
  }
  wire.set(frame, head)
  lastFrame = frame
  lastWire = wire
  return wire
}
