// Learning from the lab's past: rows for the fit from steps as they were kept, and from the fit the model that is handed
// about (model.ts). Runs on the server; screens only read what it has learnt.
import { dayNumber, normalQuantile } from '#lib/base'
import { type Cell, LEARNING, type Scales, YEAR } from './beliefs.ts'
import type { Facts } from './facts.ts'
import { type Effect, type Fit, fitHours, yearKey } from './fit.ts'
import { type HoursModel, rowOf, techniqueKey } from './model.ts'
import { priorSd, usualLogH } from './practice.ts'
import type { Row } from './rows.ts'

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

/** Days of one stretch of the run of the years. */
const STRETCH_DAYS = 91
/** Stretches looked at; all before them are one. */
const STRETCHES_MAX = 24
/** A technique's own experience counts from here; the learning of whoever has more than this is as of now unknown. */
const USUAL_TURNS = 8
const TURNS_MAX = 60
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
 * Learns from the lab's past, oldest first. `start` is an earlier result's `scales`: then one round is enough, since each further end is another.
 */
export function learn(past: readonly Past[], start?: Scales, rounds = start ? 1 : 30): Learnt {
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
    finished: plain + typed,
    open: fit.open,
  }
}

/** Six digits: it is sent to every screen. */
const digits = (value: number): number => Number(value.toPrecision(6))

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
