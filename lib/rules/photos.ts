// Photographs of a piece as they count: of each the newest record of its line, and who first put it there.
import type { Photo } from '#lib/words'
import { oldestFirst } from './newest.ts'

export type PhotoNow = {
  /** What counts. */
  readonly photo: Readonly<Photo>
  /** The record that the line began with: when and by whom it came onto the Sheet. */
  readonly first: Readonly<Photo>
}

/** The photographs among some records of one piece or several, oldest first; those withdrawn too. */
export function photosOf(records: Iterable<Readonly<Photo>>): readonly PhotoNow[] {
  const all = [...records]
  const byId = new Map(all.map((photo) => [photo.id as string, photo]))
  const corrected = new Set(all.map(({ corrects }) => corrects))
  const now = all.filter(({ id }) => !corrected.has(id)).map((photo) => ({ photo, first: firstOf(photo, byId) }))
  return now.sort((a, b) => oldestFirst(a.first, b.first))
}

/** What a line of corrections began with. */
function firstOf(photo: Readonly<Photo>, byId: ReadonlyMap<string, Readonly<Photo>>): Readonly<Photo> {
  let first = photo
  // Ends: a record names an older one, and there are so many.
  for (let n = byId.size; n > 0 && first.corrects !== null; n--) first = byId.get(first.corrects) ?? first
  return first
}

/** The photographs of a piece that are not withdrawn. */
export const photosShown = (records: Iterable<Readonly<Photo>>, pieceId: string): readonly PhotoNow[] =>
  photosOf([...records].filter((one) => one.pieceId === pieceId)).filter(({ photo }) => !photo.withdrawn)
