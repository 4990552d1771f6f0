// One lab while it is open: its records, the line to the gate, the documents derived from them, and everybody connected.
// What comes in on a socket is sorted here; what is kept is shown from here. The life of a connection:
//
//   connect → hello {epoch} → (same epoch, or none yet) step 1 ⇄ step 2 → updates …
//                           → (another epoch) nothing: the client drops its copy and comes again

import { addDays, instantOf, localAt } from '#lib/base'
import type { When, Who } from '#lib/ops'
import {
  type Change,
  ClientMessage,
  type Face,
  faceFor,
  type Home,
  isHome,
  type PersonId,
  PROTOCOL_VERSION,
  type Records,
  type Role,
} from '#lib/words'
import type { Answer } from './answers.ts'
import { Asks, type AskTable } from './asks.ts'
import { type FaceDocument, Faces, type Reader } from './faces.ts'
import type { OpTable } from './gate.ts'
import { GateQueue } from './gate-queue.ts'
import { HeldRecords } from './held-records.ts'
import type { KeptChanges } from './keeping.ts'
import { Presence, type Present } from './presence.ts'
import { redact } from './redact.ts'
import type { Store } from './store/contract.ts'
import { Connection, type Place, type Visitor } from './sync/connection.ts'
import type { Said } from './sync/frames.ts'
import type { Limits } from './sync/limits.ts'
import { CLOSE, type Socket } from './sync/socket.ts'
import { TextRooms } from './text-rooms.ts'
import type { Chance, Clock, Log } from './world.ts'

/** Who comes: from the door, never from a message. */
export interface Session {
  readonly id: string
  /** Null for the Wall. */
  readonly personId: PersonId | null
}

export interface RoomWorld {
  readonly lab: string
  readonly store: Store
  readonly clock: Clock
  readonly chance: Chance
  readonly log: Log
  readonly ops: OpTable
  readonly asks: AskTable
  readonly limits: Limits
  /** Names the running build in `hello`. */
  readonly build: string
  /** Makes the server's own op for a day that begins; null where there is none. */
  readonly dayOp: ((date: string) => { readonly id: string; readonly kind: string }) | null
}

/** A batch for few readers leaves at once; for many, batches keep this distance. */
const SPACING_PER_READER_MS = 0.05
const SPACING_MAX_MS = 10
const TICK_MS = 10_000
/** A document nobody reads is kept so long, so that a reload takes a difference and not the whole. */
const UNREAD_MS = 60_000
/** The clock may be set, and a laptop may sleep: midnight is looked for this often. */
const DAY_CHECK_MS = 60_000
/** Zone of a lab that has no settings yet. */
const ZONE_UNKNOWN = 'UTC'

export class Room {
  readonly #world: RoomWorld
  readonly #held = new HeldRecords()
  readonly #gate: GateQueue
  readonly #faces: Faces
  readonly #presence: Presence
  readonly #texts: TextRooms
  readonly #connections = new Set<Connection>()
  readonly #unreadSince = new Map<FaceDocument, number>()
  #cancelTick: () => void = () => {}
  #cancelDay: () => void = () => {}
  #isClosed = false
  /** Called when the last connection has gone. */
  onIdle: () => void = () => {}

  private constructor(world: RoomWorld) {
    this.#world = world
    this.#faces = new Faces(world.chance, '')
    this.#presence = new Presence(world.clock)
    this.#texts = new TextRooms(world)
    this.#gate = new GateQueue({
      ...world,
      table: world.ops,
      records: this.#held,
      when: () => this.when(),
      spacingMs: () => Math.min(SPACING_MAX_MS, this.#connections.size * SPACING_PER_READER_MS),
      onKept: (kept) => this.#show(kept),
      onState: (state) => {
        for (const connection of this.#connections)
          if (connection.place === 'board') connection.say({ type: 'state', state })
      },
    })
  }

  /** Opens a lab from its store. */
  static async open(world: RoomWorld): Promise<Room> {
    const room = new Room(world)
    await room.#gate.open()
    room.#faces.today = room.when().date
    room.#tick()
    room.#checkDay()
    room.#beginDay()
    return room
  }

  /** The true records, live and whole (office too): read at once, or take a `copy`. */
  get records(): Records {
    return this.#held.all
  }

  copyRecords(): Records {
    return this.#held.copy()
  }

  get seq(): number {
    return this.#gate.seq
  }

  get state(): 'well' | 'read-only' {
    return this.#gate.state
  }

  get connectionCount(): number {
    return this.#connections.size
  }

  /** Now, as the lab's clocks show it. */
  when(): When {
    const now = this.#world.clock.now()
    return { at: new Date(now).toISOString(), ...localAt(this.#zone, now) }
  }

  /** The role a session has at this moment; null when it may not be here at all. */
  roleOf({ personId }: Session): Role | null {
    return this.#roleNow(personId)
  }

  #roleNow(personId: string | null): Role | null {
    if (personId === null) return 'wall'
    const person = this.#held.all.person.get(personId)
    return person?.isActive ? person.role : null
  }

  /** Does an op on behalf of somebody, or of the server itself; fulfils when it is durable or refused. */
  submit(op: unknown, who: Who): Promise<Answer> {
    return new Promise((resolve, reject) => {
      if (!this.#gate.submit(op, () => who, resolve)) reject(new Error('The lab takes no more edits now.'))
    })
  }

  /** Runs work on durable records, alone, in its turn at the gate. */
  settled<T>(work: () => Promise<T> | T): Promise<T> {
    return this.#gate.turn(work)
  }

  /** True when a role may open a place at all; asked before the upgrade. */
  mayOpen(session: Session, place: string): boolean {
    const role = this.roleOf(session)
    return role !== null && faceAt(role, place) !== null
  }

  /** Takes a socket in. Never throws; whoever may not be here is told so and closed. */
  connect(socket: Socket, session: Session, place: string, { epoch }: { readonly epoch: string }): void {
    const role = this.roleOf(session)
    const face = role && faceAt(role, place)
    if (this.#isClosed || role === null || face === null) {
      socket.onMessage(() => {})
      socket.onClose(() => {})
      if (this.#isClosed) socket.close(CLOSE.stopping, 'stopping')
      else socket.close(role === null ? CLOSE.signedOut : CLOSE.notForYou, role === null ? 'signed-out' : 'not for you')
      return
    }
    const visitor: Visitor = { sessionId: session.id, personId: session.personId, role }
    // faceAt knows the place.
    const connection = new Connection(socket, visitor, place as Place, this.#world)
    let ofSession = 0
    for (const other of this.#connections) if (other.visitor.sessionId === session.id) ofSession++
    if (ofSession >= this.#world.limits.connectionsPerSession) {
      connection.end('too-much')
      return
    }
    this.#connections.add(connection)
    connection.onEnd(() => this.#left(connection))
    const opened = place.startsWith('text/')
      ? this.#openText(connection, epoch)
      : this.#openDocument(connection, place as Home, face, epoch)
    opened.catch((error) => {
      this.#world.log('error', `A document could not be opened: ${error}`, { lab: this.#world.lab })
      connection.close(CLOSE.again, 'again')
    })
  }

  /** Ends all connections of a session at once: signed out, or somebody else on that device now. */
  endSession(sessionId: string): void {
    for (const connection of [...this.#connections])
      if (connection.visitor.sessionId === sessionId) connection.end('signed-out')
  }

  /** Keeps what is on its way, says goodbye, takes nothing more. */
  async close(): Promise<void> {
    if (this.#isClosed) return
    this.#isClosed = true
    this.#cancelTick()
    this.#cancelDay()
    await this.#gate.close()
    await this.#texts.close()
    for (const connection of [...this.#connections]) connection.end('stopping')
    this.#presence.close()
    for (const document of this.#faces.all) this.#faces.drop(document)
  }

  get #zone(): string {
    return this.#held.all.lab.get('lab')?.zone ?? ZONE_UNKNOWN
  }

  async #openDocument(connection: Connection, home: Home, face: Face, epoch: string): Promise<void> {
    const made = this.#faces.find(home, face) ?? (await this.#gate.turn(() => this.#makeDocument(home, face)))
    if (connection.isEnded) return
    // It may have been born again since.
    const document = this.#faces.find(home, face) ?? made
    this.#unreadSince.delete(document)
    let current: FaceDocument | null = document
    const reader: Reader = {
      send: (frame) => connection.send(frame),
      reborn: (next) => {
        current = null
        this.#hello(connection, next)
      },
    }
    this.#hello(connection, document.epoch)
    // A copy of another birth takes nothing from this one.
    if (epoch !== '' && epoch !== document.epoch) current = null
    const desk = home === 'board' ? this.#desk(connection) : null
    connection.onEnd(() => {
      document.readers.delete(reader)
      if (document.readers.size === 0) this.#unreadSince.set(document, this.#world.clock.now())
      desk?.leave()
      this.#left(connection)
    })
    connection.handle((said) => {
      if (said.what === 'step 1') {
        if (current) this.#sync(connection, current, reader, said.stateVector)
        return
      }
      // What a client has is no news here: the server is the only writer (a provider repeats what it loaded from disk).
      if (said.what !== 'update') desk?.hear(said)
    })
    if (this.#gate.state === 'read-only' && desk) connection.say({ type: 'state', state: 'read-only' })
    desk?.join()
  }

  #sync(connection: Connection, document: FaceDocument, reader: Reader, stateVector: Uint8Array): void {
    if (!connection.syncs.take(1)) {
      connection.end('too-much')
      return
    }
    try {
      connection.send(document.answer(stateVector))
    } catch {
      connection.end('bad-message')
      return
    }
    if (!connection.isEnded) document.readers.add(reader)
  }

  async #makeDocument(home: Home, face: Face): Promise<FaceDocument> {
    const found = this.#faces.find(home, face)
    if (found) return found
    if (!this.#held.holds(home))
      this.#held.load(home, (await this.#world.store.snapshot(this.#world.lab, home)).records)
    return this.#faces.make(home, face, this.#held.all, this.#gate.seq)
  }

  async #openText(connection: Connection, epoch: string): Promise<void> {
    const text = await this.#texts.enter(connection, this.#held.all, () => this.when().date)
    connection.onEnd(() => {
      text.leave()
      this.#left(connection)
    })
    if (connection.isEnded) return
    this.#hello(connection, text.epoch)
    const isCurrent = epoch === '' || epoch === text.epoch
    connection.handle((said) => {
      if (said.what === 'step 1' && isCurrent) {
        if (connection.syncs.take(1)) text.sync(said.stateVector)
        else connection.end('too-much')
      } else if (said.what === 'update' && isCurrent) text.write(said.update)
    })
  }

  #hello(connection: Connection, epoch: string): void {
    const { personId, role } = connection.visitor
    connection.say({
      type: 'hello',
      version: PROTOCOL_VERSION,
      epoch,
      build: this.#world.build,
      // The door made it from a person's record.
      personId: personId as PersonId | null,
      role,
      lab: this.#held.all.lab.get('lab')?.name ?? '',
      at: this.when().at,
    })
  }

  /** What beside the document happens on a board's socket: ops, questions, presence. */
  #desk(connection: Connection) {
    const { visitor } = connection
    const asks = new Asks(this.#world.asks, this.#world.limits.asksAtOnce, this.#world.log)
    const present: Present | null =
      visitor.personId === null
        ? null
        : {
            personId: visitor.personId,
            name: () => this.#held.all.person.get(visitor.personId ?? '')?.name ?? '',
            send: (frame) => connection.send(frame),
            isShown: faceFor(visitor.role, 'board') === 'crew',
          }
    return {
      join: () => present && this.#presence.join(present),
      leave: () => {
        asks.stopAll()
        if (present) this.#presence.leave(present)
      },
      hear: (said: Exclude<Said, { what: 'step 1' | 'update' }>) => {
        try {
          if (said.what === 'message') this.#hearMessage(connection, asks, said.text)
          else if (said.what === 'awareness') present && this.#presence.hear(present, said.update)
          else present && this.#presence.answer(present)
        } catch (error) {
          if (!(error instanceof BadMessage) && said.what === 'message')
            this.#world.log('error', `A message failed: ${error instanceof Error ? error.stack : error}`)
          connection.end('bad-message')
        }
      },
    }
  }

  #hearMessage(connection: Connection, asks: Asks, text: string): void {
    const message = parseMessage(text)
    const who = () => this.#whoIs(connection)
    switch (message.type) {
      case 'ops': {
        for (const op of message.ops) {
          const id = nameOf(op)
          const isTaken =
            connection.ops.take(1) &&
            this.#gate.submit(op, who, (answer) => connection.answer(id, redact(answer, connection.visitor.role)))
          if (!isTaken) {
            connection.end('too-much')
            return
          }
        }
        return
      }
      case 'ask': {
        const by = who()
        if (!by) return
        const context = { who: by, when: this.when(), seq: this.#gate.seq, records: this.#held.copy() }
        asks.start(message, context, (body, done) => connection.say({ type: 'answer', ask: message.ask, body, done }))
        return
      }
      case 'stop':
        asks.stop(message.ask)
    }
  }

  /** Who acts on a connection, as of now; null once they may not act any more. */
  #whoIs(connection: Connection): Who | null {
    // What was not judged when the line broke is forgotten: it comes again with the next connection, perhaps to another
    // server, and must not be judged twice. After a sign-out it must not be judged at all.
    if (connection.isEnded) return null
    const role = this.#roleNow(connection.visitor.personId)
    // The door made the id from a person's record; the Wall carries its role's name.
    return role && { personId: (connection.visitor.personId ?? 'wall') as PersonId, role }
  }

  #show({ changes, seq }: KeptChanges): void {
    const zoneOrName = changes.some((change) => change.kind === 'lab')
    const worn = this.#faces.write(changes, seq)
    for (const document of worn) void this.#rebirth(document)
    if (zoneOrName) this.#checkDay()
    const people = changes.filter((change) => change.kind === 'person')
    // After the receipts, which are said at the end of this step: whoever gave up a role still hears that it was kept.
    if (people.length > 0) queueMicrotask(() => queueMicrotask(() => this.#endChanged(people)))
  }

  /** Roles and sign-outs count at once on open connections. */
  #endChanged(people: readonly Change[]): void {
    const ids = new Set(people.map(({ id }) => id))
    for (const connection of [...this.#connections]) {
      const { personId, role } = connection.visitor
      if (personId === null || !ids.has(personId)) continue
      const now = this.#roleNow(personId)
      if (now === null) connection.end('signed-out')
      else if (now !== role) connection.end('role-changed')
    }
  }

  #rebirth(document: FaceDocument): Promise<void> {
    return this.#gate
      .turn(() => {
        if (this.#faces.find(document.home, document.face) !== document) return
        this.#faces.rebirth(document, this.#held.all, this.#gate.seq)
      })
      .catch(() => {})
  }

  #left(connection: Connection): void {
    if (this.#connections.delete(connection) && this.#connections.size === 0) this.onIdle()
  }

  #tick(): void {
    this.#cancelTick = this.#world.clock.after(TICK_MS, () => {
      for (const connection of this.#connections) connection.saySomething()
      this.#dropUnread()
      this.#tick()
    })
  }

  #dropUnread(): void {
    const now = this.#world.clock.now()
    for (const [document, since] of this.#unreadSince) {
      if (document.readers.size > 0) this.#unreadSince.delete(document)
      else if (now - since >= UNREAD_MS && document.home !== 'board') {
        this.#unreadSince.delete(document)
        this.#faces.drop(document)
        if (!this.#faces.all.some(({ home }) => home === document.home)) this.#held.release(document.home)
      }
    }
  }

  /** Looks whether the lab's day has changed, and when to look again. */
  #checkDay(): void {
    this.#cancelDay()
    if (this.#isClosed) return
    const { date } = this.when()
    if (date !== this.#faces.today) {
      this.#faces.today = date
      const wall = this.#faces.find('board', 'wall')
      if (wall) void this.#rebirth(wall)
      this.#beginDay()
    }
    const untilMidnight = instantOf(this.#zone, addDays(date, 1), 0) - this.#world.clock.now()
    this.#cancelDay = this.#world.clock.after(Math.max(1, Math.min(DAY_CHECK_MS, untilMidnight)), () =>
      this.#checkDay(),
    )
  }

  #beginDay(): void {
    const op = this.#held.all.lab.has('lab') && this.#world.dayOp?.(this.#faces.today)
    // The same id all day: whoever does it again, after a restart or on another server, does nothing.
    if (op) void this.submit(op, { personId: 'system' as PersonId, role: 'system' }).catch(() => {})
  }
}

/** The face a role is shown of a place; null when there is no such place or it is not for them. */
function faceAt(role: Role, place: string): Face | null {
  if (place.startsWith('text/')) {
    const home = `sheet/${place.slice('text/'.length)}`
    return isHome(home) ? faceFor(role, home) : null
  }
  return isHome(place) && place !== 'archive' ? faceFor(role, place) : null
}

class BadMessage extends Error {}

function parseMessage(text: string): ClientMessage {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    throw new BadMessage('not JSON')
  }
  const parsed = ClientMessage.safeParse(value)
  if (!parsed.success) throw new BadMessage('not a message')
  return parsed.data
}

/** What a refusal calls an op whose id is no id. */
function nameOf(op: unknown): string {
  const id = typeof op === 'object' && op !== null && 'id' in op ? op.id : ''
  return typeof id === 'string' ? id.slice(0, 100) : ''
}
