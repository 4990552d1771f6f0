// Steps of the past as rows of few cells in typed arrays, sorted by piece: what the rounds of the fit run over.
import { assert, atDouble as at } from '#lib/base'
import { BIAS, type Cell, TRUST } from './beliefs.ts'
import type { Table } from './equations.ts'

/** One step of the lab's past. */
export interface Row {
  /** Ways in which it differs from common practice; keys are columns of the fit. */
  readonly facts: readonly Cell[]
  /** Effects that no typed estimate foresees: hands, year, learning. */
  readonly others: readonly Cell[]
  /** Log hours by common practice. */
  readonly usual: number
  /** Log of the typed hours; null when nobody typed any. */
  readonly typed: number | null
  /** Log hours worked. */
  readonly logH: number
  /** True while it is not finished: it takes longer than that. */
  readonly isOpen: boolean
  readonly pieceId: string
}

/** Rows with what of their cells does not change. */
export interface Cells extends Table {
  readonly value: Float64Array
  /** 1 for a cell that a typed estimate takes the place of in part. */
  readonly isFact: Uint8Array
  readonly rows: readonly Row[]
  /** Cell of the trust column in each row; -1 where nobody typed. */
  readonly trustAt: Int32Array
}

/** Lays rows out. Throws when a row has a column that is none of `keys`. */
export function cellsOf(given: readonly Row[], keys: readonly string[]): Cells {
  const rows = given.toSorted((a, b) => (a.pieceId < b.pieceId ? -1 : a.pieceId > b.pieceId ? 1 : 0))
  const index = new Map(keys.map((key, i) => [key, i]))
  let cells = 0
  for (const { facts, others, typed } of rows) cells += facts.length + others.length + (typed === null ? 0 : 2)
  const from = new Int32Array(rows.length + 1)
  const column = new Int32Array(cells)
  const value = new Float64Array(cells)
  const isFact = new Uint8Array(cells)
  const trustAt = new Int32Array(rows.length).fill(-1)
  const trustColumn = index.get(TRUST)
  const pieces: number[] = []
  let next = 0
  // In the order of the columns: rows are short, so each cell is moved up to its place.
  const put = (start: number, key: string, amount: number, fact: 0 | 1) => {
    const found = index.get(key)
    assert(found !== undefined, `every column is an effect, ${key} too`)
    let k = next++
    for (; k > start && (column[k - 1] as number) > found; k--) {
      column[k] = column[k - 1] as number
      value[k] = at(value, k - 1)
      isFact[k] = isFact[k - 1] as number
    }
    column[k] = found
    value[k] = amount
    isFact[k] = fact
  }
  rows.forEach((row, i) => {
    const start = next
    if (i === 0 || rows[i - 1]?.pieceId !== row.pieceId) pieces.push(i)
    for (const { key, value: amount } of row.facts) put(start, key, amount, 1)
    for (const { key, value: amount } of row.others) put(start, key, amount, 0)
    if (row.typed !== null) {
      put(start, BIAS, 1, 0)
      // Its value is what typed and facts differ by, known only in the round.
      put(start, TRUST, 0, 0)
      for (let k = start; k < next; k++) if (column[k] === trustColumn) trustAt[i] = k
    }
    from[i + 1] = next
  })
  const piece = Int32Array.from([...pieces, rows.length])
  return { n: rows.length, p: keys.length, from, column, value, isFact, rows, piece, trustAt }
}
