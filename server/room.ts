// One lab while it is open: its records, the line to the gate, the documents derived from them, and everybody connected.
// What comes in on a socket is sorted here; what is kept is shown from here. The life of a connection:
//
//   connect → hello {epoch} → (same epoch, or none yet) step 1 ⇄ step 2 → updates …
//                           → (another epoch) nothing: the client drops its copy and comes again

import type { When, Who } from '#lib/ops'
import {
  type Change,
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
import type { AskTable } from './asks.ts'
import { Calendar } from './calendar.ts'
import { type Behind, Desk } from './desk.ts'
import { editSpans } from './edit-spans.ts'
import type { OpTable } from './gate.ts'
import { GateQueue } from './gate-queue.ts'
import { HeldRecords } from './held-records.ts'
import type { KeptChanges } from './keeping.ts'
import { Presence } from './presence.ts'
import { Reading } from './reading.ts'
import type { Store } from './store/contract.ts'
import { Connection, type Place, type Visitor } from './sync/connection.ts'
import { type Limits, Purses } from './sync/limits.ts'
import { CLOSE, type Socket } from './sync/socket.ts'
import { TextRooms } from './text-rooms.ts'
import type { Spans } from './traces.ts'
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
  readonly spans: Spans
  readonly ops: OpTable
  readonly asks: AskTable
  readonly limits: Limits
  /** Names the running build in `hello`. */
  readonly build: string
  /** Makes the server's own op for a day that begins; null where there is none. */
  readonly dayOp: ((date: string) => { readonly id: string; readonly kind: string }) | null
  /** What the server does by itself after what was kept; null where there is nothing. */
  readonly followUp: FollowUp | null
}

/**
 * What the server works out from the records by itself: acts of its own, and records that follow from others and are in
 * no log, since a restart works them out again.
 */
export interface FollowUp {
  /** True when changes call for a look; one is taken as the lab opens too. */
  readonly concerns: (changes: readonly Change[]) => boolean
  readonly look: (
    records: Records,
    when: When,
  ) => { readonly ops: readonly { readonly id: string; readonly kind: string }[]; readonly derived: readonly Change[] }
}

/** A batch for few readers leaves at once; for many, batches keep this distance. */
const SPACING_PER_READER_MS = 0.05
const SPACING_MAX_MS = 10
const TICK_MS = 10_000
/** What follows from an edit may be this late. */
const LOOK_MS = 100
/** Working it out takes at most one part in so many of the time, as long as it is not later than this. */
const LOOK_SPACING = 20
const LOOK_LATEST_MS = 5_000
/** The server itself carries its role's name in place of a person's id. */
const SYSTEM: Who = { personId: 'system' as PersonId, role: 'system' }
/** Zone of a lab that has no settings yet. */
const ZONE_UNKNOWN = 'UTC'

export class Room {
  readonly #world: RoomWorld
  readonly #held = new HeldRecords()
  readonly #gate: GateQueue
  readonly #reading: Reading
  readonly #presence: Presence
  readonly #texts: TextRooms
  readonly #calendar: Calendar
  readonly #connections = new Set<Connection>()
  readonly #purses: Purses
  #cancelTick: () => void = () => {}
  #cancelLook: (() => void) | null = null
  #nextLookAt = 0
  #isClosed = false
  /** Called when the last connection has gone. */
  onIdle: () => void = () => {}

  private constructor(world: RoomWorld) {
    this.#world = world
    this.#presence = new Presence(world.clock)
    this.#purses = new Purses(world.limits, world.clock)
    this.#texts = new TextRooms(world)
    const zone = () => this.#held.all.lab.get('lab')?.zone ?? ZONE_UNKNOWN
    this.#calendar = new Calendar(world.clock, zone, (date) => this.#beginDay(date))
    this.#gate = new GateQueue({
      ...world,
      spans: editSpans(world.spans),
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
    this.#reading = new Reading({ ...world, held: this.#held, gate: this.#gate })
  }

  /** Opens a lab from its store. */
  static async open(world: RoomWorld): Promise<Room> {
    const room = new Room(world)
    await room.#gate.open()
    room.#tick()
    room.#calendar.look()
    room.#lookSoon()
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
    return this.#calendar.when()
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
    const purse = this.#purses.open(session.personId ?? session.id)
    const connection = new Connection(socket, visitor, place as Place, { ...this.#world, purse })
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
    this.#cancelLook?.()
    this.#calendar.stop()
    await this.#gate.close()
    await this.#texts.close()
    for (const connection of [...this.#connections]) connection.end('stopping')
    this.#presence.close()
    this.#reading.close()
  }

  async #openDocument(connection: Connection, home: Home, face: Face, epoch: string): Promise<void> {
    const hello = (current: string) => this.#hello(connection, current)
    const read = await this.#reading.open(connection, { home, face, epoch }, hello)
    if (!read) return
    const desk = home === 'board' ? new Desk(connection, this.#behind(connection)) : null
    connection.onEnd(() => {
      read.leave()
      desk?.leave()
      this.#left(connection)
    })
    connection.handle((said) => {
      if (said.what === 'step 1') read.sync(said.stateVector)
      // What a client has is no news here: the server is the only writer (a provider repeats what it loaded from disk).
      else if (said.what === 'update') return
      // Acts, questions and presence have their place on the board's connection alone.
      else if (desk) desk.hear(said)
      else connection.end('bad-message')
    })
    if (this.#gate.state === 'read-only' && desk) connection.say({ type: 'state', state: 'read-only' })
    desk?.join()
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
        if (connection.purse.syncs.take(1)) text.sync(said.stateVector)
        else connection.end('too-much')
      } else if (said.what === 'update') {
        if (isCurrent) text.write(said.update)
      } else if (said.what !== 'step 1') connection.end('bad-message')
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

  #behind(connection: Connection): Behind {
    return {
      ...this.#world,
      presence: this.#presence,
      submit: (op, who, answer) => this.#gate.submit(op, who, answer),
      who: () => this.#whoIs(connection),
      nameOf: (personId) => this.#held.all.person.get(personId)?.name ?? '',
      askContext: (who) => ({
        who,
        when: this.when(),
        look: onceOnly(() => ({ seq: this.#gate.seq, records: this.#held.copy() })),
      }),
    }
  }

  /** Who acts on a connection, as of now; null once they may not act any more. */
  #whoIs(connection: Connection): Who | null {
    // What was not judged when the line broke is forgotten: it comes again with the next connection, perhaps to another
    // server, and must not be judged twice. After a sign-out it must not be judged at all.
    if (connection.isEnded) return null
    const { personId, role } = connection.visitor
    // Whoever has left the lab is judged as what they were, and refused as nobody of the lab: that they left may be taken
    // back, if it cannot be kept. The door made the id from a person's record; the Wall carries its role's name.
    return { personId: (personId ?? 'wall') as PersonId, role: this.#roleNow(personId) ?? role }
  }

  #show(kept: KeptChanges): void {
    const { changes } = kept
    this.#reading.show(kept)
    if (this.#world.followUp?.concerns(changes)) this.#lookSoon()
    if (changes.some(({ kind }) => kind === 'lab')) this.#calendar.look()
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

  /** Looks once for all that was kept within a moment, and never before the receipts of it are out. */
  #lookSoon(): void {
    const { followUp, clock, log } = this.#world
    if (!followUp || this.#isClosed) return
    const waitMs = Math.min(LOOK_LATEST_MS, Math.max(LOOK_MS, this.#nextLookAt - clock.now()))
    this.#cancelLook ??= clock.after(waitMs, () => {
      this.#cancelLook = null
      const began = clock.now()
      try {
        const { ops, derived } = followUp.look(this.#held.all, this.when())
        for (const op of ops) void this.submit(op, SYSTEM).catch(() => {})
        if (derived.length === 0) return
        this.#held.apply(derived)
        this.#reading.show({ changes: derived, seq: this.#gate.seq })
      } catch (error) {
        // What follows can be worked out another time; what was kept stands.
        log(
          'error',
          `What follows from the records could not be worked out: ${error instanceof Error ? error.stack : error}`,
        )
      }
      this.#nextLookAt = clock.now() + LOOK_SPACING * (clock.now() - began)
    })
  }

  #left(connection: Connection): void {
    if (this.#connections.delete(connection) && this.#connections.size === 0) this.onIdle()
  }

  #tick(): void {
    this.#cancelTick = this.#world.clock.after(TICK_MS, () => {
      for (const connection of this.#connections) connection.saySomething()
      this.#reading.dropUnread()
      this.#tick()
    })
  }

  #beginDay(date: string): void {
    this.#reading.turnTo(date)
    // The op's id is the day's: whoever does it again, after a restart or on another server, does nothing.
    const op = this.#held.all.lab.has('lab') && this.#world.dayOp?.(date)
    if (op) void this.submit(op, SYSTEM).catch(() => {})
  }
}

/** What was made the first time is given every time. */
function onceOnly<T extends object>(make: () => T): () => T {
  let made: T | null = null
  return () => {
    made ??= make()
    return made
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
