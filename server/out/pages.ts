// All records of a lab, page by page, in today's words.
import { migrate } from '#lib/doc'
import type { AnyRecord, Kind, RecordOf } from '#lib/words'
import type { PlacedRecord, Store } from '../store/contract.ts'

const RECORDS_A_PAGE = 500

type Placed = Pick<PlacedRecord, 'home' | 'kind' | 'id'> & { readonly record: AnyRecord }

/** The pages, none of them empty. */
export async function* pagesOf(store: Store, lab: string): AsyncGenerator<readonly Placed[]> {
  for (let last: PlacedRecord | null = null; ; ) {
    const page: readonly PlacedRecord[] = await store.records(lab, last, RECORDS_A_PAGE)
    // Passed their schema when they were written; a migration answers for what it makes of them.
    if (page.length > 0)
      yield page.map(({ home, kind, id, record, words }) => ({
        ...{ home, kind, id, record: migrate(kind, record, words) as AnyRecord },
      }))
    last = page.at(-1) ?? null
    if (last === null || page.length < RECORDS_A_PAGE) return
  }
}

/** The record, where it is of this kind. */
export const as = <K extends Kind>(kind: K, one: Placed): RecordOf<K> | null =>
  one.kind === kind ? (one.record as RecordOf<K>) : null

/** The jackets and specimens of a page, on the board or at rest. */
export function piecesOn(page: readonly Placed[]) {
  return page.flatMap((one) => {
    const resting = as('resting', one)
    const jacket = as('jacket', one) ?? resting?.jacket ?? null
    const specimen = as('specimen', one) ?? resting?.specimen ?? null
    return jacket || specimen ? [{ jacket, specimen, resting }] : []
  })
}
