/**
 * Whether anything better exists: the day is parted until the bound of each part is no better than what is known.
 * A part is a field from which choices are taken: somebody does this piece or nothing, or anything but it; a piece
 * stands here, or anywhere else. Each two parts together leave out no line-up. What is still open when the parts run
 * out bounds the day.
 */
import { at, atDouble } from '#lib/base'
import type { Model } from '../solve/model.ts'
import { keptChoice, priceField } from './day.ts'
import { type Choice, type Field, fieldOf } from './field.ts'
import { scoreOfOnly } from './only.ts'
import { rowsOf } from './rows.ts'

export interface ProofOptions {
  /** Score of the best line-up known. */
  readonly score: number
  readonly keepsMusts: boolean
  /** Parts that may be looked at. */
  readonly parts: number
  readonly isCancelled?: () => boolean
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
  readonly bound: number
  readonly price: Float64Array
}

const ROOT_ROUNDS = 200
const PART_ROUNDS = 40

/** The least bound found on line-ups better than `score`: the score itself when none exists. */
export function proveDay(model: Model, { score, keepsMusts, parts, isCancelled }: ProofOptions): number {
  const rows = rowsOf(model)
  const base = keepsMusts ? keptChoice(model) : {}
  const whole = fieldOf(model, base)
  const target = score + 1 - 1e-6
  const cancel = isCancelled === undefined ? {} : { isCancelled }
  const root = priceField(whole, rows, { target, rounds: ROOT_ROUNDS, ...cancel })
  if (root.best <= target) return score
  const few = fixed(model, base, whole, root.forced, root.best, target)
  const open: Part[] = [{ cuts: [], bound: root.best, price: root.price }]
  for (let looked = 0; looked < parts && open.length > 0; looked++) {
    if (isCancelled?.() === true) break
    open.sort((a, b) => a.bound - b.bound)
    const part = open.pop()
    if (part === undefined) break
    const field = fieldOf(model, choiceOf(model, few, part.cuts))
    const busy = new Set(part.cuts.flatMap((cut) => (cut.kind === 'busy' && cut.isOnly ? [cut.subject] : [])))
    const isFree = new Uint8Array(rows.count)
    for (const turn of busy) isFree[rows.turn + turn] = 1
    const own = priceField(field, rows, { target, rounds: PART_ROUNDS, start: part.price, isFree, ...cancel })
    if (own.best <= target) continue
    const cut = nextCut(field, own.picks, busy)
    if (cut === null) {
      // Nothing is left to part: one line-up, which is good or is none.
      const its = scoreOfOnly(field)
      if (its === null || its <= score) continue
      return Math.floor(Math.max(own.best, ...open.map(({ bound }) => bound)) + 1e-6)
    }
    const bound = Math.min(own.best, part.bound)
    for (const isOnly of [true, false]) {
      open.push({ cuts: [...part.cuts, { ...cut, isOnly }], bound, price: own.price })
    }
  }
  return Math.floor(open.reduce((most, { bound }) => Math.max(most, bound), score) + 1e-6)
}

/** The choice without crew entries that no better line-up can have. */
function fixed(
  model: Model,
  base: Choice,
  field: Field,
  forced: (bonus: number) => Float64Array,
  best: number,
  target: number,
): Choice {
  const dropped = new Set<number>()
  forced(best).forEach((bound, i) => {
    if (bound <= target) dropped.add(at(field.crewTurn, i) * model.jobs + jobOf(field, i))
  })
  return {
    ...base,
    mayDo: (turn, job) => !dropped.has(turn * model.jobs + job) && base.mayDo?.(turn, job) !== false,
  }
}

function jobOf(field: Field, entry: number): number {
  let low = 0
  let high = field.cells.length
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (at(field.crewStart, middle) <= entry) low = middle
    else high = middle
  }
  return Math.floor(at(field.cells, low) / field.model.shifts)
}

function choiceOf(model: Model, base: Choice, cuts: readonly Cut[]): Choice {
  const allows = (kind: Cut['kind'], subject: number, object: number): boolean =>
    cuts.every((cut) => cut.kind !== kind || cut.subject !== subject || (cut.object === object) === cut.isOnly)
  return {
    mayDo: (turn, job) =>
      allows('piece', turn, at(model.jobPiece, job)) &&
      allows('job', turn, job) &&
      allows('busy', turn, 0) &&
      base.mayDo?.(turn, job) !== false,
    mayStand: (piece, shift, place) =>
      allows('group', piece * model.shifts + shift, place) && base.mayStand?.(piece, shift, place) !== false,
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
