// The server: reads settings, makes clock and chance, opens the lab, puts http and pages in front, and ends in good
// order. With errands.ts the only code that knows the process it runs in; start.mjs calls `main` once all is built.
import { mkdirSync } from 'node:fs'
import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { hostname } from 'node:os'
import { writeLog } from './audit.ts'
import { fetchCalendar } from './calendar-in/fetch-calendar.ts'
import { makeConsole } from './console.ts'
import { checkKind, photosIn, readyCopy, writeCopy } from './copies.ts'
import { type House, openHouse, WrongFolder } from './house.ts'
import { hostsOf } from './http/address.ts'
import { makeApi } from './http/api.ts'
import { openPages } from './http/pages.ts'
import { makeHttp } from './http/server.ts'
import { makeSockets } from './http/sockets.ts'
import { firstLinks } from './links.ts'
import { makeLog } from './logs.ts'
import { makeMetrics, serveMetrics } from './metrics.ts'
import { openLab } from './open-lab.ts'
import { calendarBehind } from './out/calendar.ts'
import { writeEverything } from './out/files.ts'
import { type Outlets, outletsOf } from './out/outlets.ts'
import { photoFolder } from './photos/folder.ts'
import { lookingIn, type MayLook } from './photos/looking.ts'
import { readingsOf } from './readings.ts'
import { BadSetting, readSettings, type Settings } from './settings.ts'
import { standBy } from './stand-by.ts'
import { OwnedElsewhere, StoreTrouble } from './store/contract.ts'
import { clockFrom, systemChance } from './system-world.ts'
import type { Clock, Log } from './world.ts'

/** How long connections may take to end by themselves. */
const GRACE_MS = 1500
/** Time for a last answer to reach the console. */
const ANSWER_MS = 200

const say = (line: string) => process.stdout.write(`${line}\n`)

export interface Start {
  readonly args: readonly string[]
  readonly root: string
  readonly build: string
  readonly isDev: boolean
}

/** Starts the server; it ends the process by itself, with exit code 0 after a signal and 1 when it could not start. */
export async function main(start: Start): Promise<void> {
  try {
    await serve(start, readSettings(start.args, process.env, start.root))
  } catch (error) {
    const message = messageFor(error)
    if (message === null) throw error
    process.stderr.write(`${message}\n`)
    process.exit(1)
  }
}

async function serve({ root, build, isDev }: Start, settings: Settings): Promise<void> {
  const log = makeLog(settings.log, process.stderr)
  const readable = {
    isReady: () => isReady(),
    isOpen: () => opened !== null,
    connections: () => opened?.house.lab.connections() ?? 0,
  }
  const metrics = settings.metrics === null ? null : makeMetrics(readable)
  const world = {
    clock: clockFrom(settings.asIf),
    chance: systemChance,
    log,
    ...(metrics && { measured: metrics.measured }),
  }
  mkdirSync(settings.data, { recursive: true })
  let opened: Opened | null = null
  let labId = ''
  let base = ''
  const isShared = settings.store.kind === 'postgres'
  const isReady = () => opened?.house.isWell() ?? stands.elsewhere()?.isReady ?? false

  /** Opens the lab as the settings say, here and now. */
  async function open(how: Settings): Promise<void> {
    let isLost = false
    const onLost = () => {
      isLost = true
      if (opened) void lost()
    }
    const shared = { address: settings.address ?? addressOf(base), onLost }
    const house = await openHouse(how, world, (store, id) => openLab(store, id, { ...world, build }), shared)
    if (isLost) {
      await house.close()
      throw new OwnedElsewhere(null)
    }
    opened = withApi(house, world.clock, build)
    labId = house.labId
    if (base !== '') errands.announce(base)
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
      if (!opened) throw new Error('The lab is not open here just now. Try again in a moment.')
      const photos = await writeCopy(opened.house.store, settings.data, file)
      return `The lab in ${settings.data} is copied to ${file}, while it runs.${photos}`
    },
    async export(file) {
      if (!opened) throw new Error('The lab is being restored. Try again in a moment.')
      await writeEverything(opened.house.store, labId, file, new Date(world.clock.now()).toISOString())
      return `Everything of the lab in ${settings.data} is in ${file}.`
    },
    async log(file) {
      if (!opened) throw new Error('The lab is not open here just now. Try again in a moment.')
      return writeLog(opened.house.store, labId, file)
    },
    async restore(file) {
      if (!opened) throw new Error('The lab is being restored already.')
      if (isShared)
        throw new Error(
          'A lab in PostgreSQL is restored into an empty database: stop Talus, and name one in TALUS_STORE.',
        )
      const copy = await readyCopy(file, settings.data)
      try {
        checkKind(labId, copy.isDemo, settings.data)
        const photos = await copy.bringPhotos()
        const { house } = opened
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
          setTimeout(() => process.exit(1), ANSWER_MS)
        }
      }
    },
  })

  const sockets = makeSockets((socket, arrival) => {
    if (opened) opened.house.lab.connect(socket, arrival)
    else socket.close()
  })
  const isHost = hostsOf([...settings.hosts, settings.host ?? '', hostname(), `${hostname()}.local`])
  // A demo lab lets anybody choose whom to be: a page from elsewhere must not reach it under a name of its own. In a
  // real lab the cookie is bound to the name one came in by.
  const isDemo = () => opened?.house.lab.records().lab.get('lab')?.isDemo === true
  const pages = await openPages(root, isDev, settings.port)
  const server = makeHttp({
    labId: () => labId,
    build,
    isDev,
    isProxy: settings.isProxy,
    isHost: (name) => isHost(name) || (settings.hosts.length === 0 && !isDemo()),
    open: () => opened && { ...opened, door: opened.house.door },
    errand: errands.errand,
    isReady,
    elsewhere: () => stands.elsewhere()?.address ?? null,
    photos: photoFolder({ folder: photosIn(settings.data), clock: world.clock }),
    pages,
    sockets,
    clock: world.clock,
    log,
  })
  // Others on the database must know where this process is before it takes the lab.
  if (isShared) base = baseOf(settings, await listen(server, settings))
  await stands.enter()
  if (!isShared) {
    base = baseOf(settings, await listen(server, settings))
    errands.announce(base)
  }

  const figures = metrics && settings.metrics !== null ? await serveMetrics(metrics, settings.metrics) : null
  endOnSignal(log, async () => {
    stands.stop()
    figures?.close()
    errands.withdraw()
    server.close()
    server.closeIdleConnections()
    await opened?.house.close()
    await sockets.close(GRACE_MS)
    server.closeAllConnections()
    await pages.close()
  })
  await sayWhere()

  async function sayWhere(): Promise<void> {
    if (!opened) {
      const where = stands.elsewhere()?.address
      say(`Talus stands by at ${base}: another process has the lab${where ? `, reached at ${where}` : ''}.`)
      return
    }
    const { house } = opened
    for (const line of await firstLinks(house, settings.invite, base)) say(line)
    const lab = house.lab.records().lab.get('lab')
    say(`Talus: ${lab?.name ?? labId}${lab?.isDemo ? ' (demo)' : ''} is open at ${base}`)
  }
}

/** What people are told to open. */
const baseOf = ({ host }: Settings, port: number): string =>
  `http://${host && !host.includes(':') ? host : 'localhost'}:${port}`

/** What other machines may reach this one by, when nobody said. */
function addressOf(base: string): string | null {
  if (base === '') return null
  const url = new URL(base)
  if (url.hostname === 'localhost') url.hostname = hostname()
  return url.origin
}

interface Opened {
  readonly house: House
  readonly api: ReturnType<typeof makeApi>
  readonly mayLook: MayLook
  readonly outlets: Outlets
  readonly calendar: (token: string) => string | null
}

const withApi = (house: House, clock: Clock, build: string): Opened => ({
  house,
  mayLook: lookingIn(house),
  api: makeApi({ door: house.door, readings: readingsOf(house, clock), clock, build, fetchCalendar }),
  outlets: outletsOf(house, clock),
  calendar: calendarBehind(house, clock),
})

function listen(server: Server, { port, host }: Settings): Promise<number> {
  return new Promise((done, fail) => {
    server.once('error', fail)
    server.listen({ port, ...(host ? { host } : {}) }, () => {
      server.off('error', fail)
      // Listening on a port gives an address with one.
      done((server.address() as AddressInfo).port)
    })
  })
}

function endOnSignal(log: Log, end: () => Promise<void>): void {
  let isEnding = false
  const begin = () => {
    // npm passes a signal on that the terminal sent to us as well.
    if (isEnding) return
    isEnding = true
    end().then(
      () => process.exit(0),
      (error) => {
        log('error', 'could not end in good order', { error: String(error) })
        process.exit(1)
      },
    )
  }
  process.on('SIGTERM', begin)
  process.on('SIGINT', begin)
}

/** Trouble that a person at the console can do something about, in one line; null for a fault of ours. */
function messageFor(error: unknown): string | null {
  if (error instanceof BadSetting || error instanceof WrongFolder || error instanceof StoreTrouble) return error.message
  const code = error instanceof Error && 'code' in error ? error.code : null
  const port = error instanceof Error && 'port' in error ? error.port : ''
  const path = error instanceof Error && 'path' in error ? error.path : ''
  if (code === 'EADDRINUSE') return `Port ${port} is taken. Choose another: npm start -- --port ${Number(port) + 1}`
  if (code === 'EADDRNOTAVAIL') return 'TALUS_HOST is not an address of this machine.'
  if (code === 'EACCES' && error instanceof Error && 'syscall' in error && error.syscall === 'listen')
    return `Port ${port} is not ours to open. Choose one above 1023: npm start -- --port 3000`
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS' || code === 'ENOTDIR' || code === 'EEXIST')
    return `The data folder cannot be used: ${path} (${code}). Name another with --data DIR.`
  return null
}
