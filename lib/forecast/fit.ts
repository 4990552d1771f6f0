// Hours learnt from the lab's own steps. Log hours of a step are what common practice says, plus what this lab does
// differently: level, effects of the facts, technique, who worked, the run of the years, and the piece itself.
//
//   log h = usual(facts) + x'b + technique + hands + year + piece + noise        b, effects ~ N(0, ·)
//
// Given the variances the posterior of all effects is normal and exact: one Cholesky factorization, with the pieces (an
// intercept each) eliminated first. Unfinished steps say that they take longer than so far; each is a normal site found
// by expectation propagation (Minka 2001), which for this likelihood agrees with long Gibbs runs (tests). The variances
// are found by EM (Dempster, Laird & Rubin 1977) from scaled inverse chi-square priors. Where somebody typed an
// estimate, the step is a mixture of that and the facts, with a weight that is learnt too.
import { assert, atDouble as at } from '#lib/base'
import { BIAS, beliefs, biasSd, FIRST_YEAR_SD, type Scales, TRUST, usualScales, usualTrust } from './beliefs.ts'
import { factor, inverse, solve } from './cholesky.ts'
import { Equations } from './equations.ts'
import { type Cells, cellsOf, type Row } from './rows.ts'
import { truncatedAbove } from './tail.ts'

/** What a column's effect may be before anything is seen; columns of one family share a variance that is learnt. */
export interface Effect {
  readonly key: string
  readonly sd: number | 'technique' | 'hands'
}

export interface Fit {
  readonly keys: readonly string[]
  readonly mean: Float64Array
  /** Posterior covariance, row-major. */
  readonly covariance: Float64Array
  readonly scales: Scales
  /** Finished steps behind it, without and with a typed estimate. */
  readonly finished: readonly [number, number]
  readonly open: number
  /** Standardised errors of the finished steps, each as if it had been left out. */
  readonly errors: Float64Array
}

/** Columns of the run of the years, one a stretch of months; each goes on from the one before. */
export const yearKey = (stretch: number): string => `year ${stretch}`
export interface FitOptions {
  /** All effects but bias, trust and years. */
  readonly effects: readonly Effect[]
  /** Stretches of months, counted from 0. */
  readonly years: number
  /** Rounds of EM at most; fewer from a `start` that was good. */
  readonly rounds: number
  readonly start?: Scales
}

/** Rounds end when no scale moves more than this. */
const CLOSE = 0.002

/** Fits the model. Throws when a row has a column that is none of the effects. Pure: equal input, equal output. */
export function fitHours(rows: readonly Row[], options: FitOptions): Fit {
  const keys = [
    ...options.effects.map(({ key }) => key),
    BIAS,
    TRUST,
    ...Array.from({ length: options.years }, (_, i) => yearKey(i)),
  ]
  const state = new Rounds(cellsOf(rows, keys), keys, options)
  for (let round = 0; round < options.rounds; round++) if (state.round() < CLOSE) break
  state.settle()
  return state.fit()
}

/** The rounds of one fit: E-step by factorization and sites, M-step on the scales. */
class Rounds {
  readonly #t: Cells
  readonly #equations: Equations
  readonly #keys: readonly string[]
  readonly #options: FitOptions
  #scales: Scales
  /** Values of the cells in this round. */
  readonly #x: Float64Array
  /** Target and weight of each row: of a finished step its log hours and 1/noise, of an open one its site. */
  readonly #target: Float64Array
  readonly #weight: Float64Array
  readonly #shift: Float64Array
  readonly #mean: Float64Array
  #inverse: Float64Array
  /** Posterior mean and variance of each row's predictor, piece included. */
  readonly #rowMean: Float64Array
  readonly #rowVariance: Float64Array
  readonly #openError: Float64Array
  readonly #pieceSquare: Float64Array
  readonly #isOpen: Uint8Array
  readonly #openRows: readonly number[]

  constructor(table: Cells, keys: readonly string[], options: FitOptions) {
    const { n, p, value } = table
    this.#t = table
    this.#equations = new Equations(table)
    this.#keys = keys
    this.#options = options
    this.#scales = options.start ?? usualScales
    this.#x = new Float64Array(value.length)
    this.#target = new Float64Array(n)
    this.#weight = new Float64Array(n)
    this.#shift = new Float64Array(n)
    this.#mean = new Float64Array(p)
    this.#inverse = new Float64Array(p * p)
    this.#rowMean = new Float64Array(n)
    this.#rowVariance = new Float64Array(n)
    this.#openError = new Float64Array(n)
    const pieces = table.piece.length - 1
    this.#pieceSquare = new Float64Array(pieces)
    this.#openRows = table.rows.flatMap(({ isOpen }, i) => (isOpen ? [i] : []))
    this.#isOpen = Uint8Array.from({ length: pieces }, (_, j) => {
      const rows = table.rows.slice(table.piece[j], table.piece[j + 1])
      return rows.some(({ isOpen }) => isOpen) ? 1 : 0
    })
  }

  /** One round; the largest change of a scale, as a share. */
  round(): number {
    this.settle()
    return this.#rescale()
  }

  /**
   * The posterior for the present scales. Sites start from where the last round left them; pieces whose steps are all
   * finished are gone through once, whatever the sweeps.
   */
  settle(): void {
    this.#lay()
    const { p, piece } = this.#t
    const base = new Float64Array(p * p)
    const right = new Float64Array(p)
    this.#prior(base, right)
    const working = { value: this.#x, weight: this.#weight, target: this.#target }
    const own = 1 / this.#scales.piece
    const pieces = piece.length - 1
    const spread = (j: number) => {
      const solved = { mean: this.#mean, s: this.#inverse }
      const rows = { mean: this.#rowMean, variance: this.#rowVariance }
      this.#pieceSquare[j] = this.#equations.spread(j, this.#x, solved, rows)
    }
    for (let j = 0; j < pieces; j++) if (this.#isOpen[j] === 0) this.#equations.gather(j, working, own, base, right)
    for (let sweep = 0; sweep < SWEEPS_MAX; sweep++) {
      const a = base.slice()
      this.#mean.set(right)
      for (let j = 0; j < pieces; j++) if (this.#isOpen[j] === 1) this.#equations.gather(j, working, own, a, this.#mean)
      assert(factor(a, p), 'a matrix with a proper prior is positive definite')
      solve(a, p, this.#mean)
      this.#inverse = inverse(a, p)
      for (let j = 0; j < pieces; j++) if (this.#isOpen[j] === 1) spread(j)
      if (this.#openRows.length === 0 || this.#moveSites() < SITE_CLOSE) break
    }
    for (let j = 0; j < pieces; j++) if (this.#isOpen[j] === 0) spread(j)
  }

  fit(): Fit {
    const { rows } = this.#t
    const finished: [number, number] = [0, 0]
    for (const row of rows) if (!row.isOpen) finished[row.typed === null ? 0 : 1]++
    return {
      keys: this.#keys,
      mean: this.#mean.slice(),
      covariance: this.#inverse,
      scales: this.#scales,
      finished,
      open: rows.length - finished[0] - finished[1],
      errors: this.#errors(),
    }
  }

  /** Cells, targets and weights for the present scales. */
  #lay(): void {
    const { n, from, column, value, isFact, rows, trustAt } = this.#t
    const { trust, noise } = this.#scales
    for (let i = 0; i < n; i++) {
      const row = rows[i] as Row
      const hasTyped = row.typed !== null
      let differs = hasTyped ? (row.typed ?? 0) - row.usual : 0
      const end = from[i + 1] as number
      for (let k = from[i] as number; k < end; k++) {
        const amount = at(value, k)
        this.#x[k] = hasTyped && isFact[k] === 1 ? (1 - trust) * amount : amount
        if (hasTyped && isFact[k] === 1) differs -= amount * at(this.#mean, column[k] as number)
      }
      // What one more unit of trust would change, its product with the effects made linear around where they stand.
      if (hasTyped) this.#x[trustAt[i] as number] = differs
      this.#shift[i] = hasTyped ? trust * (row.typed ?? 0) + (1 - trust) * row.usual : row.usual
      if (row.isOpen) continue
      this.#weight[i] = 1 / noise[hasTyped ? 1 : 0]
      this.#target[i] = row.logH - at(this.#shift, i)
    }
  }

  /** Prior precision, lower half, and what it adds to the right side. */
  #prior(a: Float64Array, g: Float64Array): void {
    const { p } = this.#t
    const { technique, hands, year } = this.#scales
    const { effects, years } = this.#options
    effects.forEach(({ sd }, i) => {
      a[i * p + i] = 1 / (sd === 'technique' ? technique : sd === 'hands' ? hands : sd * sd)
    })
    const first = effects.length
    a[first * p + first] = 1 / biasSd ** 2
    // Trust is counted from where it stands; its belief is where it always was.
    g[first + 1] = (usualTrust.mean - this.#scales.trust) / usualTrust.sd ** 2
    a[(first + 1) * p + first + 1] = 1 / usualTrust.sd ** 2
    for (let k = 0; k < years; k++) {
      const i = first + 2 + k
      a[i * p + i] = (k === 0 ? 1 / FIRST_YEAR_SD ** 2 : 1 / year) + (k < years - 1 ? 1 / year : 0)
      if (k > 0) a[i * p + i - 1] = -1 / year
    }
  }

  /** Moves each open step's site to what its bound says; the largest move, in standard deviations. */
  #moveSites(): number {
    const { rows } = this.#t
    let moved = 0
    for (const i of this.#openRows) {
      const row = rows[i] as Row
      const noise = this.#scales.noise[row.typed === null ? 0 : 1]
      const own = at(this.#weight, i)
      const variance = at(this.#rowVariance, i)
      // The row's predictor without its own site.
      const cavity = 1 / Math.max(1e-9, 1 / variance - own)
      const middle = cavity * (at(this.#rowMean, i) / variance - own * at(this.#target, i))
      const cut = truncatedAbove(middle, cavity, noise, row.logH - at(this.#shift, i))
      const weight = Math.max(1e-9, 1 / cut.variance - 1 / cavity)
      const target = (cut.mean / cut.variance - middle / cavity) / weight
      const before = own * at(this.#target, i)
      moved = Math.max(
        moved,
        Math.abs(weight * target - before) * Math.sqrt(variance),
        Math.abs(weight - own) * variance,
      )
      this.#weight[i] = weight
      this.#target[i] = target
      this.#openError[i] = cut.errorSquared
    }
    return moved
  }

  /** M-step: scales from expected squares and their beliefs. */
  #rescale(): number {
    const { n, p, rows, piece } = this.#t
    const former = this.#scales
    const squares = [0, 0]
    const counts = [0, 0]
    for (let i = 0; i < n; i++) {
      const row = rows[i] as Row
      const k = row.typed === null ? 0 : 1
      const square = row.isOpen
        ? at(this.#openError, i)
        : (at(this.#target, i) - at(this.#rowMean, i)) ** 2 + at(this.#rowVariance, i)
      squares[k] = (squares[k] ?? 0) + square
      counts[k] = (counts[k] ?? 0) + 1
    }
    const scaled = (belief: { readonly sd: number; readonly weight: number }, sum: number, count: number) =>
      (sum + belief.weight * belief.sd ** 2) / (count + belief.weight)
    const family = (name: 'technique' | 'hands') => {
      let sum = 0
      let count = 0
      this.#options.effects.forEach(({ sd }, i) => {
        if (sd !== name) return
        sum += at(this.#mean, i) ** 2 + at(this.#inverse, i * p + i)
        count++
      })
      return scaled(beliefs[name], sum, count)
    }
    const first = this.#options.effects.length + 2
    let steps = 0
    for (let k = 1; k < this.#options.years; k++) {
      const i = first + k
      const [v, c, w] = [i * p + i, i * p + i - 1, (i - 1) * p + i - 1]
      steps +=
        (at(this.#mean, i) - at(this.#mean, i - 1)) ** 2 +
        at(this.#inverse, v) +
        at(this.#inverse, w) -
        2 * at(this.#inverse, c)
    }
    const trust = Math.min(0.98, Math.max(0, former.trust + at(this.#mean, first - 1)))
    this.#scales = {
      noise: [
        scaled(beliefs.noise[0], squares[0] ?? 0, counts[0] ?? 0),
        scaled(beliefs.noise[1], squares[1] ?? 0, counts[1] ?? 0),
      ],
      piece: scaled(
        beliefs.piece,
        this.#pieceSquare.reduce((sum, square) => sum + square, 0),
        piece.length - 1,
      ),
      technique: family('technique'),
      hands: family('hands'),
      year: scaled(beliefs.year, steps, Math.max(0, this.#options.years - 1)),
      trust,
    }
    const now = this.#scales
    return Math.max(
      Math.abs(now.noise[0] / former.noise[0] - 1),
      Math.abs(now.noise[1] / former.noise[1] - 1),
      Math.abs(now.piece / former.piece - 1),
      Math.abs(now.technique / former.technique - 1),
      Math.abs(now.hands / former.hands - 1),
      Math.abs(now.year / former.year - 1),
      Math.abs(now.trust - former.trust),
    )
  }

  /**
   * Errors of the finished steps against a forecast by a fit without each that does not know whose hands it will be, over
   * the deviation such a forecast states: for given scales r/(1 − h) and noise/(1 − h), h being the step's own weight.
   */
  #errors(): Float64Array {
    const { p, from, column, rows } = this.#t
    const errors: number[] = []
    rows.forEach((row, i) => {
      if (row.isOpen) return
      const noise = this.#scales.noise[row.typed === null ? 0 : 1]
      const left = Math.max(1e-6, 1 - at(this.#rowVariance, i) / noise)
      let error = (at(this.#target, i) - at(this.#rowMean, i)) / left
      let variance = noise / left
      for (let k = from[i] as number; k < (from[i + 1] as number); k++) {
        const ck = column[k] as number
        if (this.#options.effects[ck]?.sd !== 'hands') continue
        const share = at(this.#x, k)
        error += share * at(this.#mean, ck)
        variance += share * share * Math.max(0, this.#scales.hands - at(this.#inverse, ck * p + ck))
      }
      errors.push(error / Math.sqrt(variance))
    })
    return Float64Array.from(errors)
  }
}

/** Sweeps over the sites in one round; they mostly settle in three. */
const SWEEPS_MAX = 12
const SITE_CLOSE = 1e-4
