// The calls that the store's thread answers, by name; typed once for both ends.
import type { ArchiveQuestion, StoreTrouble } from '../contract.ts'
import type { boardTables } from './board.ts'
import type { portableTables } from './portable.ts'
import type { doorTable, textTables } from './side-tables.ts'
import type { WireRecord } from './wire.ts'

export type Calls = Omit<ReturnType<typeof boardTables>, 'labOf'> &
  ReturnType<typeof textTables> &
  ReturnType<typeof portableTables> & {
    readonly search: (lab: string, question: ArchiveQuestion) => { found: WireRecord[]; hasMore: boolean }
    readonly door: ReturnType<typeof doorTable>
    readonly backup: (file: string) => void
  }

export interface Request {
  readonly n: number
  readonly name: string
  readonly args: readonly unknown[]
}

export type Reply =
  | { readonly n: number; readonly ok: true; readonly result: unknown }
  | { readonly n: number; readonly ok: false; readonly code: StoreTrouble['code']; readonly message: string }
