// One lab in this process: open here, or open in another process that this one hands on to. Opened by `enter`, closed for
// good by `close`; in between it is lost and won again with the database's lock, and closed and opened by a restore.
import { hostname } from 'node:os'
import { writeLog } from './audit.ts'
import { fetchCalendar } from './calendar-in/fetch-calendar.ts'
import { type Console, makeConsole } from './console.ts'
import { checkKind, readyCopy, writeCopy } from './copies.ts'
import { type House, openHouse, type World } from './house.ts'
import { makeApi } from './http/api.ts'
import type { LabAtPort } from './http/lab-at-port.ts'
import { keptIn } from './installation.ts'
import { linkBase, linkFor } from './links.ts'
import { type OpenOptions, openLab } from './open-lab.ts'
import { calendarBehind } from './out/calendar.ts'
import { writeEverything } from './out/files.ts'
import { outletsOf } from './out/outlets.ts'
import { lookingIn } from './photos/looking.ts'
import { type OpenPhotos, openPhotos } from './photos/open.ts'
import { readingsOf } from './readings.ts'
import type { Settings } from './settings.ts'
import { standBy } from './stand-by.ts'
import { OwnedElsewhere } from './store/contract.ts'

export interface LabHere extends Pick<LabAtPort, 'labId' | 'open' | 'connect'> {
  /** Opens the lab, or begins to stand by; throws what is wrong with the settings or the store. */
  readonly enter: () => Promise<void>
  readonly house: () => House | null
  readonly elsewhere: ReturnType<typeof standBy>['elsewhere']
  /** Leaves word in the data folder where this process is reached, once it is known and the lab is open. */
  readonly announce: () => void
  /** True while edits can be kept, here or where this process hands on to. */
  readonly isReady: () => boolean
  /** False while it is known that photographs can be neither kept nor shown. */
  readonly arePhotosWell: () => boolean
  readonly errand: Console['errand']
  /** Finishes what is being kept and says goodbye to everybody here. */
  readonly close: () => Promise<void>
}

export interface LabHereOptions {
  readonly settings: Settings
  readonly world: World & OpenOptions
  /** Where this process is reached; empty while that is not known yet. */
  readonly base: () => string
  /** A restore left no lab that could be opened. */
  readonly onStuck: () => void
}

/** Makes it; nothing is opened yet. */
export function labHere({ settings, world, base, onStuck }: LabHereOptions): LabHere {
  const { log, clock } = world
  let opened: Opened | null = null
  let labId = ''
  let isOver = false
  // Kept over restores: what is being uploaded goes on.
  const photographs = openPhotos(settings.photos, settings.data, world)
  // Told where it is waited for.
  photographs.catch(() => {})
  const isShared = keptIn(settings.data, settings.store).kind === 'postgres'

  /** Opens the lab as the settings say, here and now. */
  async function open(how: Settings): Promise<void> {
    let isLost = false
    const onLost = () => {
      isLost = true
      if (opened) void lost()
    }
    const shared = { address: settings.address ?? addressOf(base()), onLost }
    const kept = await photographs
    const house = await openHouse(how, world, (store, id) => openLab(store, id, world), shared)
    // Closed meanwhile: nobody would let go of it any more.
    if (isLost || isOver) {
      await house.close()
      throw new OwnedElsewhere(null)
    }
    opened = { ...withApi(house, world, kept.photos), ...kept }
    labId = house.labId
    announce()
  }
  // Whatever this start was asked to make is made once.
  const again = { ...settings, newLab: null }
  let isFirst = true
  const stands = standBy(async () => {
    await open(isFirst ? settings : again)
    isFirst = false
  }, world)

  /** Another process has the lab and writes: whoever is here is sent there, by way of us. */
  async function lost(): Promise<void> {
    log('warn', 'another Talus writes to the database now; this one stands by. Nothing that was called kept is lost')
    const former = opened
    opened = null
    errands.withdraw()
    stands.wait()
    await former?.house.close().catch((error) => log('warn', 'closing what was lost failed', { error: String(error) }))
  }

  const errands = makeConsole(settings.data, {
    async backup(file) {
      const { store } = here()
      const photos = await writeCopy(store, (await photographs).shelf, file)
      return `The lab in ${settings.data} is copied to ${file}, while it runs.${photos}`
    },
    async export(file) {
      const at = new Date(clock.now()).toISOString()
      return `Everything of the lab in ${settings.data} ${await writeEverything(here().store, labId, (await photographs).shelf, file, at)}`
    },
    log: async (file) => writeLog(here().store, labId, file),
    invite: async (name) => linkFor(here(), name, linkBase(settings, base())),
    async restore(file) {
      const house = here()
      if (isShared)
        throw new Error(
          'A lab in PostgreSQL is restored into an empty database: stop Talus, and name one in TALUS_STORE.',
        )
      const copy = await readyCopy(file, settings.data)
      try {
        checkKind(labId, copy.isDemo, settings.data)
        const photos = await copy.bringPhotos((await photographs).shelf)
        opened = null
        await house.close()
        const { former, undo } = copy.use()
        try {
          await open(again)
        } catch (error) {
          undo()
          await open(again)
          throw error
        }
        return `The running lab is the one of ${file} now; what was there before is in ${former}.${photos}`
      } finally {
        copy.drop()
        if (!opened) {
          log('error', 'the lab could not be opened again after a restore; its former data is in the data folder')
          onStuck()
        }
      }
    },
  })

  function here(): House {
    if (!opened) throw new Error('The lab is not open here just now. Try again in a moment.')
    return opened.house
  }

  function announce(): void {
    const url = base()
    // The console asks the process itself, beside the path below which the lab may stand.
    if (opened && url !== '') errands.announce(new URL(url).origin)
  }

  return {
    labId: () => labId,
    house: () => opened?.house ?? null,
    open: () => opened,
    elsewhere: stands.elsewhere,
    isReady: () => opened?.house.isWell() ?? stands.elsewhere()?.isReady ?? false,
    arePhotosWell: () => opened?.photos.isWell() ?? true,
    connect(socket, arrival) {
      if (opened) opened.house.lab.connect(socket, arrival)
      else socket.close()
    },
    errand: errands.errand,
    announce,
    enter: stands.enter,
    async close() {
      isOver = true
      stands.stop()
      errands.withdraw()
      const former = opened
      opened = null
      await former?.house.close()
    },
  }
}

/** What other machines may reach this one by, when nobody said. */
function addressOf(base: string): string | null {
  if (base === '') return null
  const url = new URL(base)
  if (url.hostname === 'localhost') url.hostname = hostname()
  return url.origin
}

type Opened = ReturnType<typeof withApi> & OpenPhotos

const withApi = (house: House, { clock, build = '' }: World & OpenOptions, photos: OpenPhotos['photos']) => ({
  house,
  door: house.door,
  mayLook: lookingIn(house),
  api: makeApi({ door: house.door, readings: readingsOf(house, clock), clock, build, fetchCalendar }),
  outlets: outletsOf({ ...house, photos }, clock),
  calendar: calendarBehind(house, clock),
})
