// A lab with its real rooms, gate and acts on a store in memory, and devices with real client sessions around it, all
// in one process over one clock. What is false here is only the clock, the chance, the wires and the disks.
import { seededRandom } from '#lib/base'
import {
  type AnyRecord,
  type Change,
  faceFor,
  homeOf,
  type Kind,
  kindNames,
  noRecords,
  PersonId,
  project,
  put,
  type Records,
  type Role,
} from '#lib/words'
import { memoryShelf, newDisk, type ShelfDisk } from '../../../../app/_board/core/memory-shelf.ts'
import { type Identity, keyOf, type Ports } from '../../../../app/_board/core/ports.ts'
import { Session } from '../../../../app/_board/core/session.ts'
import { labOps } from '../../../../server/lab-ops.ts'
import { type Lab, type Labs, openLabs } from '../../../../server/labs.ts'
import type { Store } from '../../../../server/store/contract.ts'
import { memoryStore } from '../../../../server/store/memory.ts'
import { fakeClock } from '../../../kit/fake-clock.ts'
import type { Wire } from '../../../kit/fake-socket.ts'
import { aSmallLab, NOW } from '../../../kit/makers.ts'
import { TabBus } from './tab-bus.ts'
import { fakeUploads } from './uploads.ts'
import { wireLines } from './wire-line.ts'

const LAB = 'lab1'

export type World = Awaited<ReturnType<typeof aWorld>>

/** One browser: its disk survives its tabs. */
export type Device = {
  readonly name: string
  /** Whose cookie it holds; null is signed out. */
  personId: string | null
  net: { isUp: boolean; delayMs: () => number }
  readonly disks: Map<string, ShelfDisk>
  readonly last: { value: Identity | null }
  readonly bus: TabBus
  readonly wires: Set<Wire>
  readonly sent: { readonly home: string; readonly text: string }[]
  forgotten: number
}

/** Opens a lab with these records. */
export async function aWorld({ seed = 1, records = aSmallLab() }: { seed?: number; records?: Records } = {}) {
  const clock = fakeClock(Date.parse(NOW))
  const dice = seededRandom(seed)
  const disk = { isFull: false }
  const whole = memoryStore()
  /** The disk as one run of the server has it: a killed one writes no more. */
  const storeOf = (run: { readonly isKilled: boolean }): Store => ({
    ...whole,
    append: (...args) => {
      if (run.isKilled) return new Promise(() => {})
      return disk.isFull ? Promise.reject(new Error('No space left')) : whole.append(...args)
    },
  })
  await found(whole, records)
  const said: string[] = []
  const errors: unknown[] = []
  let sessions = 0
  let labs: Labs | null = null
  let lab: Lab | null = null
  const keys = new Map<Device, string>()
  const files = fakeUploads()

  let run = { isKilled: false }
  /** What another version of the server says differently in its hello. */
  let otherVersion: Readonly<Record<string, unknown>> = {}

  async function open(): Promise<void> {
    run = { isKilled: false }
    labs = openLabs({
      clock,
      store: storeOf(run),
      chance: { bytes: (count) => Uint8Array.from({ length: count }, () => dice.below(256)) },
      log: (level, what) => said.push(`${level}: ${what}`),
      // The gate hands a table only what the table's own parse has made.
      ops: labOps,
    })
    lab = await labs.lab(LAB)
  }
  await open()

  function sessionOf(device: Device): string {
    let key = keys.get(device)
    if (!key) {
      key = `session${sessions++}`
      keys.set(device, key)
    }
    return key
  }

  function device(personId: string | null, name: string = personId ?? 'nobody'): Device {
    return {
      name,
      personId,
      net: { isUp: true, delayMs: () => 1 },
      disks: new Map(),
      last: { value: null },
      bus: new TabBus(clock),
      wires: new Set(),
      sent: [],
      forgotten: 0,
    }
  }

  /** Opens a tab on a device. */
  function tab(on: Device): Session {
    const ports: Ports = {
      clock,
      chance: () => dice.below(32),
      openLine: wireLines({
        clock,
        delayMs: () => on.net.delayMs(),
        wires: on.wires,
        sent: on.sent,
        onError: (error) => errors.push(error),
        asTold: (hello) => ({ ...hello, ...otherVersion }),
        dial: (socket, home, epoch) => {
          const now = lab
          if (!on.net.isUp || !now || on.personId === null) return false
          const person = on.personId === 'wall' ? null : PersonId.parse(on.personId)
          now.connect(socket, { id: sessionOf(on), personId: person }, home, { epoch })
          return true
        },
      }),
      openShelf: async (identity) => {
        const key = keyOf(identity)
        let disk = on.disks.get(key)
        if (!disk) {
          disk = newDisk()
          on.disks.set(key, disk)
        }
        return memoryShelf(disk)
      },
      uploads: {
        ...files.uploads,
        ask: async (...asked) => (on.net.isUp ? files.uploads.ask(...asked) : null),
        send: async (...sent) => (on.net.isUp ? files.uploads.send(...sent) : null),
      },
      openTabs: (identity) => on.bus.join(keyOf(identity)),
      askWho: async () => {
        await new Promise<void>((resolve) => clock.after(1, resolve))
        if (!on.net.isUp || !lab) return null
        if (on.personId === null) return { signedOut: true }
        const person = lab.records.person.get(on.personId)
        if (on.personId === 'wall') return { identity: { lab: 'lab', personId: null, role: 'wall' } }
        return person?.isActive
          ? { identity: { lab: 'lab', personId: person.id, role: person.role } }
          : { signedOut: true }
      },
      last: {
        get: () => on.last.value,
        set: (identity) => {
          on.last.value = identity
        },
      },
      nextFrame: (call) => {
        clock.after(16, call)
      },
      report: (error) => errors.push(error),
      forgetPages: () => {
        on.forgotten++
      },
    }
    const session = new Session(ports)
    session.start()
    return session
  }

  return {
    clock,
    /** Everything kept after the founding, oldest first. */
    entries: async () => (await whole.read(LAB, 1, 100_000)).filter((entry) => entry.personId !== null),
    /** The server's disk. */
    disk,
    said,
    errors,
    /** Files that were sent. */
    files,
    device,
    tab,
    get lab(): Lab {
      if (!lab) throw new Error('Believed: the server is up')
      return lab
    },
    /** All that a role may read, as the server has it. */
    truthFor: (role: Role) =>
      shown(lab?.records ?? noRecords(), role, new Date(clock.now()).toISOString().slice(0, 10)),
    cut(on: Device): void {
      on.net.isUp = false
      for (const wire of [...on.wires]) wire.cut()
      on.wires.clear()
    },
    mend(on: Device): void {
      on.net.isUp = true
    },
    /** The server goes (kill: without a word) and comes again on the same store. */
    async restart({ isKilled = false, devices = [] as readonly Device[] } = {}): Promise<void> {
      const old = labs
      lab = null
      if (isKilled) {
        run.isKilled = true
        for (const one of devices) for (const wire of [...one.wires]) wire.cut()
      } else await old?.close()
      await open()
    },
    async down(): Promise<void> {
      const old = labs
      lab = null
      await old?.close()
    },
    up: open,
    /** The server is another version of Talus from now on, or ({}) the one that newly opened tabs are of. */
    become(version: Readonly<Record<string, unknown>>): void {
      otherVersion = version
    },
    /** Another person on this device, as after a PIN. */
    switchTo(on: Device, personId: string | null): void {
      const key = keys.get(on)
      keys.delete(on)
      on.personId = personId
      if (key) lab?.endSession(key)
    },
    async close(): Promise<void> {
      await labs?.close()
    },
  }
}

async function found(store: Store, records: Records): Promise<void> {
  const changes: Change[] = []
  for (const kind of kindNames) for (const record of records[kind].values()) changes.push(put(kind, record as never))
  await store.append(LAB, 0, [{ opId: 'found', kind: 'found', op: {}, personId: null, at: NOW, changes, subjects: [] }])
}

/** Records of board and office as a role may read them. */
export function shown(records: Records, role: Role, today: string): Records {
  const result = noRecords() as unknown as Record<Kind, Map<string, AnyRecord>>
  for (const kind of kindNames) {
    for (const [id, record] of records[kind] as ReadonlyMap<string, AnyRecord>) {
      const home = homeOf(kind, record)
      if (home !== 'board' && home !== 'office') continue
      const face = faceFor(role, home)
      const seen = face && project(face, kind, record, today)
      if (seen) result[kind].set(id, seen)
    }
  }
  return result as unknown as Records
}
