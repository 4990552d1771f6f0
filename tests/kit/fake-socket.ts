// A wire between a client and the server without a network: frames arrive in order, after a while, until it is cut.
// The delay comes from whoever makes it, so that a simulation can stretch and reorder connections against each other.
import type { Socket } from '../../server/sync/socket.ts'
import type { FakeClock } from './fake-clock.ts'

export interface ClientEnd {
  readonly send: (frame: Uint8Array) => void
  /** The client goes; the server hears of it. */
  readonly close: () => void
  onMessage: (frame: Uint8Array) => void
  onClose: (code: number, reason: string) => void
}

export interface Wire {
  readonly server: Socket
  readonly client: ClientEnd
  /** The network fails: what is under way is lost, both ends hear of it. */
  readonly cut: () => void
  /** A reader that does not read: frames pile up at the server. */
  readonly stall: () => void
  readonly isOpen: () => boolean
}

export function fakeWire(clock: FakeClock, delayMs: () => number = () => 0): Wire {
  let isOpen = true
  let isStalled = false
  let unsent = 0
  let toServer: (frame: Uint8Array) => void = () => {}
  let onServerClose: () => void = () => {}
  const client: ClientEnd = {
    send: (frame) => {
      const copy = frame.slice()
      up.put(() => toServer(copy))
    },
    close: () => up.put(() => end(1000, 'gone')),
    onMessage: () => {},
    onClose: () => {},
  }
  const end = (code: number, reason: string) => {
    if (!isOpen) return
    isOpen = false
    onServerClose()
    client.onClose(code, reason)
  }
  const up = line(clock, delayMs, () => isOpen)
  const down = line(clock, delayMs, () => isOpen)
  return {
    client,
    server: {
      send: (frame) => {
        if (isStalled) {
          unsent += frame.length
          return
        }
        const copy = frame.slice()
        down.put(() => client.onMessage(copy))
      },
      close: (code, reason) => down.put(() => end(code, reason)),
      drop: () => end(1006, 'dropped'),
      unsentBytes: () => unsent,
      onMessage: (listener) => {
        toServer = listener
      },
      onClose: (listener) => {
        onServerClose = listener
      },
    },
    cut: () => end(1006, 'cut'),
    stall: () => {
      isStalled = true
    },
    isOpen: () => isOpen,
  }
}

/** Delivers in order, each after its delay; drops what is under way when the wire is cut. */
function line(clock: FakeClock, delayMs: () => number, isOpen: () => boolean) {
  let freeAt = Number.NEGATIVE_INFINITY
  return {
    put: (deliver: () => void) => {
      const at = Math.max(freeAt, clock.elapsed() + delayMs())
      freeAt = at
      clock.after(at - clock.elapsed(), () => {
        if (isOpen()) deliver()
      })
    },
  }
}
