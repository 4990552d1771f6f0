// Pieces as a spreadsheet: those on the board and those at rest, page by page.
import { migrate } from '#lib/doc'
import type { CsvForm } from '#lib/export'
import type { RecordOf } from '#lib/words'
import type { PlacedRecord, Store } from '../store/contract.ts'

const RECORDS_A_PAGE = 1000
/** By this a spreadsheet knows UTF-8. */
const BYTE_ORDER_MARK = '\ufeff'

/** The file's text in parts; `pick` gives the piece that a record is, or null where it is another. */
export async function* csvOf<T>(
  store: Store,
  lab: string,
  { head, line }: CsvForm<T>,
  pick: (record: PlacedRecord) => T | null,
): AsyncGenerator<string> {
  yield BYTE_ORDER_MARK + head
  for (let last: PlacedRecord | null = null; ; ) {
    const page: readonly PlacedRecord[] = await store.records(lab, last, RECORDS_A_PAGE)
    const lines = page.flatMap((one) => {
      const piece = pick({ ...one, record: migrate(one.kind, one.record, one.words) })
      return piece === null ? [] : line(piece)
    })
    if (lines.length > 0) yield lines.join('')
    last = page.at(-1) ?? null
    if (last === null || page.length < RECORDS_A_PAGE) return
  }
}

// Records passed their schema when they were written.
export function sealedJacket({ kind, record }: PlacedRecord): RecordOf<'jacket'> | null {
  const jacket =
    kind === 'jacket'
      ? (record as RecordOf<'jacket'>)
      : kind === 'resting'
        ? (record as RecordOf<'resting'>).jacket
        : null
  return jacket?.state === 'sealed' ? jacket : null
}

export function specimen({ kind, record }: PlacedRecord): RecordOf<'specimen'> | null {
  if (kind === 'specimen') return record as RecordOf<'specimen'>
  return kind === 'resting' ? (record as RecordOf<'resting'>).specimen : null
}
