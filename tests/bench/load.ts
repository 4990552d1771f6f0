// Clients under load, a process of their own: each a socket with a Yjs copy of the document, speaking y-protocols. They
// edit one record after another, each some of its own, and the edit carries its moment in the record. Every tenth client
// keeps its copy up to date and notes how long each edit of the others took to arrive; the rest receive everything but
// leave it unread, or the clients alone would fill the machine: people bring machines of their own. Of the stock server
// they read the whole document once, since an edit there is made in it.
import * as decoding from 'lib0/decoding'
import * as encoding from 'lib0/encoding'
import WebSocket from 'ws'
import * as syncProtocol from 'y-protocols/sync'
import * as Y from 'yjs'
import { makeId, seededRandom } from '#lib/base'
import { observe } from '#lib/doc'
import { type Change, ServerMessage, TALUS_FRAME } from '#lib/words'
import { Histogram } from './histogram.ts'
import { benchChanges, jacketIds, PEOPLE } from './lab.ts'

export interface LoadOrder {
  readonly server: 'stock' | 'ours'
  readonly port: number
  readonly clients: number
  /** First number of these clients; numbers tell people and sessions apart. */
  readonly from: number
  /** Clients in all processes together. */
  readonly of: number
  /** Milliseconds between two edits of a client; 0 floods. */
  readonly everyMs: number
  /** Edits under way at a time, when flooding. */
  readonly window: number
  readonly seed: number
}

export interface LoadReport {
  readonly seen: [number, number][]
  readonly kept: [number, number][]
  readonly edits: number
  readonly acknowledged: number
  readonly arrived: number
  readonly refused: number
  readonly lost: number
}

/** One client in so many reads what it receives. */
const WATCHING = 10

const now = (): number => Number(process.hrtime.bigint()) / 1e6
const ids = jacketIds()
const changes = benchChanges()
const jackets = new Map(changes.flatMap(({ kind, id, record }) => (kind === 'jacket' ? [[id, record] as const] : [])))

const seen = new Histogram()
const kept = new Histogram()
let counts = { edits: 0, acknowledged: 0, arrived: 0, refused: 0 }
let isRunning = false

class LoadClient {
  readonly #order: LoadOrder
  readonly #number: number
  readonly #socket: WebSocket
  readonly #doc = new Y.Doc()
  readonly #random: ReturnType<typeof seededRandom>
  #isReady = false
  #isGone = false
  readonly #isWatching: boolean
  readonly #under = new Map<string, number>()
  readonly ready: Promise<void>

  constructor(order: LoadOrder, number: number) {
    this.#order = order
    this.#number = number
    this.#isWatching = order.everyMs === 0 || number % WATCHING === 0
    this.#random = seededRandom(order.seed * 1000 + number)
    const path = order.server === 'stock' ? 'bench' : `sync/board?session=s${number}&person=p${number % PEOPLE}&epoch=`
    this.#socket = new WebSocket(`ws://127.0.0.1:${order.port}/${path}`, { perMessageDeflate: false })
    this.#socket.binaryType = 'arraybuffer'
    this.ready = new Promise((resolve, reject) => {
      this.#socket.on('error', reject)
      this.#socket.on('open', () => this.#sendSync((encoder) => syncProtocol.writeSyncStep1(encoder, this.#doc)))
      this.#socket.on('message', (data: ArrayBuffer) => this.#hear(new Uint8Array(data), resolve))
    })
    if (order.server === 'stock') this.#watchStock()
    else observe(this.#doc, (list) => this.#see(list))
  }

  start(): void {
    const { everyMs, window } = this.#order
    if (everyMs === 0) {
      for (let i = 0; i < window; i++) this.#edit()
      return
    }
    // Each at a pace of its own around the wanted one, so that they neither march in step nor drift together.
    const next = () => {
      if (!isRunning || this.#isGone) return
      this.#edit()
      setTimeout(next, everyMs * (0.8 + 0.4 * this.#random.unit()))
    }
    setTimeout(next, everyMs * this.#random.unit())
  }

  /** As a line breaks: whatever is under way is not answered here any more. */
  drop(): void {
    this.#isGone = true
    this.#under.clear()
    this.#socket.removeAllListeners()
    this.#socket.on('error', () => {})
    this.#socket.terminate()
  }

  stop(): void {
    this.#isGone = true
    this.#socket.removeAllListeners()
    this.#socket.on('error', () => {})
    this.#socket.close()
  }

  get number(): number {
    return this.#number
  }

  get underWay(): number {
    return this.#under.size
  }

  #edit(): void {
    if (!isRunning || this.#isGone) return
    const { of } = this.#order
    // Records of its own: a copy that is not read further would otherwise edit an old state, which no person does.
    const own = this.#random.below(Math.max(1, Math.floor(ids.length / of))) * of
    const pieceId = ids[(own + this.#number) % ids.length] ?? 'j0'
    const note = `${now()} ${this.#number}`
    counts.edits++
    if (this.#order.server === 'stock') {
      this.#doc.getMap('jacket').set(pieceId, { ...jackets.get(pieceId), note })
      return
    }
    const id = makeId(Date.now(), () => this.#random.below(32))
    this.#under.set(id, now())
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, TALUS_FRAME)
    const op = { id, kind: 'editJacket', pieceId, patch: { note } }
    encoding.writeVarString(encoder, JSON.stringify({ type: 'ops', ops: [op] }))
    this.#socket.send(encoding.toUint8Array(encoder))
  }

  #hear(bytes: Uint8Array, ready: () => void): void {
    if (!this.#isWatching && bytes[0] === 0) {
      if (this.#isReady) return
      if (this.#order.server === 'ours') {
        this.#isReady = bytes[1] === syncProtocol.messageYjsSyncStep2
        if (this.#isReady) ready()
        return
      }
    }
    const decoder = decoding.createDecoder(bytes)
    const type = decoding.readVarUint(decoder)
    if (type === 0) {
      const encoder = encoding.createEncoder()
      encoding.writeVarUint(encoder, 0)
      const step = syncProtocol.readSyncMessage(decoder, encoder, this.#doc, 'server')
      if (encoding.length(encoder) > 1) this.#socket.send(encoding.toUint8Array(encoder))
      if (step === syncProtocol.messageYjsSyncStep2) {
        this.#isReady = true
        ready()
      }
    } else if (type === TALUS_FRAME) this.#hearMessage(ServerMessage.parse(JSON.parse(decoding.readVarString(decoder))))
  }

  #hearMessage(message: ServerMessage): void {
    if (message.type === 'bye') throw new Error(`The server said goodbye: ${message.reason}`)
    if (message.type === 'refused') counts.refused += message.items.length
    if (message.type !== 'kept') return
    for (const { id } of message.items) {
      const at = this.#under.get(id)
      this.#under.delete(id)
      if (at === undefined) continue
      counts.acknowledged++
      kept.add(now() - at)
      if (this.#order.everyMs === 0) this.#edit()
    }
  }

  #see(list: readonly Change[]): void {
    for (const { kind, record } of list) if (kind === 'jacket' && record) this.#note(record.note)
  }

  #note(note: string): void {
    const [at, by] = note.split(' ')
    counts.arrived++
    if (Number(by) !== this.#number && Number(at) > 0) seen.add(now() - Number(at))
  }

  #watchStock(): void {
    const map = this.#doc.getMap<{ note: string }>('jacket')
    map.observe((event) => {
      if (event.transaction.local) return
      for (const id of event.keysChanged) this.#note(map.get(id)?.note ?? '')
    })
    this.#doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'server') this.#sendSync((encoder) => syncProtocol.writeUpdate(encoder, update))
    })
  }

  /** Fills the stock server's document, as somebody must. */
  fill(): void {
    this.#doc.transact(() => {
      for (const { kind, id, record } of changes) this.#doc.getMap(kind).set(id, record)
    })
  }

  /** Bytes waiting in this client's own socket: a flood must not outrun it. */
  get unsent(): number {
    return this.#socket.bufferedAmount
  }

  #sendSync(write: (encoder: encoding.Encoder) => void): void {
    const encoder = encoding.createEncoder()
    encoding.writeVarUint(encoder, 0)
    write(encoder)
    this.#socket.send(encoding.toUint8Array(encoder))
  }

  /** Edits without waiting for anything, for a server that acknowledges nothing. */
  flood(): void {
    const step = () => {
      if (!isRunning) return
      for (let i = 0; i < this.#order.window && this.unsent < 64 * 1024; i++) this.#edit()
      setImmediate(step)
    }
    step()
  }
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** Orders come from the bench: open, fill, start, clear (end of warming up), churn, again, report. */
async function main(send: (message: unknown) => void): Promise<void> {
  const clients: LoadClient[] = []
  let order: LoadOrder | null = null
  let newcomers = 0
  const openOne = async (at: LoadOrder, number: number): Promise<LoadClient> => {
    const client = new LoadClient(at, number)
    await client.ready
    return client
  }
  const handle = async (message: { do: string; order?: LoadOrder | number }) => {
    switch (message.do) {
      case 'open':
        if (typeof message.order !== 'object') return
        order = message.order
        for (let i = 0; i < order.clients; i++) clients.push(await openOne(order, order.from + i))
        return
      // So many go without a word, the longest here first, and as many others come.
      case 'churn':
        for (let i = 0; order && i < Number(message.order); i++) {
          clients.shift()?.drop()
          // A number far from all others; it stays within the records by itself.
          const client = await openOne(order, order.from + 1_000_000 + newcomers++ * order.of)
          clients.push(client)
          client.start()
        }
        return
      // The server is another process now: all come at once.
      case 'again': {
        const at = order
        const numbers = clients.splice(0).map((client) => {
          client.drop()
          return client.number
        })
        if (at) clients.push(...(await Promise.all(numbers.map((number) => openOne(at, number)))))
        return
      }
      case 'fill':
        clients[0]?.fill()
        return
      case 'start':
        isRunning = true
        for (const client of clients)
          if (order?.everyMs === 0 && order.server === 'stock') client.flood()
          else client.start()
        return
      case 'clear':
        seen.clear()
        kept.clear()
        counts = { edits: 0, acknowledged: 0, arrived: 0, refused: 0 }
        return
      case 'counts':
        return { ...counts }
      case 'report': {
        isRunning = false
        const underWay = () => clients.reduce((sum, client) => sum + client.underWay, 0)
        await wait(500)
        for (let i = 0; i < 100 && underWay() > 0; i++) await wait(100)
        const lost = underWay()
        return { ...counts, seen: seen.toPairs(), kept: kept.toPairs(), lost }
      }
      case 'stop':
        for (const client of clients) client.stop()
        await wait(50)
        process.exit(0)
    }
  }
  process.on('message', (message: { do: string; order?: LoadOrder | number }) => {
    handle(message).then(
      (result) => send({ done: message.do, result }),
      (error) => {
        console.error(error)
        process.exit(1)
      },
    )
  })
}

await main((message) => process.send?.(message))
