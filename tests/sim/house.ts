// The servers of one simulated lab and the browsers around them: real rooms, gate and client sessions; false are only the
// clock, the chance, the wires and the disks. Everything that crosses a wire is looked at here: what a client was told,
// and whether anything was sent to somebody who may not read it.
import type * as Y from 'yjs'
import { type Random, seededRandom } from '#lib/base'
import { type Finding, PersonId, type Role } from '#lib/words'
import { memoryShelf, newDisk, type ShelfDisk } from '../../app/_board/core/memory-shelf.ts'
import { type Identity, keyOf, type Ports } from '../../app/_board/core/ports.ts'
import { Session } from '../../app/_board/core/session.ts'
import { labOps } from '../../server/lab-ops.ts'
import { type Lab, type Labs, openLabs } from '../../server/labs.ts'
import { sealed } from '../../server/sealing.ts'
import type { Socket } from '../../server/sync/socket.ts'
import { TabBus } from '../app/board/kit/tab-bus.ts'
import { noUploads } from '../app/board/kit/uploads.ts'
import { wireLines } from '../app/board/kit/wire-line.ts'
import type { FakeClock } from '../kit/fake-clock.ts'
import type { Wire } from '../kit/fake-socket.ts'
import type { Run, SimDisk } from './disk.ts'
import { leakedIn } from './secrets.ts'

export const LAB = 'lab1'

/** One process. */
export interface Server {
  readonly run: Run
  readonly labs: Labs
  readonly lab: Lab
}

/** What clients were told, and what went wrong on the way. */
export interface Heard {
  /** Position that a client was told, by op. */
  readonly kept: Map<string, number>
  readonly refused: Map<string, readonly Finding[]>
  readonly leaks: string[]
  readonly errors: unknown[]
}

/** One browser: its disk survives its tabs. */
export interface Device {
  readonly personId: string | null
  readonly sessionId: string
  readonly dice: Random
  /** Which server it goes to, if that is there. */
  serverAt: number
  isUp: boolean
  /** Messages are held for seconds. */
  isPartitioned: boolean
  /** Its clock is off by so much. */
  skewMs: number
  readonly disks: Map<string, ShelfDisk>
  last: Identity | null
  readonly bus: TabBus
  readonly wires: Set<Wire>
}

export interface Tab {
  readonly device: Device
  readonly session: Session
  /** The newest document of each home. */
  readonly docs: Map<string, Y.Doc>
  /** Where the line of each home leads. */
  readonly servers: Map<string, Server>
  isOpen: boolean
}

export class House {
  readonly clock: FakeClock
  readonly disk: SimDisk
  readonly servers: (Server | null)[] = [null, null]
  readonly heard: Heard = { kept: new Map(), refused: new Map(), leaks: [], errors: [] }
  /** Ops that a server judged and refused, whether its author heard of it or not. */
  readonly refusedOnce = new Set<string>()
  readonly #dice: Random
  readonly #count: (fault: string) => void
  /** Chance in a hundred that a frame to the server comes twice. */
  doublesPct = 3
  /** Chance in a hundred that a frame to the server is cut in the middle, and the line with it. */
  tornPct = 1
  #devices = 0

  constructor(clock: FakeClock, disk: SimDisk, dice: Random, count: (fault: string) => void) {
    this.clock = clock
    this.disk = disk
    this.#dice = dice
    this.#count = count
  }

  /** Starts a process on the disk. */
  async start(at: number): Promise<void> {
    const run: Run = { isDead: false, drops: new Set() }
    const dice = seededRandom(this.#dice.word())
    const chance = { bytes: (count: number) => Uint8Array.from({ length: count }, () => dice.below(256)) }
    const labs = openLabs({
      // A dead process has no timers.
      clock: {
        now: () => this.clock.now(),
        after: (ms, call) =>
          this.clock.after(ms, () => {
            if (!run.isDead) call()
          }),
      },
      store: sealed(this.disk.of(run), chance),
      chance,
      log: (level, what) => {
        if (what.startsWith('An op ')) this.heard.errors.push(`${level}: ${what}`)
      },
      ops: {
        ...labOps,
        judge: (records, op, who, when) => {
          const findings = labOps.judge(records, op, who, when)
          if (findings.length > 0) this.refusedOnce.add(op.id)
          return findings
        },
      },
      dayOp: (date) => ({ id: `begin-day-${date}`, kind: 'beginDay', date }),
    })
    this.servers[at] = { run, labs, lab: await labs.lab(LAB) }
  }

  /** kill -9: at whatever it is doing. */
  kill(at: number): void {
    const server = this.servers[at]
    if (!server) return
    server.run.isDead = true
    this.servers[at] = null
    for (const drop of server.run.drops) drop()
  }

  serverOf(device: { readonly serverAt: number }): Server | null {
    return this.servers[device.serverAt] ?? this.servers.find((server) => server !== null) ?? null
  }

  device(personId: string | null, serverAt = 0): Device {
    return {
      personId,
      sessionId: `session${this.#devices++}`,
      dice: seededRandom(this.#dice.word()),
      serverAt,
      isUp: true,
      isPartitioned: false,
      skewMs: 0,
      disks: new Map(),
      last: null,
      bus: new TabBus(this.clock),
      wires: new Set(),
    }
  }

  cut(device: Device): void {
    for (const wire of [...device.wires]) wire.cut()
    device.wires.clear()
  }

  /** Takes the server's end of a wire to its server, with everything that may happen on the way. */
  dial(device: Device, socket: Socket, home: string, epoch: string): Server | null {
    const server = this.serverOf(device)
    if (!device.isUp || !server) return null
    const person = device.personId === null ? null : PersonId.parse(device.personId)
    const visitor = { id: device.sessionId, personId: person }
    const role = server.lab.roleOf(visitor)
    server.lab.connect(this.#watched(socket, server.run, role, home, device), visitor, home, { epoch })
    return server
  }

  #watched(socket: Socket, run: Run, role: Role | null, home: string, device: Device): Socket {
    run.drops.add(socket.drop)
    return {
      ...socket,
      send: (frame) => {
        if (run.isDead) return
        for (const what of leakedIn(frame, role)) this.heard.leaks.push(`${what} to ${role ?? 'nobody'} on ${home}`)
        socket.send(frame)
      },
      onMessage: (listener) =>
        socket.onMessage((frame) => {
          if (run.isDead) return
          // The line breaks within the frame: its beginning is the last that the server hears.
          if (device.dice.below(100) < this.tornPct) {
            this.#count('tornFrames')
            listener(frame.slice(0, device.dice.below(frame.length)))
            socket.drop()
            return
          }
          listener(frame)
          if (device.dice.below(100) >= this.doublesPct) return
          this.#count('doubledFrames')
          listener(frame.slice())
        }),
      onClose: (listener) =>
        socket.onClose(() => {
          // Half open: the server hears of the end much later.
          if (device.dice.below(10) > 0) {
            if (!run.isDead) listener()
            return
          }
          this.#count('halfOpen')
          this.clock.after(5_000, () => {
            if (!run.isDead) listener()
          })
        }),
    }
  }

  tab(device: Device): Tab {
    const docs = new Map<string, Y.Doc>()
    const servers = new Map<string, Server>()
    const clock = { now: () => this.clock.now() + device.skewMs, after: this.clock.after }
    const open = wireLines({
      clock: this.clock,
      delayMs: () => (device.isPartitioned ? 500 + device.dice.below(6_000) : device.dice.below(30)),
      wires: device.wires,
      sent: [],
      onError: (error) => this.heard.errors.push(error),
      asTold: (hello) => hello,
      dial: (socket, home, epoch) => {
        const server = this.dial(device, socket, home, epoch)
        if (server) servers.set(home, server)
        return server !== null
      },
    })
    const ports: Ports = {
      clock,
      chance: () => device.dice.below(32),
      openLine: (home, doc, epoch, events) => {
        docs.set(home, doc)
        return open(home, doc, epoch, {
          ...events,
          message: (message) => {
            if (message.type === 'kept') for (const { id, seq } of message.items) this.heard.kept.set(id, seq)
            if (message.type === 'refused')
              for (const { id, findings } of message.items) this.heard.refused.set(id, findings)
            return events.message(message)
          },
        })
      },
      openShelf: async (identity) => {
        const key = keyOf(identity)
        const shelf = device.disks.get(key) ?? newDisk()
        device.disks.set(key, shelf)
        return memoryShelf(shelf)
      },
      uploads: noUploads,
      openTabs: (identity) => device.bus.join(keyOf(identity)),
      askWho: async () => {
        await new Promise<void>((resolve) => this.clock.after(1, resolve))
        const lab = device.isUp ? this.serverOf(device)?.lab : null
        if (!lab) return null
        if (device.personId === null) return { identity: { lab: LAB, personId: null, role: 'wall' } }
        const person = lab.records.person.get(device.personId)
        return person?.isActive
          ? { identity: { lab: LAB, personId: person.id, role: person.role } }
          : { signedOut: true }
      },
      last: {
        get: () => device.last,
        set: (identity) => {
          device.last = identity
        },
      },
      nextFrame: (call) => {
        this.clock.after(16, call)
      },
      report: (error) => this.heard.errors.push(error),
      forgetPages: () => {},
    }
    const session = new Session(ports)
    session.start()
    return { device, session, docs, servers, isOpen: true }
  }
}
