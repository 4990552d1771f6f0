// The embedded store: libsql (SQLite's file format) in threads of its own, behind the contract. Records become JSON
// text here, once; the thread stores the text as it came.
import { existsSync } from 'node:fs'
import { Worker } from 'node:worker_threads'
import { type Store, StoreTrouble } from './contract.ts'
import { gatheredDoor } from './gathered.ts'
import { listeners } from './listeners.ts'
import type { Fillable } from './portable.ts'
import type { Calls, Reply } from './sql/calls.ts'
import { dataFile } from './sql/open.ts'
import { toKept, toPlaced, toRecord, toSnapshot, toText, toWire } from './sql/wire.ts'

export interface LibsqlOptions {
  /** Folder of the data; made when missing. */
  readonly folder: string
  /** The bundled store/worker.ts; beside the server's bundle unless told otherwise. */
  readonly worker?: URL
}

/** Opens the store, or throws a StoreTrouble: in use by another process, written by a newer Talus, unreadable. */
export async function openLibsql({ folder, worker }: LibsqlOptions): Promise<Store & { readonly portable: Fillable }> {
  const script = worker ?? new URL('./store-worker.mjs', import.meta.url)
  const writer = await startThread(script, folder, 'write')
  let reading: Promise<Thread> | null = null
  // Started when first wanted: a small lab at rest needs one thread.
  const reader = () => {
    reading ??= startThread(script, folder, 'read').catch((error) => {
      reading = null
      throw error
    })
    return reading
  }
  const heard = listeners()

  return {
    labs: () => writer.call('labs'),
    head: (lab) => writer.call('head', lab),
    append: async (lab, expectedSeq, entries, rewritten = []) => {
      const bodies = rewritten.map((entry) => ({ seq: entry.seq, body: toWire(entry).body }))
      const appended = await writer.call('append', lab, expectedSeq, entries.map(toWire), bodies)
      if (appended.ok) heard.tell(lab, appended.seq)
      return appended
    },
    read: async (lab, afterSeq, limit) => (await writer.call('read', lab, afterSeq, limit)).map(toKept),
    snapshot: async (lab, home, id) => toSnapshot(await writer.call('snapshot', lab, home, id ?? null)),
    records: async (lab, after, limit) => (await (await reader()).call('records', lab, after, limit)).map(toPlaced),
    findOps: (lab, opIds) => writer.call('findOps', lab, opIds),
    recentOps: (lab, limit) => writer.call('recentOps', lab, limit),
    history: async (lab, subject, before, limit) =>
      (await (await reader()).call('history', lab, subject, before, limit)).map(toKept),
    search: async (lab, question) => {
      const { found, hasMore } = await (await reader()).call('search', lab, question)
      return { found: found.map(toRecord), hasMore }
    },
    appendText: (lab, name, updates) => writer.call('appendText', lab, name, updates),
    loadText: async (lab, name) => toText(await writer.call('loadText', lab, name)),
    texts: (lab) => writer.call('texts', lab),
    compactText: (lab, name, upTo, base) => writer.call('compactText', lab, name, upTo, base),
    door: gatheredDoor({
      write: (changes) => writer.door('write', changes),
      get: (space, key, now) => writer.door('get', space, key, now),
      take: (space, key, now) => writer.door('take', space, key, now),
      list: (space, now) => writer.door('list', space, now),
      sweep: (now) => writer.door('sweep', now),
    }),
    subscribe: heard.subscribe,
    isWell: writer.isWell,
    backup: async (file) => (await reader()).call('backup', file),
    portable: {
      labs: () => writer.call('portableLabs'),
      page: (table, lab, after) => writer.call('portablePage', table, lab, after),
      begin: () => writer.call('fillBegin'),
      addLab: (lab) => writer.call('fillLab', lab),
      add: (table, lab, rows) => writer.call('fillRows', table, lab, rows),
      // Each page is durable; a file that was not filled to its end is thrown away by whoever made it.
      commit: async () => {},
      drop: async () => {},
    },
    close: async () => {
      if (reading) await (await reading).close()
      await writer.close()
    },
  }
}

/** True when the folder holds a lab's data. */
export const hasData = (folder: string): boolean => existsSync(dataFile(folder))

type Args<F> = F extends (...args: infer A) => unknown ? A : never
type Result<F> = F extends (...args: never[]) => infer R ? R : never
type PlainCall = Exclude<keyof Calls, 'door'>

interface Thread {
  call<K extends PlainCall>(name: K, ...args: Args<Calls[K]>): Promise<Result<Calls[K]>>
  door<K extends keyof Calls['door']>(name: K, ...args: Args<Calls['door'][K]>): Promise<Result<Calls['door'][K]>>
  readonly isWell: () => boolean
  close(): Promise<void>
}

async function startThread(script: URL, folder: string, mode: 'write' | 'read'): Promise<Thread> {
  const worker = new Worker(script, { workerData: { folder, mode }, name: `store-${mode}` })
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>()
  let n = 0
  let trouble: StoreTrouble | null = null
  const end = (error: StoreTrouble) => {
    trouble ??= error
    for (const { reject } of waiting.values()) reject(trouble)
    waiting.clear()
  }
  worker.on('message', (reply: Reply) => {
    const call = waiting.get(reply.n)
    waiting.delete(reply.n)
    if (reply.ok) call?.resolve(reply.result)
    else call?.reject(new StoreTrouble(reply.code, reply.message))
  })
  worker.on('error', (error) => end(new StoreTrouble('io', `The store's thread ended: ${error}`)))
  worker.on('exit', () => end(new StoreTrouble('closed', 'The store is closed.')))
  const wait = (id: number) =>
    new Promise<unknown>((resolve, reject) => {
      if (trouble) reject(trouble)
      else waiting.set(id, { resolve, reject })
    })
  const send = (name: string, args: readonly unknown[]): Promise<unknown> => {
    n++
    const answer = wait(n)
    if (!trouble) worker.postMessage({ n, name, args })
    return answer
  }
  await wait(0)
  return {
    // Both ends are typed by `Calls`; between them is only a copy.
    call: (name, ...args) => send(name, args) as Promise<never>,
    door: (name, ...args) => send(`door.${name}`, args) as Promise<never>,
    isWell: () => trouble === null,
    close: async () => {
      if (trouble) return
      await send('close', [])
      await worker.terminate()
    },
  }
}
