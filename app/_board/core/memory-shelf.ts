// The shelf in memory: the twin for tests and the simulation, and what is left where a browser gives no storage. Values
// go in and out as copies, as they would through a disk.
import type { Copy, HeldNote, HeldPhoto, Refused, Shelf, Waiting } from './ports.ts'

/** What outlives the page; give the same one to two shelves to play two tabs or a reload. */
export type ShelfDisk = {
  waiting: Map<string, string>
  refused: Map<string, string>
  copies: Map<string, Copy>
  notes: Map<string, HeldNote>
  photos: Map<string, HeldPhoto>
}

/** An empty disk. */
export const newDisk = (): ShelfDisk => ({
  waiting: new Map(),
  refused: new Map(),
  copies: new Map(),
  notes: new Map(),
  photos: new Map(),
})

/** Opens a shelf on a disk. */
export function memoryShelf(disk: ShelfDisk = newDisk()): Shelf {
  const inOrder = (table: Map<string, string>) =>
    [...table].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, text]) => JSON.parse(text) as unknown)
  return {
    // What lies here was written by this file from the same types.
    waiting: async () => inOrder(disk.waiting) as Waiting[],
    putWaiting: async (waiting) => {
      disk.waiting.set(waiting.op.id, JSON.stringify(waiting))
    },
    dropWaiting: async (ids) => {
      for (const id of ids) disk.waiting.delete(id)
    },
    refused: async () => inOrder(disk.refused) as Refused[],
    putRefused: async (refused) => {
      for (const item of refused) disk.refused.set(item.op.id, JSON.stringify(item))
    },
    dropRefused: async (id) => {
      disk.refused.delete(id)
    },
    copy: async (home) => disk.copies.get(home) ?? null,
    replaceCopy: async (home, head, update) => {
      disk.copies.set(home, { ...head, updates: [update] })
    },
    appendCopy: async (home, epoch, update, at) => {
      const copy = disk.copies.get(home)
      if (copy?.epoch === epoch) disk.copies.set(home, { ...copy, at, updates: [...copy.updates, update] })
    },
    touchCopy: async (home, epoch, at) => {
      const copy = disk.copies.get(home)
      if (copy?.epoch === epoch) disk.copies.set(home, { ...copy, at })
    },
    dropCopy: async (home) => {
      disk.copies.delete(home)
    },
    note: async (pieceId) => disk.notes.get(pieceId) ?? null,
    putNote: async (note) => {
      disk.notes.set(note.pieceId, note)
    },
    dropNote: async (pieceId) => {
      disk.notes.delete(pieceId)
    },
    photos: async () => [...disk.photos.values()].sort((a, b) => (a.id < b.id ? -1 : 1)),
    putPhoto: async (photo) => {
      disk.photos.set(photo.id, photo)
    },
    dropPhoto: async (id) => {
      disk.photos.delete(id)
    },
    clearCopies: async () => disk.copies.clear(),
    clear: async () => {
      for (const table of Object.values(disk)) table.clear()
    },
    close: () => {},
  }
}
