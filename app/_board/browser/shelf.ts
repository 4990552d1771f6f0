// The shelf in IndexedDB: one database per lab and person, so that forgetting a person is one deletion and nobody's
// things lie among another's. Where the browser gives no storage (private window, full disk) memory takes its place.
import { type DBSchema, deleteDB, type IDBPDatabase, openDB } from 'idb'
import { memoryShelf } from '../core/memory-shelf.ts'
import {
  type HeldNote,
  type HeldPhoto,
  type Identity,
  keyOf,
  type Refused,
  type Shelf,
  type Waiting,
} from '../core/ports.ts'

/** Raised with an upgrade below when the stores change. */
const SHELF_VERSION = 2
/** Sheets whose copies are kept; the longest unread go first. */
const SHEETS_MAX = 60

type Head = { readonly home: string; readonly epoch: string; readonly role: string; readonly at: number }

interface Stores extends DBSchema {
  waiting: { key: string; value: Waiting }
  refused: { key: string; value: Refused }
  head: { key: string; value: Head }
  update: { key: number; value: { home: string; update: Uint8Array }; indexes: { home: string } }
  note: { key: string; value: HeldNote }
  photo: { key: string; value: HeldPhoto }
}

const nameOf = (identity: Identity) => `talus:${keyOf(identity)}`

/** Opens a person's shelf on this device. */
export async function openShelf(identity: Identity, report: (error: unknown) => void): Promise<Shelf> {
  try {
    const db = await openDB<Stores>(nameOf(identity), SHELF_VERSION, {
      upgrade(db, from) {
        if (from < 2) db.createObjectStore('photo', { keyPath: 'id' })
        if (from >= 1) return
        db.createObjectStore('waiting', { keyPath: 'op.id' })
        db.createObjectStore('refused', { keyPath: 'op.id' })
        db.createObjectStore('head', { keyPath: 'home' })
        db.createObjectStore('update', { autoIncrement: true }).createIndex('home', 'home')
        db.createObjectStore('note', { keyPath: 'pieceId' })
      },
      // Another tab deletes or upgrades: letting go at once keeps it from waiting for this one.
      blocking: (_now, _next, event) => (event.target as IDBDatabase | null)?.close(),
    })
    return shelfOn(db, nameOf(identity))
  } catch (error) {
    report(error)
    return memoryShelf()
  }
}

function shelfOn(db: IDBPDatabase<Stores>, name: string): Shelf {
  return {
    waiting: () => db.getAll('waiting'),
    putWaiting: async (waiting) => {
      await db.put('waiting', waiting)
    },
    dropWaiting: async (ids) => {
      const work = db.transaction('waiting', 'readwrite')
      await Promise.all([...ids.map((id) => work.store.delete(id)), work.done])
    },
    refused: () => db.getAll('refused'),
    putRefused: async (refused) => {
      const work = db.transaction('refused', 'readwrite')
      await Promise.all([...refused.map((item) => work.store.put(item)), work.done])
    },
    dropRefused: (id) => db.delete('refused', id),
    copy: async (home) => {
      const work = db.transaction(['head', 'update'])
      const [head, updates] = await Promise.all([
        work.objectStore('head').get(home),
        work.objectStore('update').index('home').getAll(home),
      ])
      if (!head) return null
      // The role was one of ours when it was put here.
      const role = head.role as Identity['role']
      return { epoch: head.epoch, role, at: head.at, updates: updates.map(({ update }) => update) }
    },
    replaceCopy: async (home, head, update) => {
      const work = db.transaction(['head', 'update'], 'readwrite')
      await dropUpdates(work.objectStore('update'), home)
      await work.objectStore('update').add({ home, update })
      await work.objectStore('head').put({ home, ...head })
      const sheets = (await work.objectStore('head').getAll()).filter((item) => item.home.startsWith('sheet/'))
      const tooMany = sheets.sort((a, b) => b.at - a.at).slice(SHEETS_MAX)
      for (const old of tooMany) {
        await dropUpdates(work.objectStore('update'), old.home)
        await work.objectStore('head').delete(old.home)
      }
      await work.done
    },
    appendCopy: async (home, epoch, update, at) => {
      const work = db.transaction(['head', 'update'], 'readwrite')
      const head = await work.objectStore('head').get(home)
      if (head?.epoch === epoch) {
        await work.objectStore('update').add({ home, update })
        await work.objectStore('head').put({ ...head, at })
      }
      await work.done
    },
    touchCopy: async (home, epoch, at) => {
      const work = db.transaction('head', 'readwrite')
      const head = await work.store.get(home)
      if (head?.epoch === epoch) await work.store.put({ ...head, at })
      await work.done
    },
    dropCopy: async (home) => {
      const work = db.transaction(['head', 'update'], 'readwrite')
      await dropUpdates(work.objectStore('update'), home)
      await work.objectStore('head').delete(home)
      await work.done
    },
    note: async (pieceId) => (await db.get('note', pieceId)) ?? null,
    putNote: async (note) => {
      await db.put('note', note)
    },
    dropNote: (pieceId) => db.delete('note', pieceId),
    photos: () => db.getAll('photo'),
    putPhoto: async (photo) => {
      await db.put('photo', photo)
    },
    dropPhoto: (id) => db.delete('photo', id),
    clearCopies: async () => {
      const work = db.transaction(['head', 'update'], 'readwrite')
      await Promise.all([work.objectStore('head').clear(), work.objectStore('update').clear(), work.done])
    },
    clear: async () => {
      const work = db.transaction(['waiting', 'refused', 'head', 'update', 'note', 'photo'], 'readwrite')
      await Promise.all([...[...work.objectStoreNames].map((store) => work.objectStore(store).clear()), work.done])
      db.close()
      await deleteDB(name)
    },
    close: () => db.close(),
  }
}

type Updates = {
  index(name: 'home'): {
    openKeyCursor(home: string): Promise<{ primaryKey: number; continue(): Promise<unknown> } | null>
  }
}

async function dropUpdates(store: Updates & { delete(key: number): Promise<void> }, home: string): Promise<void> {
  const keys: number[] = []
  let cursor = await store.index('home').openKeyCursor(home)
  while (cursor) {
    keys.push(cursor.primaryKey)
    // idb's cursor moves itself and resolves to itself or null.
    cursor = (await cursor.continue()) as typeof cursor
  }
  for (const key of keys) await store.delete(key)
}
