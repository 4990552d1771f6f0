// The errands of an installation of many labs: making one in it, listing them, letting somebody into one. With a server
// running on the installation a new lab is there at once, since labs are looked for when they are asked for.
import { randomUUID } from 'node:crypto'
import { existsSync, mkdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { runningOn } from './console.ts'
import { type House, type HouseSettings, openHouse, WrongFolder } from './house.ts'
import { isInstallation, isLabName, keptIn, labsOf, makeInstallation, schemaOf } from './installation.ts'
import { firstLinks, linkBase, linkFor } from './links.ts'
import { isAlive } from './lock.mjs'
import { openLab } from './open-lab.ts'
import { seasonThreads } from './season/index.ts'
import { readSettings, type Settings } from './settings.ts'
import { createSolver } from './solver/index.ts'
import { dataFile } from './store/sql/open.ts'
import { systemChance, systemClock } from './system-world.ts'

/** The clone and the build that an errand runs from. */
export interface Made {
  readonly root: string
  readonly build: string
}

/** `found NAME "Lab name" --labs DIR` and `labs --labs DIR`; answers lines for eyes. */
export async function amongMany(errand: 'found' | 'labs', args: readonly string[], made: Made): Promise<string> {
  const at = args.findIndex((arg) => arg.startsWith('--'))
  const [name, title, more] = args.slice(0, at < 0 ? args.length : at)
  const settings = readSettings(at < 0 ? [] : args.slice(at), process.env, made.root)
  const { labs } = settings
  const usage = errand === 'found' ? 'npm run found -- NAME "Lab name" --labs DIR' : 'npm run labs -- --labs DIR'
  if (labs === null) throw new WrongFolder(`${usage}: expected the folder.`)
  if (errand === 'labs') return listLabs(labs, settings)
  if (!name || !title?.trim() || more !== undefined)
    throw new WrongFolder(`${usage}: expected the name in its address and its name for eyes.`)
  return foundAmong({ name, title: title.trim() }, { ...settings, labs }, made.build)
}

/** Makes an empty lab in an installation, which is made first where there is none; answers its first manager's link. */
async function foundAmong(
  { name, title }: { readonly name: string; readonly title: string },
  settings: Settings & { readonly labs: string },
  build: string,
): Promise<string> {
  const { labs, store } = settings
  if (!isLabName(name))
    throw new WrongFolder(
      `A lab's name in its address has up to 30 small letters, digits and single hyphens, such as west-wing; got ${name}.`,
    )
  if (!makeInstallation(labs)) throw new WrongFolder(`${labs} holds other things. Name an empty folder.`)
  const folder = join(labs, name)
  if (existsSync(folder)) throw new WrongFolder(`There is a lab called ${name} in ${labs} already.`)
  // It appears under its name whole or not at all. In a database its schema is made first, and the folder says it is there.
  const aside = join(labs, `.founding-${randomUUID()}`)
  const data = store.kind === 'postgres' ? folder : aside
  try {
    if (data === aside) mkdirSync(aside, { mode: 0o700 })
    const [link = ''] = await inHouse({ ...settings, data, newLab: title }, build, (house) =>
      firstLinks(house, null, linkBase({ ...settings, data: folder }, hereOf(settings))),
    )
    if (data === aside) renameSync(aside, folder)
    else mkdirSync(folder, { mode: 0o700 })
    return `The lab ${title} is in ${folder} now.\n${link}`
  } finally {
    rmSync(aside, { recursive: true, force: true })
  }
}

/** A link for somebody of a lab that is not open in any server. */
export async function inviteInto(folder: string, person: string, { root, build }: Made): Promise<string> {
  const settings = { ...readSettings(['--data', folder], process.env, root), makesDemo: false }
  if (keptIn(folder, settings.store).kind !== 'postgres' && !existsSync(dataFile(folder)))
    throw new WrongFolder(`There is no lab in ${folder}.`)
  return inHouse(settings, build, (house) => linkFor(house, person, linkBase(settings, hereOf(settings))))
}

/** Where a server with these settings is reached on this machine. */
const hereOf = ({ port }: Settings): string => `http://localhost:${port}`

async function inHouse<T>(settings: HouseSettings, build: string, act: (house: House) => Promise<T>): Promise<T> {
  const log = () => {}
  const solver = createSolver({ log })
  const threads = seasonThreads()
  const world = { clock: systemClock, chance: systemChance, log, build, solver, seasonThreads: threads }
  const house = await openHouse(settings, world, (store, id) => openLab(store, id, world))
  try {
    return await act(house)
  } finally {
    await house.close()
    await Promise.all([solver.close(), threads.close()])
  }
}

/** A server that died may have left its word in the folder. */
function isOpen(folder: string): boolean {
  const running = runningOn(folder)
  return running !== null && isAlive(running.pid)
}

function listLabs(labs: string, { store }: Settings): string {
  if (!isInstallation(labs)) throw new WrongFolder(`${labs} holds no labs.`)
  const lines = labsOf(labs).map((name) => {
    const folder = join(labs, name)
    const size = statSync(dataFile(folder), { throwIfNoEntry: false })?.size
    const kept =
      size !== undefined
        ? `in its folder, ${(size / 1e6).toFixed(1)} MB`
        : keptIn(folder, store).kind === 'postgres'
          ? `in the database, schema ${schemaOf(folder)}`
          : 'no data here: name its database in TALUS_STORE'
    return `${name.padEnd(31)}${kept}${isOpen(folder) ? ', open in a server' : ''}`
  })
  return [...lines, `${lines.length} labs in ${labs}`].join('\n')
}
