// Everybody hostile, in a process of their own: many identities at many addresses, each signing in, opening sockets and
// sending what frames.ts and requests.ts make, at a bounded rate. Notes what the server owed and did not give. Orders
// come from the driver: begin, go, rest, end.
import { spawnSync } from 'node:child_process'
import { Agent, request } from 'node:http'
import { connect } from 'node:net'
import { setPriority } from 'node:os'
import * as decoding from 'lib0/decoding'
import WebSocket from 'ws'
import { type Random, seededRandom } from '#lib/base'
import { ServerMessage, TALUS_FRAME } from '#lib/words'
import { brokenWire, hostileFrame, type Scene, type Shot } from './frames.ts'
import { type Asked, brokenRequest, hostileRequest } from './requests.ts'

export interface AttackOrder {
  readonly url: string
  readonly seed: number
  readonly messages: number
  /** Messages a second; 0 for as many as go. */
  readonly rate: number
  /** Whom the hostile ones may be; nobody of them may change what they are told to change. */
  readonly crew: readonly string[]
  /** Somebody who may type in texts, under ids of their own. */
  readonly typist: string
  readonly people: readonly string[]
  readonly pieces: readonly string[]
  readonly text: string
  readonly authors: readonly (readonly [client: number, clock: number])[]
}

export interface AttackReport {
  readonly sent: number
  readonly kinds: Readonly<Record<string, number>>
  readonly cutOff: number
  /** Upgrades answered with "too often". */
  readonly slowed: number
  readonly reasons: Readonly<Record<string, number>>
  readonly missing: readonly string[]
  readonly faults: readonly string[]
  readonly isDone: boolean
}

const ATTACKERS = 48
const CALLERS = 6
const SHOTS = 40
const OWED_MS = 20_000
const MEGABYTE = Buffer.alloc(1024 * 1024)

const wait = (ms: number) => new Promise<void>((next) => setTimeout(next, ms))
const pick = <T>(random: Random, list: readonly T[]): T => list[random.below(list.length)] as T

interface Identity {
  readonly address: string
  readonly cookie: string
}

class Attack {
  readonly #order: AttackOrder
  readonly #agent = new Agent({ keepAlive: true, maxSockets: CALLERS * 2 })
  readonly #kinds: Record<string, number> = {}
  readonly #reasons: Record<string, number> = {}
  readonly #missing: string[] = []
  readonly #faults: string[] = []
  #sent = 0
  #cutOff = 0
  #slowed = 0
  #running = 0
  #isGo = false
  #due = 0
  #dueAt = Date.now()
  honestIds: readonly string[] = []

  constructor(order: AttackOrder) {
    this.#order = order
  }

  get report(): AttackReport {
    return {
      ...{ sent: this.#sent, kinds: this.#kinds, cutOff: this.#cutOff, slowed: this.#slowed, reasons: this.#reasons },
      ...{ missing: this.#missing, faults: this.#faults, isDone: this.#running === 0 },
    }
  }

  begin(): void {
    for (let n = 0; n < ATTACKERS; n++) this.#run((random) => this.#connection(random), n)
    for (let n = 0; n < CALLERS; n++) this.#run((random) => this.#call(random), ATTACKERS + n)
  }

  go(isGo: boolean): void {
    this.#isGo = isGo
    this.#due = 0
    this.#dueAt = Date.now()
  }

  async #run(one: (random: Random) => Promise<void>, n: number): Promise<void> {
    this.#running++
    const random = seededRandom(this.#order.seed * 1000 + n)
    while (this.#sent < this.#order.messages) {
      await this.#turn()
      await one(random).catch((error) => this.#faults.push(`attacker: ${error}`))
    }
    this.#running--
  }

  /**
   * Waits while resting, and until the rate allows one more, which is then spent: attackers are strangers to each other,
   * and fifty let go by one tick would be a wave that no rate a second tells of.
   */
  async #turn(): Promise<void> {
    for (;;) {
      if (this.#isGo) {
        const { rate } = this.#order
        if (rate === 0) return
        const now = Date.now()
        this.#due = Math.min(rate, this.#due + ((now - this.#dueAt) / 1000) * rate)
        this.#dueAt = now
        if (this.#due > 0) {
          this.#due -= 1
          return
        }
      }
      await wait(5)
    }
  }

  #count(kind: string, times = 1): void {
    this.#kinds[kind] = (this.#kinds[kind] ?? 0) + times
    this.#sent += times
    // The first was paid for by its turn.
    this.#due -= times - 1
  }

  #why(reason: string): void {
    this.#reasons[reason] = (this.#reasons[reason] ?? 0) + 1
  }

  async #identity(random: Random, personId: string): Promise<Identity | null> {
    const address = `10.${random.below(250)}.${random.below(250)}.${1 + random.below(250)}`
    const asked = { method: 'POST', path: '/api/demo', headers: { 'content-type': 'application/json', 'x-talus': '1' } }
    const { cookie } = await this.#ask({ kind: 'in', ...asked, body: JSON.stringify({ personId }) }, address, '')
    return cookie ? { address, cookie } : null
  }

  async #connection(random: Random): Promise<void> {
    const { crew, typist, text } = this.#order
    const place = pick<Scene['place']>(random, ['board', 'board', `text/${text}`, `sheet/${text}`])
    const who = place.startsWith('text/') && random.below(2) === 0 ? typist : pick(random, crew)
    const identity = await this.#identity(random, who)
    if (!identity) return wait(200)
    const line = await Line.open(this.#order.url, place, identity)
    if (typeof line === 'number') {
      this.#count('upgrade')
      this.#why(`upgrade ${line}`)
      if (line === 429) this.#slowed++
      if (line >= 500 && line !== 503) this.#faults.push(`upgrade answered ${line}`)
      return line === 429 ? wait(500) : undefined
    }
    const scene: Scene = {
      place,
      random,
      honestIds: this.honestIds,
      people: this.#order.people,
      pieces: this.#order.pieces,
      authors: new Map(this.#order.authors),
    }
    for (let n = 0; n < SHOTS && !line.end && this.#sent < this.#order.messages; n++) {
      await this.#turn()
      if (random.below(30) === 0) {
        await this.#break(line, random)
        break
      }
      await this.#shoot(line, hostileFrame(scene), place)
    }
    if (line.end) {
      this.#cutOff++
      this.#why(line.end.reason)
    }
    line.drop()
  }

  async #shoot(line: Line, shot: Shot, place: string): Promise<void> {
    const { kind, bytes, owed, times = 1 } = shot
    this.#count(kind, times)
    const due = line.answers + (owed.ends ? 0 : owed.answers)
    for (let n = 0; n < times; n++) line.send(bytes)
    const isGiven = () => line.end !== null || (!owed.ends && line.answers >= due)
    if (!owed.ends && owed.answers === 0) return
    await line.until(isGiven)
    if (!isGiven()) this.#misses(`${kind} on ${place}: nothing came`)
    else if (line.end && !line.end.hasReason) this.#misses(`${kind} on ${place}: ended with ${line.end.reason}`)
  }

  async #break(line: Line, random: Random): Promise<void> {
    const { kind, bytes, isHeavy } = brokenWire(random)
    this.#count(kind)
    line.raw(bytes)
    if (isHeavy) for (let n = 0; n < 100 && !line.end; n++) await line.rawSlowly(MEGABYTE)
    await line.until(() => line.end !== null)
    if (!line.end) this.#misses(`${kind}: nothing came`)
    else if (!line.end.hasReason) this.#misses(`${kind}: ended with ${line.end.reason}`)
  }

  #misses(what: string): void {
    this.#missing.push(what)
  }

  async #call(random: Random): Promise<void> {
    await this.#turn()
    if (random.below(10) === 0) return this.#breakRequest(random)
    const asked = hostileRequest(random)
    const identity = random.below(3) === 0 ? await this.#identity(random, pick(random, this.#order.crew)) : null
    this.#count(asked.kind)
    const address = identity?.address ?? `10.9.${random.below(250)}.${1 + random.below(250)}`
    const { status, hasBody } = await this.#ask(asked, address, identity?.cookie ?? '')
    this.#why(`http ${status}`)
    if (status >= 500 && status !== 503) this.#faults.push(`${asked.method} ${asked.path} answered ${status}`)
    if (status >= 400 && !hasBody && asked.method !== 'HEAD')
      this.#misses(`${asked.method} ${asked.path}: ${status} without a word`)
    if (status === 0) this.#misses(`${asked.method} ${asked.path}: no answer`)
  }

  #ask({ method, path, headers, body }: Asked, address: string, cookie: string) {
    const { hostname, port } = new URL(this.#order.url)
    return new Promise<{ status: number; hasBody: boolean; cookie: string }>((done) => {
      const none = { status: 0, hasBody: false, cookie: '' }
      const sent = request(
        {
          ...{ hostname, port, method, path, agent: this.#agent },
          headers: {
            ...(cookie ? { cookie } : {}),
            'x-forwarded-for': address,
            ...headers,
            ...(body === null ? {} : { 'content-length': Buffer.byteLength(body) }),
          },
        },
        (response) => {
          let size = 0
          response.on('data', (part: Buffer) => {
            size += part.length
          })
          const set = response.headers['set-cookie']?.[0]?.split(';')[0] ?? ''
          const end = () => done({ status: response.statusCode ?? 0, hasBody: size > 0, cookie: set })
          response.on('end', end)
          response.on('error', end)
        },
      )
      // What is too long is answered and hung up on while it is still being sent.
      sent.on('error', () =>
        done(body !== null && Buffer.byteLength(body) > 16_384 ? { ...none, status: 413, hasBody: true } : none),
      )
      sent.setTimeout(OWED_MS, () => sent.destroy())
      sent.end(body ?? undefined)
    })
  }

  #breakRequest(random: Random): Promise<void> {
    const { hostname, port, host } = new URL(this.#order.url)
    this.#count('http broken')
    return new Promise((done) => {
      const socket = connect(Number(port), hostname)
      let said = ''
      socket.on('data', (part) => {
        said += part
        if (/^HTTP\/1.1 50[0-24-9]/.test(said)) this.#faults.push(`a broken request was answered ${said.slice(0, 40)}`)
        socket.destroy()
      })
      socket.on('error', () => {})
      socket.on('close', () => done())
      // Half a request is given up by us before the server's own patience ends.
      socket.setTimeout(500, () => socket.destroy())
      socket.end(brokenRequest(random, host))
    })
  }
}

/** One hostile socket. */
class Line {
  readonly #socket: WebSocket
  #bye: string | null = null
  #wake: () => void = () => {}
  answers = 0
  end: { readonly reason: string; readonly hasReason: boolean } | null = null

  private constructor(socket: WebSocket) {
    this.#socket = socket
    socket.on('message', (data: Buffer) => {
      this.#hear(data)
      this.#wake()
    })
    socket.on('error', () => {})
    socket.on('close', (code) => {
      this.end = { reason: this.#bye ?? String(code), hasReason: this.#bye !== null || code !== 1006 }
      this.#wake()
    })
  }

  /** The open line, or the status that it was answered with. */
  static open(url: string, place: string, { address, cookie }: Identity): Promise<Line | number> {
    const headers = { cookie, origin: url, 'x-forwarded-for': address }
    const socket = new WebSocket(`${url.replace('http', 'ws')}/sync/${place}`, { headers, perMessageDeflate: false })
    return new Promise((done) => {
      const line = new Line(socket)
      socket.once('open', () => done(line))
      socket.once('unexpected-response', (_request, response) => {
        response.resume()
        done(response.statusCode ?? 0)
        socket.terminate()
      })
      socket.once('error', () => done(0))
    })
  }

  #hear(data: Buffer): void {
    const decoder = decoding.createDecoder(data)
    const type = decoding.readVarUint(decoder)
    // Our text is asked for what it lacks: that is the answer to a gap.
    if (type === 0 && decoding.readVarUint(decoder) === 0) this.answers++
    if (type !== TALUS_FRAME) return
    const message = ServerMessage.parse(JSON.parse(decoding.readVarString(decoder)))
    if (message.type === 'bye') this.#bye = message.reason
    if (message.type === 'refused' || message.type === 'kept') this.answers += message.items.length
    if (message.type === 'answer' && message.done) this.answers++
  }

  send(bytes: Uint8Array): void {
    if (this.#socket.readyState === WebSocket.OPEN) this.#socket.send(bytes)
  }

  raw(bytes: Buffer): void {
    this.#tcp.write(bytes)
  }

  async rawSlowly(bytes: Buffer): Promise<void> {
    if (!this.#tcp.destroyed && !this.#tcp.write(bytes))
      await Promise.race([new Promise((next) => this.#tcp.once('drain', next)), wait(200)])
  }

  get #tcp() {
    return (this.#socket as unknown as { readonly _socket: import('node:net').Socket })._socket
  }

  async until(isSo: () => boolean): Promise<void> {
    const deadline = Date.now() + OWED_MS
    while (!isSo() && Date.now() < deadline)
      await new Promise<void>((next) => {
        const timer = setTimeout(next, 500)
        this.#wake = () => {
          clearTimeout(timer)
          next()
        }
      })
  }

  drop(): void {
    this.#socket.terminate()
  }
}

// Attackers bring machines of their own; here they must not take the processor from those who are measured. On Linux only
// the idle class gives way at once: a newer kernel lets a polite process end its slice of some ms first.
setPriority(19)
if (process.platform === 'linux') spawnSync('chrt', ['--all-tasks', '--idle', '--pid', '0', `${process.pid}`])

let attack: Attack | null = null
type Order =
  | { readonly do: 'begin'; readonly order: AttackOrder }
  | { readonly do: 'go' | 'rest'; readonly honestIds?: readonly string[] }
  | { readonly do: 'report' }
process.on('message', (message: Order) => {
  if (message.do === 'begin') {
    attack = new Attack(message.order)
    attack.begin()
  } else if (message.do === 'go' || message.do === 'rest') {
    if (attack && message.honestIds) attack.honestIds = message.honestIds
    attack?.go(message.do === 'go')
  } else process.send?.(attack?.report)
})
