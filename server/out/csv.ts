// Pieces as a spreadsheet: those on the board and those at rest, page by page.
import type { CsvForm } from '#lib/export'
import type { Store } from '../store/contract.ts'
import { pagesOf, piecesOn } from './pages.ts'

/** By this a spreadsheet knows UTF-8. */
const BYTE_ORDER_MARK = '\ufeff'

type Found = ReturnType<typeof piecesOn>[number]

/** The file's text in parts; `pick` gives what becomes a line, or null. */
export async function* csvOf<T>(
  store: Store,
  lab: string,
  { head, line }: CsvForm<T>,
  pick: (found: Found) => T | null,
): AsyncGenerator<string> {
  yield BYTE_ORDER_MARK + head
  for await (const page of pagesOf(store, lab)) {
    const lines = piecesOn(page).flatMap((found) => {
      const piece = pick(found)
      return piece === null ? [] : line(piece)
    })
    if (lines.length > 0) yield lines.join('')
  }
}
