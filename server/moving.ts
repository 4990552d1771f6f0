// Where a lab is kept, for the errands: a file in a data folder or a PostgreSQL database, opened while no Talus runs on it;
// and how a lab gets from one to the other. The source is put aside under another name, never thrown away.
import { intoEmpty, putAside, type ReadyCopy, WrongCopy } from './copies.ts'
import { schemaOf } from './installation.ts'
import type { Shelf } from './photos/contract.ts'
import { copyPhotos, sayOfSpoiled } from './photos/copies.ts'
import { openShelf, photosIn } from './photos/open.ts'
import { nameOfPlace, type PhotosPlace } from './photos/s3-place.ts'
import { labsIn } from './reads.ts'
import { carry } from './store/carry.ts'
import type { Store } from './store/contract.ts'
import { hasData, openLibsql } from './store/libsql.ts'
import type { StoreKind } from './store/open.ts'
import type { Fillable } from './store/portable.ts'
import { openPostgres, type PostgresStore } from './store/postgres.ts'
import { systemClock } from './system-world.ts'

export interface Place {
  readonly folder: string
  readonly store: StoreKind
  readonly photos: PhotosPlace
  /** The moment that an import brings back (ISO instant); null for all of it. */
  readonly at: string | null
}

/** How a place is called in a sentence. */
export const nameOf = ({ folder, store }: Place): string =>
  store.kind === 'postgres' ? `the database ${new URL(store.url).pathname.slice(1)}` : folder

const noLab = (place: Place): WrongCopy =>
  new WrongCopy(`There is no lab in ${nameOf(place)}. Name its folder with --data DIR, its database with TALUS_STORE.`)

/** Does something with the store of a place that holds a lab, and closes it again. */
export async function inStore<T>(
  place: Place,
  act: (store: Store & { portable: Fillable }, lab: string) => Promise<T>,
): Promise<T> {
  if (place.store.kind !== 'postgres' && !hasData(place.folder)) throw noLab(place)
  const store = await open(place)
  try {
    const [lab] = await labsIn(store)
    if (!lab) throw noLab(place)
    return await act(store, lab)
  } finally {
    await store.close()
  }
}

/** Puts the copy of a folder's lab into a database where it is not yet; answers how many rows it has. */
export async function fillDatabase(copy: ReadyCopy, folder: string, url: string): Promise<number> {
  const to = await openPostgres({ url, schema: schemaOf(folder) })
  try {
    const from = await openLibsql({ folder: copy.folder })
    try {
      return await carry(from.portable, to.portable)
    } finally {
      await from.close()
    }
  } finally {
    await to.close()
  }
}

/** Moves a lab between the folder's own file and a database, one way or the other; answers a line for eyes. */
export async function moveLab(from: Place, to: StoreKind): Promise<string> {
  const target: Place = { ...from, store: to }
  if (from.store.kind === to.kind) throw new WrongCopy(`The lab is in ${nameOf(from)} already.`)
  const rows = to.kind === 'postgres' ? await intoDatabase(from, to.url) : await intoFolder(from, target.folder)
  const former =
    from.store.kind === 'postgres' ? await asideInDatabase(from.folder, from.store.url) : putAside(from.folder, 'moved')
  const setting = to.kind === 'postgres' ? 'TALUS_STORE naming that database' : 'TALUS_STORE=libsql'
  return `All ${rows} rows of the lab are in ${nameOf(target)} now, read back and compared. Start with ${setting}; what was there before is kept in ${former}. Photographs stay where they are.`
}

/** The shelf of a place's photographs, for an errand: what it has to say, the errand's end says. */
export const shelfOf = ({ folder, photos }: Pick<Place, 'folder' | 'photos'>): Promise<Shelf> =>
  openShelf(photos, folder, { clock: systemClock, log: () => {} })

/** Copies a place's photographs to another shelf for good; answers a line for eyes. Those of before stay where they lie. */
export async function movePhotos(from: Place, to: PhotosPlace): Promise<string> {
  const { folder } = from
  const [here, there] = [from.photos, to].map((one) => nameOfPlace(one, photosIn(folder)))
  if (here === there) throw new WrongCopy(`The photographs are in ${here} already.`)
  const copied = await copyPhotos(await shelfOf(from), await shelfOf({ folder, photos: to }))
  return `${copied.photos} photographs are in ${there} now, each compared with its name. Start with TALUS_PHOTOS naming it; those in ${here} stay there until you take them away.${sayOfSpoiled(copied)}`
}

const open = ({ folder, store }: Place): Promise<Store & { portable: Fillable }> =>
  store.kind === 'postgres' ? openPostgres({ url: store.url, schema: schemaOf(folder) }) : openLibsql({ folder })

async function intoDatabase(from: Place, url: string): Promise<number> {
  return inStore(from, async (store) => {
    const to: PostgresStore = await openPostgres({ url, schema: schemaOf(from.folder) })
    try {
      return await carry(store.portable, to.portable)
    } finally {
      await to.close()
    }
  })
}

function intoFolder(from: Place, folder: string): Promise<number> {
  return intoEmpty(folder, (aside) =>
    inStore(from, async (store) => {
      const to = await openLibsql({ folder: aside })
      try {
        return await carry(store.portable, to.portable)
      } finally {
        await to.close()
      }
    }),
  )
}

async function asideInDatabase(folder: string, url: string): Promise<string> {
  const store = await openPostgres({ url, schema: schemaOf(folder) })
  try {
    return `the schema ${await store.putAside(new Date())} of the database`
  } finally {
    await store.close()
  }
}
