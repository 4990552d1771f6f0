// `npm run backup -- FILE`, `restore`, `log`, `export` and `import`, as started by start.mjs. With a server running on
// the folder the errand is that server's; without one the folder is taken for the while.
import { existsSync, mkdirSync } from 'node:fs'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { writeLog } from './audit.ts'
import { ask, runningOn } from './console.ts'
import { readyCopy, WrongCopy, writeCopy } from './copies.ts'
import { readEverything, writeEverything } from './out/files.ts'
import { labsIn } from './reads.ts'
import { type Store, StoreTrouble } from './store/contract.ts'
import { hasData, openLibsql } from './store/libsql.ts'
import { systemClock } from './system-world.ts'

type Errand = 'backup' | 'restore' | 'log' | 'export' | 'import'

/** Runs one errand; says on standard output what was done, or on standard error why not, with exit code 1. */
export async function runErrand(name: Errand, args: readonly string[], root: string): Promise<void> {
  try {
    const { file, folder } = read(name, args, root)
    const running = runningOn(folder)
    const told = running && (await ask(running, name, file))
    if (told && 'failed' in told) throw new WrongCopy(told.failed)
    process.stdout.write(`${told ? told.done : await errands[name](file, folder)}\n`)
  } catch (error) {
    if (!(error instanceof WrongCopy || error instanceof StoreTrouble)) throw error
    process.stderr.write(`${error.message}\n`)
    process.exitCode = 1
  }
}

function read(name: string, args: readonly string[], root: string): { file: string; folder: string } {
  // npm changes into the clone; names are meant from where it was called.
  const from = process.env.INIT_CWD ?? process.cwd()
  const { values, positionals } = parseArgs({
    args: [...args],
    options: { data: { type: 'string' } },
    allowPositionals: true,
    strict: false,
  })
  const [file, another] = positionals
  if (!file || another) throw new WrongCopy(`npm run ${name} -- FILE --data DIR: expected one file.`)
  const data = typeof values.data === 'string' ? values.data : process.env.TALUS_DATA
  if ((name === 'restore' || name === 'import') && !data)
    throw new WrongCopy(`npm run ${name} -- FILE --data DIR: expected the folder.`)
  return { file: resolve(from, file), folder: data ? resolve(from, data) : resolve(root, '.data/demo') }
}

const errands: Readonly<Record<Errand, (file: string, folder: string) => Promise<string>>> = {
  ...{ backup, restore, log },
  export: takeOut,
  import: bringIn,
}

const noLab = (folder: string) => new WrongCopy(`There is no lab in ${folder}. Name its folder with --data DIR.`)

function takeOut(file: string, folder: string): Promise<string> {
  return inStore(folder, async (store) => {
    const [lab] = await labsIn(store)
    if (!lab) throw noLab(folder)
    await writeEverything(store, lab, file, new Date(systemClock.now()).toISOString())
    return `Everything of the lab in ${folder} is in ${file}.`
  })
}

async function bringIn(file: string, folder: string): Promise<string> {
  const { name, records, entries, texts } = await readEverything(file, folder)
  return `${name} is in ${folder} now: ${records} records, ${entries} entries of what happened, ${texts} texts.`
}

function log(file: string, folder: string): Promise<string> {
  return inStore(folder, async (store) => {
    const [lab] = await labsIn(store)
    if (!lab) throw noLab(folder)
    return writeLog(store, lab, file)
  })
}

function backup(file: string, folder: string): Promise<string> {
  return inStore(folder, async (store) => {
    const photos = await writeCopy(store, folder, file)
    return `The lab in ${folder} is copied to ${file}.${photos}`
  })
}

/** Does something with the store of a folder that holds a lab, and closes it again. */
async function inStore(folder: string, act: (store: Store) => Promise<string>): Promise<string> {
  if (!hasData(folder)) throw noLab(folder)
  const store = await openLibsql({ folder })
  try {
    return await act(store)
  } finally {
    await store.close()
  }
}

async function restore(file: string, folder: string): Promise<string> {
  mkdirSync(folder, { recursive: true })
  const copy = await readyCopy(file, folder)
  try {
    if (existsSync(folder) && hasData(folder)) {
      // Opened once: refuses while somebody else is at it, and folds its last writes into the one file.
      const store = await openLibsql({ folder })
      const [lab] = await labsIn(store)
      await store.close()
      checkKind(lab ?? null, copy.isDemo, folder)
    }
    const photos = await copy.bringPhotos()
    const { former } = copy.use()
    return `The lab in ${folder} is the one of ${file} now; what was there before is in ${former}.${photos}`
  } finally {
    copy.drop()
  }
}

/** The demo and real labs never take each other's place. */
export function checkKind(present: string | null, isDemo: boolean, folder: string): void {
  if (present === null || present.startsWith('demo-') === isDemo) return
  throw new WrongCopy(
    isDemo
      ? `The file holds the demo lab, and ${folder} a real one. Restore it into another folder.`
      : `The file holds a real lab, and ${folder} the demo. Restore it into another folder.`,
  )
}
