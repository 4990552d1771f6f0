// Which kinds of records a computation reads: its result stands as long as those tables are the same ones, whatever
// else changes on the board.
import { type Kind, kindNames, type Records } from '#lib/words'

/** What was read, by kind. */
export type Reads = ReadonlyMap<Kind, ReadonlyMap<string, unknown>>

/** Runs `compute` on the records and tells which tables it read; it must not keep the records for later. */
export function computeOn<T>(
  records: Records,
  compute: (records: Records) => T,
): { readonly value: T; readonly reads: Reads } {
  const reads = new Map<Kind, ReadonlyMap<string, unknown>>()
  const watched = {}
  for (const kind of kindNames) {
    Object.defineProperty(watched, kind, {
      enumerable: true,
      get: () => {
        const table = records[kind]
        reads.set(kind, table)
        return table
      },
    })
  }
  // Every kind has its getter, which gives the kind's own table.
  return { value: compute(watched as Records), reads }
}

/** True while every table that was read is still the one of these records. */
export function stillReads(reads: Reads, records: Records): boolean {
  for (const [kind, table] of reads) if (records[kind] !== table) return false
  return true
}
