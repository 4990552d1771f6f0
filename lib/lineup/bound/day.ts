/**
 * How much better a line-up could be at most. Everything that pieces compete for (people's turns, seats, lines,
 * exclusive use, load, air, mentors, a person's own limits) gets a price; at given prices each piece's best day is found
 * apart (pieces.ts); the sum of those days and of the priced room is a bound for every line-up. A bundle method finds
 * the prices at which it is least (bundle.ts).
 *
 * What is given up: a learner's mentor is near; dust and solvent apart; some forbids of a place; what pieces.ts names. Giving up a rule only
 * ever adds line-ups, so the bound stays valid.
 */
import { at, atDouble } from '#lib/base'
import type { Problem } from '../problem.ts'
import { compile } from '../solve/compile.ts'
import type { Model } from '../solve/model.ts'
import { descend } from './bundle.ts'
import { type Choice, type Field, fieldOf } from './field.ts'
import { type Forced, piecesOf } from './pieces.ts'
import { type Rows, rowsOf } from './rows.ts'

export interface BoundOptions {
  /** Score of a known line-up: a bound that reaches it ends the search. The closer to the optimum the better. */
  readonly target: number
  /** True when only line-ups that keep every must are of interest. */
  readonly keepsMusts?: boolean
  readonly rounds?: number
  /** Goes on when the rounds bring little. */
  readonly isThorough?: boolean
  readonly isCancelled?: () => boolean
}

/** No line-up of this day (none that keeps every must, when asked so) scores more marks than this. */
export function boundOf(problem: Problem, options: BoundOptions): number {
  return priceDay(compile(problem), options).bound
}

export interface Priced {
  /** No line-up scores more. */
  readonly bound: number
  /** What each option of the model earns when everything it uses is paid at the best prices met. */
  readonly reduced: Float64Array
}

/** Rounds after which prices have settled at every size measured; they end by themselves before that. */
const ROUNDS = 400
/** It ends when so many rounds have brought less than this share of what is between bound and target. */
const PATIENCE = 25
const LEAST_GAIN = 0.01

/** The same on tables that are already there, with the worth of each option at the prices found. */
export function priceDay(model: Model, options: BoundOptions): Priced {
  const field = fieldOf(model, options.keepsMusts === true ? keptChoice(model) : {})
  const { best, worth } = priceField(field, rowsOf(model), { ...options, target: options.target + 1 - 1e-6 })
  return { bound: Math.floor(best + 1e-6), reduced: reducedOf(field, worth()) }
}

interface FieldOptions {
  readonly target: number
  readonly rounds?: number
  readonly start?: Float64Array
  readonly isFree?: Uint8Array
  readonly isThorough?: boolean
  readonly isCancelled?: () => boolean
}

interface PricedField {
  readonly best: number
  readonly price: Float64Array
  /** By crew entry: its share in what the last rounds chose. */
  readonly picks: Float64Array
  readonly worth: () => Float64Array
  /** By crew entry and by site: no line-up with it is worth more, given the whole field's bound. */
  readonly forced: (best: number) => Forced
}

/** Share of the newest round in `picks`. */
const NEWEST = 0.12

/** The least bound of a field and the prices that give it. */
export function priceField(
  field: Field,
  rows: Rows,
  { target, rounds, start, isFree, isThorough, isCancelled }: FieldOptions,
): PricedField {
  const picks = new Float64Array(field.crewTurn.length)
  const chosen = new Float64Array(field.crewTurn.length)
  const pieces = piecesOf(field, rows, chosen)
  const used = new Float64Array(rows.count)
  let before = Number.POSITIVE_INFINITY
  const evaluate = (price: Float64Array, slope: Float64Array): number => {
    chosen.fill(0)
    let value = pieces.price(price, used)
    for (let i = 0; i < picks.length; i++) {
      picks[i] = atDouble(picks, i) + NEWEST * (atDouble(chosen, i) - atDouble(picks, i))
    }
    for (let r = 0; r < rows.count; r++) {
      if (atDouble(price, r) !== 0) value += atDouble(price, r) * atDouble(rows.room, r)
      slope[r] = atDouble(rows.room, r) - atDouble(used, r)
    }
    return value
  }
  const { best, price } = descend({
    evaluate,
    unit: rows.unit,
    start: start ?? startOf(field, rows),
    target,
    ...(isFree === undefined ? {} : { isFree }),
    rounds: rounds ?? ROUNDS,
    isEnough: (round, best) => {
      if (isCancelled?.() === true) return true
      if (isThorough === true || round % PATIENCE !== 0) return false
      const isSlow = before - best < LEAST_GAIN * (best - target)
      before = best
      return isSlow
    },
  })
  const atBest = <Result>(read: () => Result): Result => {
    pieces.price(price, used)
    return read()
  }
  return {
    best,
    price,
    picks,
    worth: () => atBest(pieces.worthOfCrew),
    forced: (whole) => atBest(() => pieces.forced(whole)),
  }
}

/** A turn begins at the worth of its fifth best option: about what others would pay for the person. */
function startOf(field: Field, rows: Rows): Float64Array {
  const { model } = field
  const start = new Float64Array(rows.count)
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    const options = model.options.subarray(at(model.optionsStart, turn), at(model.optionsStart, turn + 1))
    const marks = Int32Array.from(options, (job) => at(model.value, turn * model.jobs + job)).sort()
    if (marks.length > 0) start[rows.turn + turn] = at(marks, Math.max(0, marks.length - 5))
  }
  return start
}

/** Only what lets every must be kept. */
export function keptChoice(model: Model): Choice {
  const places = new Map<number, number>()
  for (const must of model.musts) if (must.place !== -1) places.set(must.group, must.place)
  return {
    mayDo: (turn, job) =>
      (model.mustsOfTurn[turn] ?? []).every(
        (must) =>
          must.group === at(model.jobPiece, job) * model.shifts + (turn % model.shifts) &&
          (must.job === -1 || must.job === job),
      ),
    mayStand: (piece, shift, place) => (places.get(piece * model.shifts + shift) ?? place) === place,
  }
}

/** Worth by the model's list of options; what the person could not do even alone comes last. */
function reducedOf(field: Field, worth: Float64Array): Float64Array {
  const { model } = field
  const byTurn = new Map<number, number>()
  for (let c = 0; c < field.cells.length; c++) {
    const job = Math.floor(at(field.cells, c) / model.shifts)
    for (let i = at(field.crewStart, c); i < at(field.crewStart, c + 1); i++) {
      byTurn.set(at(field.crewTurn, i) * model.jobs + job, atDouble(worth, i))
    }
  }
  const reduced = new Float64Array(model.options.length)
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    const [start, end] = [at(model.optionsStart, turn), at(model.optionsStart, turn + 1)]
    const known = Array.from(model.options.subarray(start, end), (job) => byTurn.get(turn * model.jobs + job))
    const least = known.reduce<number>((lowest, its) => Math.min(lowest, its ?? lowest), 0)
    known.forEach((its, i) => {
      reduced[start + i] = its ?? least
    })
  }
  return reduced
}
