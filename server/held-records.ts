// The lab's true records in memory: board, office and forecasts always, sheets and single resting pieces while somebody needs
// them. Changed in place by the gate alone, one op at a time; each change gives back what was there, so that ops that
// could not be kept are taken out again as if they had never been.
import { migrate } from '#lib/doc'
import {
  type AnyRecord,
  type Change,
  type Home,
  homeOf,
  type Kind,
  kindNames,
  noRecords,
  type Records,
  sheetKinds,
} from '#lib/words'
import type { StoredRecord } from './store/contract.ts'

type Maps = Record<Kind, Map<string, AnyRecord>>

/** Homes whose records are held from the start; a Sheet is loaded when it is opened. */
export const wholeHomes = ['board', 'office', 'forecasts', 'safety'] as const satisfies readonly Home[]

export class HeldRecords {
  readonly #maps = noRecords() as unknown as Maps
  readonly #sheets = new Set<Home>()

  /** Live: read it at once or take a `copy`. */
  get all(): Records {
    return this.#maps as unknown as Records
  }

  /** The records as they stand now, for work that goes on while they change. */
  copy(): Records {
    return Object.fromEntries(kindNames.map((kind) => [kind, new Map(this.#maps[kind])])) as unknown as Records
  }

  holds(home: Home): boolean {
    return wholeHomes.some((one) => one === home) || this.#sheets.has(home)
  }

  /** Takes in a home's records as stored. */
  load(home: Home, records: readonly StoredRecord[]): void {
    if (home.startsWith('sheet/')) this.#sheets.add(home)
    for (const { kind, id, record, words } of records) {
      // Passed its schema when it was written; a migration answers for what it makes of it.
      this.#maps[kind].set(id, migrate(kind, record, words) as AnyRecord)
    }
  }

  /** Forgets a sheet, or the resting pieces that an op looked at. */
  release(home: Home): void {
    if (home === 'archive') this.#maps.resting.clear()
    if (!this.#sheets.delete(home)) return
    const pieceId = home.slice('sheet/'.length)
    for (const kind of sheetKinds)
      for (const [id, record] of this.#maps[kind])
        if ('pieceId' in record && record.pieceId === pieceId) this.#maps[kind].delete(id)
  }

  get heldSheets(): readonly Home[] {
    return [...this.#sheets]
  }

  /** Forgets everything. */
  clear(): void {
    for (const kind of kindNames) this.#maps[kind].clear()
    this.#sheets.clear()
  }

  /** Lays changes over the records; returns those that take them back, in their order. */
  apply(changes: readonly Change[]): readonly Change[] {
    const before: Change[] = []
    for (const change of changes) {
      const { kind, id, record } = change
      const map = this.#maps[kind]
      // `kind` and the record found under it belong together.
      before.push({ kind, id, record: map.get(id) ?? null } as Change)
      if (record === null) map.delete(id)
      else if (kind === 'resting' || !this.holds(homeOf(kind, record))) continue
      else map.set(id, record)
    }
    return before.reverse()
  }
}
