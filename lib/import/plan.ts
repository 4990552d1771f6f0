// What an import would do, before anybody presses: the jackets, and each cell that could not be taken as what its column
// says, by line and name of column. A doubtful cell is never lost: it goes into the note of its jacket as it was written.
import { type Jacket, RecordId } from '#lib/words'
import type { ImportField } from './columns.ts'
import { hashOf } from './hash.ts'
import { doubtAt, jacketOf } from './jacket.ts'
import type { SheetLine } from './read.ts'
import type { DateOrder } from './values.ts'

/** Why a cell is in doubt; the first three leave the whole row out. */
export type DoubtWhy = 'no-number' | 'doubled' | 'too-much' | 'date' | 'amount' | 'kind' | 'too-long' | 'other'

export type Doubt = {
  readonly line: number
  readonly column: string
  readonly cell: string
  readonly why: DoubtWhy
  /** Whether the row stays out for it. */
  readonly isOut: boolean
}

export type ImportPlan = {
  /** The same for the same jackets: an import run again is known by it, and taken back by it. */
  readonly importId: string
  readonly jackets: readonly Jacket[]
  readonly doubts: readonly Doubt[]
}

type Sheet = { readonly head: readonly string[]; readonly lines: readonly SheetLine[] }

/** Plans an import; `columns` holds the meaning of each column of `sheet.head`. */
export function planImport(sheet: Sheet, columns: readonly (ImportField | null)[], order: DateOrder): ImportPlan {
  const doubts: Doubt[] = []
  const jackets: Jacket[] = []
  const seen = new Set<string>()
  for (const row of sheet.lines) {
    const found: Doubt[] = []
    const jacket = jacketOf(sheet.head, row, columns, order, found)
    if (jacket && seen.has(jacket.id)) found.push(doubtAt(sheet.head, columns, row, 'fieldNumber', 'doubled', true))
    const isOut = found.some((doubt) => doubt.isOut)
    doubts.push(...found)
    if (!jacket || isOut) continue
    seen.add(jacket.id)
    jackets.push(jacket)
  }
  const importId = RecordId.parse(`import-${hashOf(jackets.map(({ id }) => id).join())}`)
  return { importId, jackets, doubts }
}
