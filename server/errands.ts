// `npm run backup -- FILE`, `restore`, `log`, `export`, `import`, `move`, `invite`, `found` and `labs`, as started by start.mjs. With a server running on
// the folder the errand is that server's; without one the folder is taken for the while.
import { existsSync, mkdirSync } from 'node:fs'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { amongMany, inviteInto, type Made } from './among-many.ts'
import { writeLog } from './audit.ts'
import { ask, runningOn } from './console.ts'
import { checkKind, readyCopy, WrongCopy, writeCopy } from './copies.ts'
import { WrongFolder } from './house.ts'
import { keptIn } from './installation.ts'
import { fillDatabase, inStore, moveLab, movePhotos, nameOf, type Place, shelfOf } from './moving.ts'
import { readEverything, writeEverything } from './out/files.ts'
import { ShelfTrouble } from './photos/contract.ts'
import { BadPlace, photosPlace } from './photos/s3-place.ts'
import { labsIn } from './reads.ts'
import { BadSetting } from './settings.ts'
import { StoreTrouble } from './store/contract.ts'
import { hasData, openLibsql } from './store/libsql.ts'
import { storeKind } from './store/open.ts'
import { systemClock } from './system-world.ts'

type Errand = 'backup' | 'restore' | 'log' | 'export' | 'import' | 'move' | 'invite'

/** Runs one errand; says on standard output what was done, or on standard error why not, with exit code 1. */
export async function runErrand(
  name: Errand | 'found' | 'labs',
  args: readonly string[],
  { root, build }: { readonly root: string; readonly build: string },
): Promise<void> {
  try {
    if (name === 'found' || name === 'labs') {
      process.stdout.write(`${await amongMany(name, args, { root, build })}\n`)
      return
    }
    const { what, place } = read(name, args, root)
    // A move is of a stopped lab, and its target is for nobody else.
    const running = name === 'move' ? null : runningOn(place.folder)
    const told = running && (await ask(running, name, what))
    if (told && 'failed' in told) throw new WrongCopy(told.failed)
    process.stdout.write(`${told ? told.done : await errandsOf({ root, build })[name](what, place)}\n`)
  } catch (error) {
    const isTold = [WrongCopy, StoreTrouble, WrongFolder, BadSetting, ShelfTrouble, BadPlace].some(
      (kind) => error instanceof kind,
    )
    if (!(isTold && error instanceof Error)) throw error
    process.stderr.write(`${error.message}\n`)
    process.exitCode = 1
  }
}

/** What the errand names, a file or a store, and where the lab is. */
function read(name: Errand, args: readonly string[], root: string): { what: string; place: Place } {
  // npm changes into the clone; names are meant from where it was called.
  const from = process.env.INIT_CWD ?? process.cwd()
  const { values, positionals } = parseArgs({
    args: [...args],
    options: { data: { type: 'string' }, store: { type: 'string' }, at: { type: 'string' } },
    allowPositionals: true,
    strict: false,
  })
  const [what, another] = positionals
  const wanted = { move: 'store', invite: 'name' }[String(name)] ?? 'file'
  const usage = `npm run ${name} -- ${wanted.toUpperCase()} --data DIR`
  if (!what || another) throw new WrongCopy(`${usage}: expected one ${wanted}.`)
  const data = typeof values.data === 'string' ? values.data : process.env.TALUS_DATA
  const store = storeKind((typeof values.store === 'string' ? values.store : process.env.TALUS_STORE) || 'libsql')
  if (!store || store.kind === 'memory') throw new WrongCopy(`${usage}: TALUS_STORE names no store that lasts.`)
  const isReplaced = name === 'import' || name === 'move' || (name === 'restore' && store.kind === 'libsql')
  if (isReplaced && !data) throw new WrongCopy(`${usage}: expected the folder.`)
  const photos = photosPlace(process.env.TALUS_PHOTOS || 'folder', process.env)
  const folder = data ? resolve(from, data) : resolve(root, '.data/demo')
  return {
    what: wanted === 'file' ? resolve(from, what) : what,
    place: { folder, store: keptIn(folder, store), photos, at: momentOf(name, values.at) },
  }
}

/** The moment that `--at` names, for an import; an instant, so that no zone is guessed. */
function momentOf(errand: Errand, said: unknown): string | null {
  if (said === undefined) return null
  const isInstant = typeof said === 'string' && /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})$/.test(said)
  if (errand !== 'import' || !isInstant || Number.isNaN(Date.parse(said)))
    throw new WrongCopy('npm run import -- FILE --data DIR --at MOMENT: a moment such as 2026-03-12T09:25:00Z.')
  return new Date(said).toISOString()
}

const errandsOf = (made: Made): Readonly<Record<Errand, (what: string, place: Place) => Promise<string>>> => ({
  backup: (file, place) =>
    inStore(place, async (store) => {
      const photos = await writeCopy(store, await shelfOf(place), file)
      return `The lab in ${nameOf(place)} is copied to ${file}.${photos}`
    }),
  restore,
  log: (file, place) => inStore(place, (store, lab) => writeLog(store, lab, file)),
  export: (file, place) =>
    inStore(place, async (store, lab) => {
      const at = new Date(systemClock.now()).toISOString()
      return `Everything of the lab in ${nameOf(place)} ${await writeEverything(store, lab, await shelfOf(place), file, at)}`
    }),
  import: bringIn,
  move: async (to, place) => {
    if (to === 'folder' || to.startsWith('s3://')) return movePhotos(place, photosPlace(to, process.env))
    const store = storeKind(to)
    if (!store || store.kind === 'memory')
      throw new WrongCopy(`Expected libsql, postgres://…, folder or s3://…, got ${to.split(':')[0]}.`)
    return moveLab(place, store)
  },
  invite: (person, { folder }) => inviteInto(folder, person, made),
})

async function bringIn(file: string, place: Place): Promise<string> {
  const { folder, store, at } = place
  if (store.kind !== 'libsql')
    throw new WrongCopy('A file is brought into a folder; move takes it to PostgreSQL from there.')
  const { name, records, entries, texts, photos, missing } = await readEverything(
    file,
    folder,
    await shelfOf(place),
    at,
  )
  const came = photos.size === 0 ? '' : `, ${photos.size - missing} of ${photos.size} photographs`
  return `${name} is in ${folder} now: ${records} records, ${entries} entries of what happened, ${texts} texts${came}${at === null ? '' : `; as it was at ${at}, without texts typed together`}.`
}

async function restore(file: string, place: Place): Promise<string> {
  const { folder, store } = place
  mkdirSync(folder, { recursive: true })
  const shelf = await shelfOf(place)
  const copy = await readyCopy(file, folder)
  try {
    if (store.kind === 'postgres') {
      const rows = await fillDatabase(copy, folder, store.url)
      const photos = await copy.bringPhotos(shelf)
      return `The lab of ${file} is in ${nameOf(place)} now: ${rows} rows, read back and compared.${photos}`
    }
    if (existsSync(folder) && hasData(folder)) {
      // Opened once: refuses while somebody else is at it, and folds its last writes into the one file.
      const present = await openLibsql({ folder })
      const [lab] = await labsIn(present)
      await present.close()
      checkKind(lab ?? null, copy.isDemo, folder)
    }
    const photos = await copy.bringPhotos(shelf)
    const { former } = copy.use()
    return `The lab in ${folder} is the one of ${file} now; what was there before is in ${former}.${photos}`
  } finally {
    copy.drop()
  }
}
