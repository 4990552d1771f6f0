// The hours model as it is handed about: what a fit has learnt, small enough to lie on the board, with nothing in it
// about any one person. Whoever has it can forecast any step from its facts alone, in the browser as on the server.
import { dayNumber, normalQuantile } from '#lib/base'
import type { HoursLearnt } from '#lib/words'
import type { Facts } from './facts.ts'
import {
  BIAS,
  type Cell,
  type Effect,
  type Fit,
  fitHours,
  type Row,
  type Scales,
  TRUST,
  usualScales,
  yearKey,
} from './fit.ts'
import { columnsOf, priorSd, usualLogH } from './practice.ts'

/** A step's past: facts as they were when it was begun, and what became of it. */
export interface Past {
  readonly facts: Facts
  readonly pieceId: string
  readonly minutes: number
  /** True while it is not finished, or was dropped: it takes longer than that. */
  readonly isOpen: boolean
  /** Day on which it was finished, or last looked at; ISO date. */
  readonly on: string
  /** Who has worked on it and for how long. */
  readonly by: readonly { readonly personId: string; readonly minutes: number }[]
}

/** What the lab's past teaches, field by field as in #lib/words. */
export type HoursModel = Readonly<Omit<HoursLearnt, 'id' | 'byHands'>>

/** Days of one stretch of the run of the years. */
const STRETCH_DAYS = 91
/** Stretches looked at; all before them are one. */
const STRETCHES_MAX = 24
/** A technique's own experience counts from here; the learning of whoever has more than this is as of now unknown. */
const USUAL_TURNS = 8
const TURNS_MAX = 60
/** Log hours for each unit of ln(1 + finished steps at the technique); 90 % for each doubling would be −0.15. */
const LEARNING = { key: 'learning', mean: -0.08, sd: 0.08 }
const YEAR = 'year'
/** Steps from which it is told how practised the hands are. */
const LATELY = 40

/** A fit, with what only the server may know: effects of hands. */
export interface Learnt {
  readonly model: HoursModel
  readonly fit: Fit
  readonly scales: Scales
  /** Finished steps, by `person technique`. */
  readonly turns: ReadonlyMap<string, number>
}

/**
 * Learns from the lab's past, oldest first. `start` is an earlier result's `scales`: then few rounds are enough.
 */
export function learn(past: readonly Past[], start?: Scales, rounds = start ? 3 : 30): Learnt {
  const usable = past.filter(({ minutes, isOpen }) => minutes > 0 || isOpen)
  const days = usable.map(({ on }) => dayNumber(on))
  const last = days.reduce((a, b) => Math.max(a, b), 0)
  const first = Math.max(
    days.reduce((a, b) => Math.min(a, b), last),
    last - STRETCH_DAYS * (STRETCHES_MAX - 1),
  )
  const years = Math.floor((last - first) / STRETCH_DAYS) + 1
  const turns = new Map<string, number>()
  const techniques = new Set<string>()
  const hands = new Set<string>()
  const skills: number[] = []
  const rows = usable.map((one, i): Row => {
    techniques.add(one.facts.techniqueId)
    const others: Cell[] = [
      { key: yearKey(Math.max(0, Math.floor(((days[i] ?? last) - first) / STRETCH_DAYS))), value: 1 },
    ]
    const total = one.by.reduce((sum, { minutes }) => sum + minutes, 0)
    let skill = 0
    for (const { personId, minutes } of one.by) {
      const share = total > 0 ? minutes / total : 0
      if (share === 0) continue
      hands.add(personId)
      others.push({ key: handKey(personId), value: share })
      const key = `${personId} ${one.facts.techniqueId}`
      const before = turns.get(key) ?? 0
      skill += share * experience(before)
      if (!one.isOpen) turns.set(key, before + share)
    }
    if (total > 0) skills.push(skill)
    if (skill !== 0) others.push({ key: LEARNING.key, value: skill })
    return {
      ...rowOf(one.facts),
      others,
      usual: usualLogH(one.facts) + LEARNING.mean * skill,
      logH: Math.log(Math.max(one.minutes, 0.5) / 60),
      isOpen: one.isOpen,
      pieceId: one.pieceId,
    }
  })
  const effects: Effect[] = [
    ...Object.entries(priorSd).map(([key, sd]) => ({ key, sd })),
    { key: LEARNING.key, sd: LEARNING.sd },
    ...[...techniques].map((id) => ({ key: techniqueKey(id), sd: 'technique' as const })),
    ...[...hands].map((id) => ({ key: handKey(id), sd: 'hands' as const })),
  ]
  const fit = fitHours(rows, { effects, years, rounds, ...(start ? { start } : {}) })
  const late = skills.slice(-LATELY)
  const skill = late.length === 0 ? 0 : late.reduce((sum, one) => sum + one, 0) / late.length
  return { model: publicOf(fit, years, skill), fit, scales: fit.scales, turns }
}

/** The model of a lab that has finished nothing yet: common practice, with all its ignorance. */
export function usualModel(): HoursModel {
  return learn([], usualScales).model
}

const techniqueKey = (id: string) => `technique ${id}`
const handKey = (id: string) => `hand ${id}`
const experience = (turns: number): number => Math.log((1 + Math.min(turns, TURNS_MAX)) / (1 + USUAL_TURNS))

/** What the hands on a step do to its log hours, beside hands nobody knows: their own effects, shrunk, and practice. */
export function handsOf(
  { model, fit, turns }: Learnt,
  techniqueId: string,
  by: readonly { readonly personId: string; readonly minutes: number }[],
): { readonly shift: number; readonly variance: number } | null {
  const total = by.reduce((sum, { minutes }) => sum + minutes, 0)
  if (total === 0) return null
  const p = fit.keys.length
  const learning = LEARNING.mean + (fit.mean[fit.keys.indexOf(LEARNING.key)] ?? 0)
  let shift = 0
  let variance = 0
  for (const { personId, minutes } of by) {
    const share = minutes / total
    const index = fit.keys.indexOf(handKey(personId))
    shift += share * (index < 0 ? 0 : (fit.mean[index] ?? 0))
    shift += share * learning * (experience(turns.get(`${personId} ${techniqueId}`) ?? 0) - model.skill)
    variance += share ** 2 * (index < 0 ? model.hands : (fit.covariance[index * p + index] ?? 0))
  }
  return { shift, variance }
}

/** The part of a row that comes of the facts alone. */
function rowOf(facts: Facts): Pick<Row, 'facts' | 'typed'> {
  return {
    facts: columnsOf(facts).concat({ key: techniqueKey(facts.techniqueId), value: 1 }),
    typed: facts.typedH === null ? null : Math.log(facts.typedH),
  }
}

/** The fit without hands and former years. */
function publicOf(fit: Fit, years: number, skill: number): HoursModel {
  const keep: number[] = []
  const keys: string[] = []
  const now = yearKey(years - 1)
  fit.keys.forEach((key, i) => {
    if (key.startsWith('hand ') || (key.startsWith('year ') && key !== now)) return
    keep.push(i)
    keys.push(key === now ? YEAR : key)
  })
  const p = fit.keys.length
  const covariance: number[] = []
  keep.forEach((i, row) => {
    for (const j of keep.slice(0, row + 1)) covariance.push(fit.covariance[i * p + j] ?? 0)
  })
  const { scales } = fit
  const [plain, typed] = fit.finished
  return {
    keys,
    mean: keep.map((i) => digits(fit.mean[i] ?? 0)),
    covariance: covariance.map(digits),
    noise: [scales.noise[0], scales.noise[1]],
    piece: scales.piece,
    technique: scales.technique,
    hands: scales.hands,
    trust: scales.trust,
    skill,
    widen: widenOf(fit.errors),
    degrees: [plain + NOISE_WEIGHT, typed + NOISE_WEIGHT],
    finished: plain + typed,
    open: fit.open,
  }
}

/** Six digits: it is sent to every screen. */
const digits = (value: number): number => Number(value.toPrecision(6))

/** Steps that the belief about the noise weighs as much as. */
const NOISE_WEIGHT = 4
/** Steps that the belief in a normal distribution weighs as much as. */
const NORMAL_WEIGHT = 5

/**
 * How wide windows should have been: the deviation within which eight in ten of the finished steps lay, over the one
 * within which a normal distribution has them. Heavy tails make it smaller than 1 at the middle of the window.
 */
function widenOf(errors: Float64Array): number {
  if (errors.length === 0) return 1
  const sorted = Float64Array.from(errors, Math.abs).sort()
  const place = 0.8 * (sorted.length + 1) - 1
  const below = sorted[Math.min(sorted.length - 1, Math.max(0, Math.floor(place)))] ?? 1
  const above = sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(place)))] ?? 1
  const seen = (below + (above - below) * (place - Math.floor(place))) / normalQuantile(0.9)
  return Math.exp((Math.log(Math.max(0.2, seen)) * errors.length) / (errors.length + NORMAL_WEIGHT))
}

/** What is known about log hours of one step by a model. */
export interface LogHours {
  readonly mean: number
  /** Variance of what all steps of the piece share: effects not known well, and the piece's own. */
  readonly shared: number
  /** Variance of this step alone. */
  readonly own: number
  readonly degrees: number
  /** Of the mean: what the piece's finished steps and the hands it is in have to do with it. */
  readonly piece: number
  readonly hands: number
}

/** Facts with the piece's other steps taken into account: its own deviation, if some of it was seen. */
export interface PieceSeen {
  readonly mean: number
  readonly variance: number
}

/** Log hours of a whole step; `hands` where it is known whose it is in. */
export function logHoursOf(
  model: HoursModel,
  facts: Facts,
  piece: PieceSeen | null = null,
  hands: { readonly shift: number; readonly variance: number } | null = null,
): LogHours {
  const { vector, shift } = vectorOf(model, facts)
  const isTyped = facts.typedH !== null
  let mean = shift
  for (const { index, value } of vector) mean += (model.mean[index] ?? 0) * value
  const isKnown = vector.some(({ key }) => key === techniqueKey(facts.techniqueId))
  const factor = isTyped ? 1 - model.trust : 1
  const stretch = model.widen ** 2
  const shared =
    quadraticOf(model, vector) + (piece?.variance ?? model.piece) + (isKnown ? 0 : factor ** 2 * model.technique)
  const unseen = facts.isUnseen ? (factor * UNSEEN_LOG_SD) ** 2 : 0
  return {
    mean: mean + (piece?.mean ?? 0) + (hands?.shift ?? 0),
    shared: (shared + unseen) * stretch,
    own: ((model.noise[isTyped ? 1 : 0] ?? 0) + (hands?.variance ?? model.hands)) * stretch,
    degrees: model.degrees[isTyped ? 1 : 0] ?? NOISE_WEIGHT,
    piece: piece?.mean ?? 0,
    hands: hands?.shift ?? 0,
  }
}

/** Before a piece is opened its ratings are guesses. */
const UNSEEN_LOG_SD = 0.5

interface Placed extends Cell {
  readonly index: number
}

/** The cells of a step in the model's order, and the part of its mean that no effect moves. */
function vectorOf(model: HoursModel, facts: Facts): { readonly vector: readonly Placed[]; readonly shift: number } {
  const usual = usualLogH(facts) + LEARNING.mean * model.skill
  const row = rowOf(facts)
  const vector: Placed[] = []
  const factor = row.typed === null ? 1 : 1 - model.trust
  let differs = (row.typed ?? usual) - usual
  for (const { key, value } of row.facts) {
    const index = model.keys.indexOf(key)
    if (index < 0) continue
    vector.push({ index, key, value: factor * value })
    differs -= (model.mean[index] ?? 0) * value
  }
  const put = (key: string, value: number) => {
    const index = model.keys.indexOf(key)
    if (index >= 0) vector.push({ index, key, value })
  }
  put(YEAR, 1)
  put(LEARNING.key, model.skill)
  if (row.typed === null) return { vector, shift: usual }
  put(BIAS, 1)
  put(TRUST, differs)
  return { vector, shift: model.trust * row.typed + (1 - model.trust) * usual }
}

function quadraticOf({ covariance }: HoursModel, vector: readonly Placed[]): number {
  let sum = 0
  for (const a of vector) {
    for (const b of vector) {
      const [high, low] = a.index > b.index ? [a.index, b.index] : [b.index, a.index]
      sum += a.value * b.value * (covariance[(high * (high + 1)) / 2 + low] ?? 0)
    }
  }
  return sum
}

/** What a piece's finished steps say of it: they took so much longer or shorter than the model thought. */
export function pieceSeen(
  model: HoursModel,
  done: readonly { readonly facts: Facts; readonly minutes: number }[],
): PieceSeen {
  let weight = 1 / model.piece
  let sum = 0
  for (const { facts, minutes } of done) {
    const { mean, own } = logHoursOf(model, facts, { mean: 0, variance: 0 })
    weight += 1 / own
    sum += (Math.log(minutes / 60) - mean) / own
  }
  return { mean: sum / weight, variance: 1 / weight }
}
