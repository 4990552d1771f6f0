// The line over a WebSocket: y-websocket's provider for the documents and who is where, with frames of our own type
// beside them for ops, receipts and questions. The server speaks first (`hello`); until it has named the epoch that
// the document holds, nothing is synced into it.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import { encodeAwarenessUpdate } from 'y-protocols/awareness'
import { messageYjsSyncStep1, writeSyncStep1 } from 'y-protocols/sync'
import { WebsocketProvider } from 'y-websocket'
import type * as Y from 'yjs'
import { type ClientMessage, readServerMessage, type ServerMessage, TALUS_FRAME } from '#lib/words'
import type { Line, OpenLine, Other } from '../core/ports.ts'

const SYNC_FRAME = 0
const PRESENCE_FRAME = 1
/** Nothing heard for so long although the server speaks each 10 to 20 s: the connection is dead, as after sleep. */
const SILENCE_MS = 25_000

export type LineOptions = {
  /** `wss://host` of the server. */
  readonly origin: string
  readonly Socket?: typeof WebSocket
  /** Longest wait between two tries; each client its own, so that a restarted server is not met by all at once. */
  readonly backoffMaxMs: number
  readonly report: (error: unknown) => void
}

/** Makes the opener of lines for one server. */
export function socketLines({ origin, Socket, backoffMaxMs, report }: LineOptions): OpenLine {
  return (home, doc, epoch, events) => {
    const provider = new WebsocketProvider(`${origin}/sync`, home, doc, {
      connect: false,
      disableBc: true,
      maxBackoffTime: backoffMaxMs,
      params: paramsOf(doc, epoch),
      ...(Socket ? { WebSocketPolyfill: Socket } : {}),
    })
    // The provider repeats to the server what it heard of others; here each client speaks for itself alone.
    provider.awareness.off('update', provider._awarenessUpdateHandler)
    // Nothing is said about oneself before somebody asks for it.
    provider.awareness.setLocalState(null)
    const sayHere = (_changes: unknown, origin: unknown) => {
      if (origin === 'local') sendPresence(provider)
    }
    provider.awareness.on('update', sayHere)
    let isClosed = false
    let isSyncing = false
    /** Hello has been heard on this connection: only then is it a connection to our server. */
    let isKnown = false

    const sync = provider.messageHandlers[SYNC_FRAME]
    provider.messageHandlers[SYNC_FRAME] = (encoder, decoder, who, emitSynced, type) => {
      if (!isSyncing) return
      const isAsking = decoding.peekVarUint(decoder) === messageYjsSyncStep1
      sync?.(encoder, decoder, who, emitSynced, type)
      if (isAsking && !isClosed) events.asked?.()
    }
    provider.messageHandlers[TALUS_FRAME] = (_encoder, decoder) => {
      const message = read(decoding.readVarString(decoder), report)
      if (!message || isClosed) return
      if (message.type !== 'hello') {
        events.message(message)
        return
      }
      isKnown = true
      isSyncing = events.message(message)
      // After this the document holds this epoch, and says so when it connects again.
      if (isSyncing) provider.params = paramsOf(doc, message.epoch)
    }
    provider.on('status', ({ status }) => {
      if (status === 'connected') return
      isSyncing = false
      isKnown = false
    })
    provider.on('sync', (isSynced) => {
      if (isSynced && !isClosed) events.synced()
    })
    provider.on('connection-close', () => {
      if (!isClosed) events.down(false)
    })
    provider.on('closed', () => {
      if (!isClosed) events.down(true)
    })
    const hearOthers = () => {
      if (!isClosed) events.others(othersOf(provider))
    }
    provider.awareness.on('change', hearOthers)
    provider.connect()

    const line: Line = {
      send: (message) => isKnown && sendMessage(provider, message),
      here: (state) => {
        if (!isClosed) provider.awareness.setLocalState(state && { ...state })
      },
      check: () => {
        sendFrame(provider, (encoder) => {
          encoding.writeVarUint(encoder, SYNC_FRAME)
          writeSyncStep1(encoder, doc)
        })
      },
      nudge: () => {
        if (isClosed) return
        const isSilent = Date.now() - provider.wsLastMessageReceived > SILENCE_MS
        if (provider.wsconnected && !isSilent) return
        provider.disconnect()
        provider.wsUnsuccessfulReconnects = 0
        provider.connect()
      },
      close: () => {
        if (isClosed) return
        isClosed = true
        provider.awareness.off('change', hearOthers)
        provider.awareness.off('update', sayHere)
        provider.destroy()
        provider.awareness.destroy()
      },
    }
    return line
  }
}

/** The document's client id goes along so that the server can bind it to the session before the first update. */
function paramsOf(doc: Y.Doc, epoch: string): Record<string, string> {
  return { epoch, client: String(doc.clientID) }
}

function sendFrame(provider: WebsocketProvider, write: (encoder: encoding.Encoder) => void): boolean {
  const { ws } = provider
  if (!ws || ws.readyState !== ws.OPEN) return false
  const encoder = encoding.createEncoder()
  write(encoder)
  ws.send(encoding.toUint8Array(encoder))
  return true
}

function sendPresence(provider: WebsocketProvider): void {
  sendFrame(provider, (encoder) => {
    encoding.writeVarUint(encoder, PRESENCE_FRAME)
    encoding.writeVarUint8Array(encoder, encodeAwarenessUpdate(provider.awareness, [provider.doc.clientID]))
  })
}

function sendMessage(provider: WebsocketProvider, message: ClientMessage): boolean {
  return sendFrame(provider, (encoder) => {
    encoding.writeVarUint(encoder, TALUS_FRAME)
    encoding.writeVarString(encoder, JSON.stringify(message))
  })
}

function read(text: string, report: (error: unknown) => void): ServerMessage | null {
  try {
    const message = readServerMessage(JSON.parse(text))
    if (message) return message
    report(new Error(`Got a message of the server that this client does not know: ${text.slice(0, 200)}`))
  } catch (error) {
    report(error)
  }
  return null
}

function othersOf(provider: WebsocketProvider): readonly Other[] {
  const others: Other[] = []
  for (const [key, state] of provider.awareness.getStates()) {
    if (key === provider.doc.clientID) continue
    const { personId, name, at, field } = state as Readonly<Record<string, unknown>>
    if (typeof personId !== 'string' || typeof name !== 'string' || typeof at !== 'string') continue
    // Stamped by the server, which knows the person by a parsed id.
    others.push({
      key,
      personId: personId as Other['personId'],
      name,
      at,
      field: typeof field === 'string' ? field : null,
    })
  }
  return others
}
