// Of records that are only added to, the newest counts; ids are sortable, so they settle what happened in one instant.
type Dated = { readonly id: string; readonly at: string }

const isNewer = (a: Dated, b: Dated): boolean => a.at > b.at || (a.at === b.at && a.id > b.id)

/** For sorting: the oldest first, the same for everybody. */
export const oldestFirst = (a: Dated, b: Dated): number => Number(isNewer(a, b)) - Number(isNewer(b, a))

/** For sorting: the newest first. */
export const newestFirst = (a: Dated, b: Dated): number => oldestFirst(b, a)

/** The newest of some records; null when there are none. */
export function newestOf<T extends Dated>(records: Iterable<T>): T | null {
  let newest: T | null = null
  for (const record of records) if (newest === null || isNewer(record, newest)) newest = record
  return newest
}

/** The newest record of each key. */
export function newestBy<T extends Dated>(records: Iterable<T>, keyOf: (record: T) => string): ReadonlyMap<string, T> {
  const newest = new Map<string, T>()
  for (const record of records) {
    const old = newest.get(keyOf(record))
    if (!old || isNewer(record, old)) newest.set(keyOf(record), record)
  }
  return newest
}
