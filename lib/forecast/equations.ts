// The linear half of the fit: rows of few cells, grouped by piece, each piece with an intercept of its own that is
// eliminated before the equations are solved. For a piece with weights w, targets t and cells x,
//
//   d = 1/τ² + Σw   c = Σwt   b = Σwx      A += Σwxxᵀ − bbᵀ/d      g += Σwtx − bc/d
//
// and afterwards its intercept is (c − bᵀβ)/d, with what the steps' own predictors are uncertain by. Columns of a piece
// are numbered anew, so that the inner loops run over a small dense block.
import { atDouble as at } from '#lib/base'

/** Rows in the order of their pieces, as typed arrays. */
export interface Table {
  /** Rows. */
  readonly n: number
  /** Columns of all. */
  readonly p: number
  /** First cell of each row, and the end. Cells of a row are in the order of their columns, each column once. */
  readonly from: Int32Array
  readonly column: Int32Array
  /** First row of each piece, and the end. */
  readonly piece: Int32Array
}

/** Rows with what of them changes from round to round. */
export interface Working {
  readonly value: Float64Array
  readonly weight: Float64Array
  readonly target: Float64Array
}

/** A piece's sums. */
interface Common {
  readonly columns: Int32Array
  /** Number of each of its cells' columns among `columns`. */
  readonly place: Int32Array
  readonly sums: Float64Array
  weight: number
  target: number
}

export class Equations {
  readonly #t: Table
  readonly #pieces: readonly Common[]
  readonly #block: Float64Array
  readonly #row: Float64Array

  constructor(table: Table) {
    this.#t = table
    const { piece, from, column } = table
    let most = 1
    this.#pieces = Array.from({ length: piece.length - 1 }, (_, j): Common => {
      const cells = column.subarray(from[piece[j] as number], from[piece[j + 1] as number])
      const columns = Int32Array.from(new Set(cells)).sort()
      const number = new Map(Array.from(columns, (c, k) => [c, k]))
      most = Math.max(most, columns.length)
      return {
        columns,
        place: Int32Array.from(cells, (c) => number.get(c) as number),
        sums: new Float64Array(columns.length),
        weight: 0,
        target: 0,
      }
    })
    this.#block = new Float64Array(most * most)
    this.#row = new Float64Array(most)
  }

  /** Adds piece `j` to the lower half of `a` and to `g`. `piecePrecision` is 1/τ². */
  gather(
    j: number,
    { value, weight, target }: Working,
    piecePrecision: number,
    a: Float64Array,
    g: Float64Array,
  ): void {
    const { p, from, piece } = this.#t
    const common = this.#pieces[j] as Common
    const { columns, place, sums } = common
    const m = columns.length
    const block = this.#block
    block.fill(0, 0, m * m)
    sums.fill(0)
    const first = piece[j] as number
    const shift = from[first] as number
    let d = piecePrecision
    let c = 0
    for (let i = first; i < (piece[j + 1] as number); i++) {
      const w = at(weight, i)
      const wt = w * at(target, i)
      d += w
      c += wt
      const start = from[i] as number
      const end = from[i + 1] as number
      for (let k = start; k < end; k++) {
        const pk = place[k - shift] as number
        const x = at(value, k)
        const wx = w * x
        sums[pk] = at(sums, pk) + wx
        g[columns[pk] as number] = at(g, columns[pk] as number) + wt * x
        for (let l = start; l <= k; l++) {
          const cell = pk * m + (place[l - shift] as number)
          block[cell] = at(block, cell) + wx * at(value, l)
        }
      }
    }
    for (let k = 0; k < m; k++) {
      const row = (columns[k] as number) * p
      const share = at(sums, k) / d
      g[columns[k] as number] = at(g, columns[k] as number) - share * c
      for (let l = 0; l <= k; l++) {
        const cell = row + (columns[l] as number)
        a[cell] = at(a, cell) + at(block, k * m + l) - share * at(sums, l)
      }
    }
    common.weight = d
    common.target = c
  }

  /**
   * Mean and variance of the predictors of piece `j`'s rows, intercept included, once all is solved: β ~ N(mean, s).
   * Returns the mean square of the intercept.
   */
  spread(
    j: number,
    value: Float64Array,
    { mean, s }: { readonly mean: Float64Array; readonly s: Float64Array },
    out: { readonly mean: Float64Array; readonly variance: Float64Array },
  ): number {
    const { p, from, piece } = this.#t
    const { columns, place, sums, weight: d, target } = this.#pieces[j] as Common
    const m = columns.length
    const block = this.#block
    const sc = this.#row
    let middle = target
    let square = 0
    for (let k = 0; k < m; k++) {
      middle -= at(sums, k) * at(mean, columns[k] as number)
      const row = (columns[k] as number) * p
      let sum = 0
      for (let l = 0; l < m; l++) {
        const cell = at(s, row + (columns[l] as number))
        block[k * m + l] = cell
        sum += cell * at(sums, l)
      }
      sc[k] = sum / d
      square += (sum * at(sums, k)) / (d * d)
    }
    middle /= d
    const first = piece[j] as number
    const shift = from[first] as number
    for (let i = first; i < (piece[j + 1] as number); i++) {
      let sum = middle
      let variance = square + 1 / d
      const start = from[i] as number
      for (let k = start; k < (from[i + 1] as number); k++) {
        const pk = place[k - shift] as number
        const x = at(value, k)
        sum += x * at(mean, columns[pk] as number)
        let half = -at(sc, pk)
        for (let l = start; l < k; l++) half += at(value, l) * at(block, pk * m + (place[l - shift] as number))
        variance += x * (2 * half + x * at(block, pk * m + pk))
      }
      out.mean[i] = sum
      out.variance[i] = variance
    }
    return middle * middle + 1 / d + square
  }
}
