/**
 * Whether anything better exists. First what no better line-up can have is left out (`closeIn`): at the bound's prices
 * each piece's day is counted again with one person, or one place, surely in it, and what stays below the best known
 * goes. Then what is left is parted until the bound of each part is no better (`proveRest`). A part is a field from
 * which choices are taken: somebody does this piece or nothing, or anything but it; a piece stands here, or anywhere
 * else. Each two parts together leave out no line-up. What is still open when the parts run out bounds the day.
 */
import { at, atDouble } from '#lib/base'
import type { Model } from '../solve/model.ts'
import { keptChoice, priceField } from './day.ts'
import { type Choice, type Field, fieldOf } from './field.ts'
import { scoreOfOnly } from './only.ts'
import type { Forced } from './pieces.ts'
import { type Rows, rowsOf } from './rows.ts'

/** What a day can still be when it is to be better than `score`. */
export interface Rest {
  readonly score: number
  readonly keepsMusts: boolean
  /** No line-up is worth more; whole marks. */
  readonly bound: number
  readonly price: Float64Array
  readonly without: Without
  /** What is left; null when nothing better exists. */
  readonly field: Field | null
}

/** Marked with 1: a turn's job at turn × jobs + job; a piece's place at (piece × shifts + shift) × places + place. */
interface Without {
  readonly jobs: Uint8Array
  readonly sites: Uint8Array
}

/**
 * One choice: of a turn for a piece or a job, of a turn for work at all (its object is 0), or of a piece in a shift (a
 * group) for a place. `isOnly`: this and nothing else; otherwise: anything but this.
 */
interface Cut {
  readonly kind: 'piece' | 'job' | 'busy' | 'group'
  readonly subject: number
  readonly object: number
  readonly isOnly: boolean
}

interface Part {
  readonly cuts: readonly Cut[]
  readonly without: Without
  readonly bound: number
  readonly price: Float64Array
}

const ROOT_ROUNDS = 200
const PART_ROUNDS = 40
/** What is left is priced again while this share of it, or less, stays. */
const STAYS = 0.8

/** Leaves out what no line-up better than `score` has; goes on from a former rest when a better line-up was found. */
export function closeIn(
  model: Model,
  { score, keepsMusts, former }: { readonly score: number; readonly keepsMusts: boolean; readonly former?: Rest },
): Rest {
  const rows = rowsOf(model)
  const base = keepsMusts ? keptChoice(model) : {}
  const start = former ?? { bound: Number.POSITIVE_INFINITY, price: null, without: nothingOf(model) }
  const found = pareDown(model, rows, { base, cuts: [], start, target: targetOf(score), rounds: ROOT_ROUNDS })
  return { score, keepsMusts, ...found, bound: most([found.bound], score), field: found.last?.field ?? null }
}

/** The model with the options that a better line-up may have, and no others; `kept` is where they were among all. */
export function narrowed(model: Model, { without }: Rest): { readonly model: Model; readonly kept: Int32Array } {
  const kept: number[] = []
  const optionsStart = new Int32Array(model.optionsStart.length)
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    optionsStart[turn] = kept.length
    for (let o = at(model.optionsStart, turn); o < at(model.optionsStart, turn + 1); o++) {
      if (without.jobs[turn * model.jobs + at(model.options, o)] === 0) kept.push(o)
    }
  }
  optionsStart[model.persons * model.shifts] = kept.length
  const options = Int32Array.from(kept, (o) => at(model.options, o))
  return { model: { ...model, options, optionsStart }, kept: Int32Array.from(kept) }
}

/** The least bound found by looking at so many parts: the score itself when nothing better exists. */
export function proveRest(
  model: Model,
  rest: Rest,
  { parts, isCancelled }: { readonly parts: number; readonly isCancelled?: () => boolean },
): number {
  const { score } = rest
  if (rest.field === null) return score
  const rows = rowsOf(model)
  const base = rest.keepsMusts ? keptChoice(model) : {}
  const open: Part[] = [{ cuts: [], ...rest }]
  for (let looked = 0; looked < parts && open.length > 0; looked++) {
    if (isCancelled?.() === true) break
    open.sort((a, b) => a.bound - b.bound)
    const part = open.pop()
    if (part === undefined) break
    const { cuts } = part
    const { last, ...left } = pareDown(model, rows, {
      ...{ base, cuts, start: part, target: targetOf(score), rounds: PART_ROUNDS },
    })
    if (last === null) continue
    const cut = nextCut(last.field, last.picks, busyOf(cuts))
    if (cut !== null) {
      for (const isOnly of [true, false]) open.push({ ...left, cuts: [...cuts, { ...cut, isOnly }] })
      continue
    }
    // Nothing is left to part: one line-up, which is good or is none.
    const its = scoreOfOnly(last.field)
    if (its !== null && its > score) return most([left.bound, ...open.map(({ bound }) => bound)], score)
  }
  return most(
    open.map(({ bound }) => bound),
    score,
  )
}

const most = (bounds: readonly number[], least: number): number => Math.floor(Math.max(least, ...bounds) + 1e-6)

/** Marks are whole numbers: what cannot reach the next one is not better. */
const targetOf = (score: number): number => score + 1 - 1e-6

const nothingOf = (model: Model): Without => ({
  jobs: new Uint8Array(model.persons * model.shifts * model.jobs),
  sites: new Uint8Array(model.pieces * model.shifts * model.places),
})

const busyOf = (cuts: readonly Cut[]): ReadonlySet<number> =>
  new Set(cuts.flatMap((cut) => (cut.kind === 'busy' && cut.isOnly ? [cut.subject] : [])))

/** Prices a part, leaves out what cannot be, and prices what is left again for as long as that leaves out much. */
function pareDown(
  model: Model,
  rows: Rows,
  {
    base,
    cuts,
    start,
    target,
    rounds,
  }: {
    readonly base: Choice
    readonly cuts: readonly Cut[]
    readonly start: { readonly bound: number; readonly price: Float64Array | null; readonly without: Without }
    readonly target: number
    readonly rounds: number
  },
) {
  const isFree = new Uint8Array(rows.count)
  for (const turn of busyOf(cuts)) isFree[rows.turn + turn] = 1
  let { bound, price, without } = start
  for (;;) {
    const field = fieldOf(model, choiceOf(model, base, without, cuts))
    const own = priceField(field, rows, { target, rounds, isFree, ...(price === null ? {} : { start: price }) })
    bound = Math.min(bound, own.best)
    price = own.price
    if (own.best <= target) return { bound, price, without, last: null }
    const left = leaveOut(field, own.forced(own.best), target, without)
    without = left.without
    if (left.entries >= STAYS * field.crewTurn.length)
      return { bound, price, without, last: { field, picks: own.picks } }
  }
}

/** What no better line-up has, with what was known before; how many crew entries are left. */
function leaveOut(
  field: Field,
  forced: Forced,
  target: number,
  before: Without,
): { readonly without: Without; readonly entries: number } {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace } = field
  const S = model.shifts
  const jobs = Uint8Array.from(before.jobs)
  const sites = Uint8Array.from(before.sites)
  // A piece may stand somewhere for any of its jobs: it may not when none of them can be there.
  const canStand = new Map<number, boolean>()
  let entries = 0
  for (let c = 0; c < cells.length; c++) {
    const [job, s] = [Math.floor(at(cells, c) / S), at(cells, c) % S]
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      if (atDouble(forced.crew, i) > target) entries++
      else jobs[at(crewTurn, i) * model.jobs + job] = 1
    }
    for (let j = at(siteStart, c); j < at(siteStart, c + 1); j++) {
      const key = (at(model.jobPiece, job) * S + s) * model.places + at(sitePlace, j)
      canStand.set(key, canStand.get(key) === true || atDouble(forced.site, j) > target)
    }
  }
  for (const [key, can] of canStand) if (!can) sites[key] = 1
  return { without: { jobs, sites }, entries }
}

function choiceOf(model: Model, base: Choice, without: Without, cuts: readonly Cut[]): Choice {
  const allows = (kind: Cut['kind'], subject: number, object: number): boolean =>
    cuts.every((cut) => cut.kind !== kind || cut.subject !== subject || (cut.object === object) === cut.isOnly)
  return {
    mayDo: (turn, job) =>
      allows('piece', turn, at(model.jobPiece, job)) &&
      allows('job', turn, job) &&
      allows('busy', turn, 0) &&
      without.jobs[turn * model.jobs + job] === 0 &&
      base.mayDo?.(turn, job) !== false,
    mayStand: (piece, shift, place) =>
      allows('group', piece * model.shifts + shift, place) &&
      without.sites[(piece * model.shifts + shift) * model.places + place] === 0 &&
      base.mayStand?.(piece, shift, place) !== false,
  }
}

type Object = Omit<Cut, 'isOnly'>

/**
 * The turn whose choice of a piece is most open, by how often the last rounds chose it; then of a job, then whether it
 * works at all, then a piece's place. Null when one line-up is left.
 */
function nextCut(field: Field, picks: Float64Array, busy: ReadonlySet<number>): Object | null {
  const { model, cells, crewStart, crewTurn, siteStart, sitePlace } = field
  const pieces = new Map<number, Map<number, number>>()
  const jobs = new Map<number, Map<number, number>>()
  const count = (into: Map<number, Map<number, number>>, turn: number, key: number, share: number): void => {
    const own = into.get(turn) ?? new Map<number, number>()
    into.set(turn, own.set(key, (own.get(key) ?? 0) + share))
  }
  for (let c = 0; c < cells.length; c++) {
    const job = Math.floor(at(cells, c) / model.shifts)
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      count(pieces, at(crewTurn, i), at(model.jobPiece, job), atDouble(picks, i))
      count(jobs, at(crewTurn, i), job, atDouble(picks, i))
    }
  }
  const found = mostOpen('piece', pieces, 2) ?? mostOpen('job', jobs, 2)
  if (found !== null) return found
  for (const turn of busy) pieces.delete(turn)
  const idle = mostOpen('busy', pieces, 1)
  if (idle !== null) return { ...idle, object: 0 }
  for (let c = 0; c < cells.length; c++) {
    if (at(siteStart, c + 1) - at(siteStart, c) < 2) continue
    const cell = at(cells, c)
    const group = at(model.jobPiece, Math.floor(cell / model.shifts)) * model.shifts + (cell % model.shifts)
    return { kind: 'group', subject: group, object: at(sitePlace, at(siteStart, c)) }
  }
  return null
}

function mostOpen(
  kind: Cut['kind'],
  choices: ReadonlyMap<number, ReadonlyMap<number, number>>,
  least: number,
): Object | null {
  let found: Object | null = null
  let most = Number.NEGATIVE_INFINITY
  for (const [subject, own] of choices) {
    if (own.size < least) continue
    for (const [object, share] of own) {
      const openness = Math.min(share, 1 - share)
      if (openness <= most) continue
      most = openness
      found = { kind, subject, object }
    }
  }
  return found
}
