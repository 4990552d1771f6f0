// Photographs in a folder: `kept/ab/<hash>` is a whole file, checked; `<hash>.320.jpg` and the like lie beside it. A file is
// there whole or not at all: it gets there by one rename, after its bytes are on the disk.
import { createReadStream } from 'node:fs'
import { open, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Clock } from '../world.ts'
import { isHash, type PhotoStore, type Shelf } from './contract.ts'
import { copyFileWhole, formIn, namesIn } from './local-files.ts'
import { look } from './picture.ts'
import { photoStore } from './uploads.ts'

/** Photographs kept in a folder, which is made with the first. */
export const photoFolder = ({ folder, clock }: { folder: string; clock: Pick<Clock, 'now'> }): PhotoStore =>
  photoStore({ folder, shelf: folderShelf(folder), clock })

/** Where a folder of photographs keeps the file of a name. */
export const placeIn = (folder: string, name: string): string => join(folder, 'kept', name.slice(0, 2), name)

/** The shelf in a folder of photographs. */
export function folderShelf(folder: string): Shelf {
  const placeOf = (name: string) => placeIn(folder, name)

  async function find(name: string) {
    const handle = await open(placeOf(name), 'r').catch(() => null)
    if (!handle) return null
    try {
      const form = await formIn(handle)
      return form && { size: (await handle.stat()).size, form }
    } finally {
      await handle.close()
    }
  }

  return {
    find,
    async seen(name) {
      const seen = await look(placeOf(name))
      return 'refused' in seen ? null : seen
    },
    put: (name, file) => copyFileWhole(file, placeOf(name)),
    stream: (name) => createReadStream(placeOf(name)),
    withLocal: async (name, use) => ((await stat(placeOf(name)).catch(() => null)) ? use(placeOf(name)) : null),
    async *whole() {
      // Small pictures and what goes out are made again when first wanted.
      for (const shelf of await namesIn(join(folder, 'kept')))
        for (const hash of await namesIn(join(folder, 'kept', shelf)))
          if (isHash(hash)) yield { hash, size: (await stat(placeOf(hash))).size }
    },
    isWell: () => true,
  }
}
