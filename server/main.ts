// The server: reads settings, makes clock and chance, opens the lab, puts http and pages in front, and ends in good
// order. With errands.ts the only code that knows the process it runs in; start.mjs calls `main` once all is built.
import { mkdirSync } from 'node:fs'
import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { hostname } from 'node:os'
import { writeLog } from './audit.ts'
import { fetchCalendar } from './calendar-in/fetch-calendar.ts'
import { makeConsole } from './console.ts'
import { photosIn, readyCopy, writeCopy } from './copies.ts'
import { checkKind } from './errands.ts'
import { type House, openHouse, WrongFolder } from './house.ts'
import { hostsOf } from './http/address.ts'
import { makeApi } from './http/api.ts'
import { openPages } from './http/pages.ts'
import { makeHttp } from './http/server.ts'
import { makeSockets } from './http/sockets.ts'
import { firstLinks } from './links.ts'
import { openLab } from './open-lab.ts'
import { writeEverything } from './out/files.ts'
import { type Outlets, outletsOf } from './out/outlets.ts'
import { photoFolder } from './photos/folder.ts'
import { lookingIn, type MayLook } from './photos/looking.ts'
import { readingsOf } from './readings.ts'
import { BadSetting, readSettings, type Settings } from './settings.ts'
import { StoreTrouble } from './store/contract.ts'
import { clockFrom, systemChance } from './system-world.ts'
import type { Clock, Log } from './world.ts'

/** How long connections may take to end by themselves. */
const GRACE_MS = 1500
/** Time for a last answer to reach the console. */
const ANSWER_MS = 200

const log: Log = (level, what, facts) => {
  const line = `${level}: ${what}${facts ? ` ${JSON.stringify(facts)}` : ''}\n`
  process.stderr.write(line)
}
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

/** Whoever else has the lab now has the database's lock too: what is asked of this process can only be refused. */
function lost(): void {
  log('error', 'another Talus writes to the database now; this one ends. Nothing that was called kept is lost')
  setTimeout(() => process.exit(1), ANSWER_MS)
}

async function serve({ root, build, isDev }: Start, settings: Settings): Promise<void> {
  const world = { clock: clockFrom(settings.asIf), chance: systemChance, log }
  const open = (how: Settings) =>
    openHouse(how, world, (store, labId) => openLab(store, labId, { ...world, build }), lost)
  mkdirSync(settings.data, { recursive: true })
  let opened: Opened | null = withApi(await open(settings), world.clock, build)
  let labId = opened.house.labId

  const errands = makeConsole(settings.data, {
    async backup(file) {
      if (!opened) throw new Error('The lab is being restored. Try again in a moment.')
      const photos = await writeCopy(opened.house.store, settings.data, file)
      return `The lab in ${settings.data} is copied to ${file}, while it runs.${photos}`
    },
    async export(file) {
      if (!opened) throw new Error('The lab is being restored. Try again in a moment.')
      await writeEverything(opened.house.store, labId, file, new Date(world.clock.now()).toISOString())
      return `Everything of the lab in ${settings.data} is in ${file}.`
    },
    async log(file) {
      if (!opened) throw new Error('The lab is being restored. Try again in a moment.')
      return writeLog(opened.house.store, labId, file)
    },
    async restore(file) {
      if (!opened) throw new Error('The lab is being restored already.')
      if (settings.store.kind === 'postgres') throw new Error('A lab in PostgreSQL is restored with pg_restore.')
      const copy = await readyCopy(file, settings.data)
      try {
        checkKind(labId, copy.isDemo, settings.data)
        const photos = await copy.bringPhotos()
        const { house } = opened
        opened = null
        await house.close()
        const { former, undo } = copy.use()
        // Whatever this start was asked to make is made.
        const again = { ...settings, newLab: null }
        try {
          opened = withApi(await open(again), world.clock, build)
        } catch (error) {
          undo()
          opened = withApi(await open(again), world.clock, build)
          throw error
        }
        labId = opened.house.labId
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
    isReady: () => opened !== null && opened.house.store.isWell() && opened.house.lab.isWell(),
    photos: photoFolder({ folder: photosIn(settings.data), clock: world.clock }),
    pages,
    sockets,
    log,
  })
  const port = await listen(server, settings)
  const base = `http://${settings.host && !settings.host.includes(':') ? settings.host : 'localhost'}:${port}`
  errands.announce(base)

  endOnSignal(async () => {
    errands.withdraw()
    server.close()
    server.closeIdleConnections()
    await opened?.house.close()
    await sockets.close(GRACE_MS)
    server.closeAllConnections()
    await pages.close()
  })

  const { house } = opened
  for (const line of await firstLinks(house, settings.invite, base)) say(line)
  const lab = house.lab.records().lab.get('lab')
  say(`Talus: ${lab?.name ?? labId}${lab?.isDemo ? ' (demo)' : ''} is open at ${base}`)
}

interface Opened {
  readonly house: House
  readonly api: ReturnType<typeof makeApi>
  readonly mayLook: MayLook
  readonly outlets: Outlets
}

const withApi = (house: House, clock: Clock, build: string): Opened => ({
  house,
  mayLook: lookingIn(house),
  api: makeApi({ door: house.door, readings: readingsOf(house, clock), clock, build, fetchCalendar }),
  outlets: outletsOf(house, clock),
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

function endOnSignal(end: () => Promise<void>): void {
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
