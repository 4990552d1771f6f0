// The labs of this server: each opened when first wanted, closed again when nobody has been there for a while. This is
// what the rest of the server knows of rooms, gate and documents.
//
//   const labs = openLabs({ store, clock, chance, log, ops, asks, dayOp, build })
//   const lab = await labs.lab('demo')
//   lab.mayOpen(session, 'board')            before the upgrade
//   lab.connect(socket, session, 'board', { epoch })
//   await lab.submit(op, who)                acts of the server itself and of http
//   lab.endSession(session.id)               signed out: open connections end at once
import type { AskTable } from './asks.ts'
import type { OpTable } from './gate.ts'
import { Room, type RoomWorld } from './room.ts'
import type { Store } from './store/contract.ts'
import { defaultLimits, type Limits } from './sync/limits.ts'
import { noTraces, type Spans } from './traces.ts'
import type { Chance, Clock, Log } from './world.ts'

export type { OpTable } from './gate.ts'
export type { Room as Lab, Session } from './room.ts'

export interface LabsOptions {
  readonly store: Store
  readonly clock: Clock
  readonly chance: Chance
  readonly log: Log
  readonly spans?: Spans
  readonly ops: OpTable
  /** Questions answered by computing. */
  readonly asks?: AskTable
  readonly dayOp?: RoomWorld['dayOp']
  readonly followUp?: RoomWorld['followUp']
  readonly limits?: Partial<Limits>
  readonly build?: string
  /** A lab without a connection for so long is closed; null keeps it open. */
  readonly idleMs?: number | null
}

export interface Labs {
  /** Opens a lab, or gives the open one. */
  readonly lab: (name: string) => Promise<Room>
  readonly close: () => Promise<void>
}

/** Makes the labs over a store. */
export function openLabs(options: LabsOptions): Labs {
  const {
    store,
    clock,
    chance,
    log,
    spans = noTraces,
    ops,
    asks = {},
    dayOp = null,
    followUp = null,
    limits,
    build = '',
    idleMs = null,
  } = options
  const open = new Map<string, Promise<Room>>()
  let isClosed = false

  async function openRoom(name: string): Promise<Room> {
    const room = await Room.open({
      lab: name,
      store,
      clock,
      chance,
      log,
      spans,
      ops,
      asks,
      dayOp,
      followUp,
      build,
      limits: { ...defaultLimits, ...limits },
    })
    if (idleMs !== null) {
      let cancel: (() => void) | null = null
      const closeIfIdle = () => {
        cancel = null
        if (room.connectionCount > 0) return
        open.delete(name)
        room.close().catch((error) => log('error', `A lab could not be closed: ${error}`, { lab: name }))
      }
      room.onIdle = () => {
        cancel?.()
        cancel = clock.after(idleMs, closeIfIdle)
      }
    }
    return room
  }

  return {
    lab: (name) => {
      if (isClosed) return Promise.reject(new Error('The server is stopping.'))
      let room = open.get(name)
      if (!room) {
        room = openRoom(name)
        open.set(name, room)
        room.catch(() => open.delete(name))
      }
      return room
    },
    close: async () => {
      isClosed = true
      const rooms = await Promise.allSettled(open.values())
      for (const room of rooms) if (room.status === 'fulfilled') await room.value.close()
      open.clear()
    },
  }
}
