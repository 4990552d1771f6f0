// Opens the photographs of a data folder where its setting says they are kept.
import { join } from 'node:path'
import { nameAmongOthers } from '../installation.ts'
import type { Clock, Log } from '../world.ts'
import type { PhotoStore, Shelf } from './contract.ts'
import { folderShelf } from './folder.ts'
import type { PhotosPlace } from './s3-place.ts'
import { photoStore } from './uploads.ts'

interface World {
  readonly clock: Pick<Clock, 'now'>
  readonly log: Log
}

export interface OpenPhotos {
  readonly photos: PhotoStore
  readonly shelf: Shelf
}

/** Where a data folder keeps its photographs, or what is on the way to another shelf. */
export const photosIn = (folder: string): string => join(folder, 'photos')

/** The shelf of whole files of a data folder. */
export async function openShelf(place: PhotosPlace, data: string, world: World): Promise<Shelf> {
  if (place.kind === 'folder') return folderShelf(photosIn(data))
  // Loaded by nobody who does not use it.
  const { s3Shelf } = await import('./s3.ts')
  // Labs that share a bucket are apart there as their folders are here.
  const name = nameAmongOthers(data)
  const own = name === null ? place : { ...place, prefix: `${place.prefix}${name}/` }
  const shelf = s3Shelf({ place: own, folder: photosIn(data), ...world })
  // Storage that is out of reach is remarked on, and asked again later.
  shelf.look().catch(() => {})
  return shelf
}

/** The store of photographs of a data folder, and its shelf. */
export async function openPhotos(place: PhotosPlace, data: string, world: World): Promise<OpenPhotos> {
  const shelf = await openShelf(place, data, world)
  return { shelf, photos: photoStore({ folder: photosIn(data), shelf, clock: world.clock }) }
}
