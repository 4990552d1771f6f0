// Everything that lives while one lab is open: its store, its rooms, its door. Opened at the start, closed at the end,
// and closed and opened again around a restore. One folder holds one lab: a demo stays a demo, a real lab real.
import type { WebSocket } from 'ws'
import { type Door, type LabBehind, openDoor, type PinBrakes, type Session } from './door/index.ts'
import { foundDemo, foundLab } from './found.ts'
import type { Arrival } from './http/sockets.ts'
import { keptIn, schemaOf } from './installation.ts'
import { keepDemoPhotos } from './photos/demo-photos.ts'
import { openPhotos } from './photos/open.ts'
import { labsIn, logsOf, type Reads } from './reads.ts'
import { sealed, verifyLog } from './sealing.ts'
import type { Settings } from './settings.ts'
import { type Store, StoreTrouble } from './store/contract.ts'
import { openStore, type Shared } from './store/open.ts'
import type { Chance, Clock, Log } from './world.ts'

/** The open lab as the house needs it. */
export interface OpenLab extends LabBehind {
  readonly connect: (socket: WebSocket, arrival: Arrival) => void
  /** Ends the connections of a session whose standing is over. */
  readonly signOut: (session: Session) => void
  /** Notes that somebody is being shown something private. */
  readonly noteRead: Reads['note']
  readonly isWell: () => boolean
  readonly connections: () => number
  /** Finishes what is being kept, says goodbye to everybody. */
  readonly close: () => Promise<void>
}

export interface House {
  readonly store: Store
  readonly labId: string
  readonly lab: OpenLab
  readonly door: Door
  /** False while nothing can be kept. */
  readonly isWell: () => boolean
  readonly close: () => Promise<void>
}

export interface World {
  readonly clock: Clock
  readonly chance: Chance
  readonly log: Log
  /** Lays counting over the store. */
  readonly measured?: (store: Store) => Store
  /** What slows the guessing of PINs down; the lab's own, and as old as the house, unless given. */
  readonly brakes?: PinBrakes
}

/** What the settings ask for cannot be had from this folder; the message is for eyes. */
export class WrongFolder extends Error {}

/** What of the settings a house is opened with. */
export type HouseSettings = Pick<Settings, 'data' | 'store' | 'photos' | 'newLab' | 'makesDemo' | 'zone' | 'scale'>

const SWEEP_MS = 60_000

/** Opens the store of the settings, makes the lab if it is to be made, and opens it. */
export async function openHouse(
  settings: HouseSettings,
  world: World,
  openLab: (store: Store, labId: string) => Promise<OpenLab>,
  shared: Omit<Shared, 'schema'> = { address: null, onLost: () => {} },
): Promise<House> {
  const { clock } = world
  const { data } = settings
  const opened = await openStore(keptIn(data, settings.store), data, { ...shared, schema: schemaOf(data) })
  const plain = world.measured?.(opened) ?? opened
  const store = sealed(plain, world.chance)
  try {
    const labId = await labIn(store, settings, world)
    const lab = await openLab(store, labId)
    const door = await openDoor(store.door, lab, world, lab.signOut)
    let stopSweeping = () => {}
    const sweep = () => {
      door.sweep().catch((error) => world.log('warn', 'sweeping the door failed', { error: String(error) }))
      store.door.sweep(clock.now()).catch((error) => world.log('warn', 'sweeping failed', { error: String(error) }))
      stopSweeping = clock.after(SWEEP_MS, sweep)
    }
    stopSweeping = clock.after(SWEEP_MS, sweep)
    void lookOver(store, labId, world)
    return {
      store,
      labId,
      lab,
      door,
      isWell: () => store.isWell() && lab.isWell(),
      async close() {
        stopSweeping()
        await lab.close()
        await store.close()
      },
    }
  } catch (error) {
    await store.close()
    throw error
  }
}

/** Of the time that going over the logs takes, edits have so many parts for each part of it. */
const REST_SHARE = 4

/** Goes over the logs while the lab is open already, and says when they are not what was written. */
async function lookOver(store: Store, labId: string, { log, clock }: World): Promise<void> {
  let began = clock.now()
  const rest = () =>
    new Promise<void>((next) => {
      clock.after(REST_SHARE * Math.max(1, clock.now() - began), () => {
        began = clock.now()
        next()
      })
    })
  try {
    for (const [name, kept] of logsOf(labId)) {
      const { entries, broken } = await verifyLog(store, kept, undefined, rest)
      const [first] = broken
      if (first)
        log('error', 'the log is not what was written: somebody changed the data', {
          ...{ log: name, entries, position: first.seq, what: first.what },
        })
    }
  } catch (error) {
    // Closed meanwhile, or in trouble that others have told of.
    if (!(error instanceof StoreTrouble)) log('error', 'the log could not be gone over', { error: String(error) })
  }
}

/** The folder's lab; made first when the folder is new. */
async function labIn(
  store: Store,
  { data, newLab, makesDemo, zone, scale, photos: place }: HouseSettings,
  world: World,
): Promise<string> {
  const [found, another] = await labsIn(store)
  if (another) throw new WrongFolder(`The folder ${data} holds more than one lab; this version serves one.`)
  if (!found && newLab === null) {
    if (!makesDemo) throw new WrongFolder(`There is no lab in ${data}.`)
    const { photos } = await openPhotos(place, data, world)
    return foundDemo(store, world, zone, scale, (wanted) => keepDemoPhotos(photos, wanted))
  }
  if (!found) return foundLab(store, world, zone, newLab ?? '')
  if (newLab !== null) {
    const what = found.startsWith('demo-') ? 'the demo lab' : 'a lab'
    throw new WrongFolder(`The folder ${data} holds ${what} already. Make the new one in an empty folder.`)
  }
  return found
}
