/**
 * How full the lab is, week by week, over some tens of futures: hours of hands by technique, seats by kind of place,
 * air; and for dated pieces what held them up in each half-day. Watching costs time, so only the first futures of a
 * season are watched; the others are only counted.
 */
import { add, at, atDouble } from '#lib/base'
import type { Bottleneck, Cause, Reason } from '../words.ts'
import type { Aims } from './aims.ts'
import type { Witness } from './give-out.ts'
import { hasBit, lowestBit, membersOf } from './masks.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import { canAt } from './roster.ts'
import { LAST_SLOT, OPEN_STEPS, PIECE_STRIDE, type Runner, SOAKS_UNTIL } from './runner.ts'

/** Rows of what is scarce: techniques, then kinds of place, then air. */
export interface Load {
  readonly techniques: readonly string[]
  readonly kinds: readonly string[]
  readonly rows: number
  readonly weeks: number
  /** Used in each row and week of each watched future: minutes of hands, minutes of seats, litres. */
  readonly used: Float64Array[]
  /** Half-days in which a dated piece stood still for the row, over all watched futures. */
  readonly waits: Int32Array
  /** Half-days with anybody in, by week, over all watched futures. */
  readonly held: Int32Array
  /** Causes by dated piece, counted in half-days: `CAUSES.length * sorts` a piece. */
  readonly causes: ReadonlyMap<number, Int32Array>
}

const CAUSES: readonly Cause[] = ['hours', 'people', 'order', 'place', 'air', 'rest']
const [HOURS, PEOPLE, ORDER, PLACE, AIR, REST] = [0, 1, 2, 3, 4, 5]

export function emptyLoad(model: LabModel, aims: Aims): Load {
  const techniques = [...new Set(model.sorts.map(({ techniqueId }) => techniqueId))]
  const kinds = [...new Set(model.placeKinds)]
  const weeks = model.days / 7
  const rows = techniques.length + kinds.length + 1
  const causes = new Map(aims.dates.map(({ piece }) => [piece, new Int32Array(CAUSES.length * model.sorts.length)]))
  return {
    techniques,
    kinds,
    rows,
    weeks,
    used: [],
    waits: new Int32Array(rows * weeks),
    held: new Int32Array(weeks),
    causes,
  }
}

/** Watches one future; make one for each. */
export function watch(model: LabModel, order: Order, runner: Runner, load: Load): Witness {
  const { techniques, kinds, weeks, rows } = load
  const used = new Float64Array(rows * weeks)
  load.used.push(used)
  const rowOfSort = Int32Array.from(model.sorts, ({ techniqueId }) => techniques.indexOf(techniqueId))
  const rowOfPlace = Int32Array.from(model.placeKinds, (kind) => techniques.length + kinds.indexOf(kind))
  const air = rows - 1
  const put = (row: number, week: number, amount: number) => {
    used[row * weeks + week] = atDouble(used, row * weeks + week) + amount
  }
  return {
    turns: (slot, step, place, _picked, count) => {
      const week = Math.floor(at(model.slotDay, slot) / 7)
      const sort = at(model.stepSort, step)
      const length = at(model.slotLength, slot)
      put(at(rowOfSort, sort), week, count * length)
      put(at(rowOfPlace, place), week, count * length)
      put(air, week, count * length * at(model.sortAir, sort))
    },
    slotEnds: (slot) => {
      const week = Math.floor(at(model.slotDay, slot) / 7)
      add(load.held, week, 1)
      for (const [piece, counts] of load.causes) {
        const step = waitingStep(runner, order, piece)
        const sort = step < 0 ? 0 : at(model.stepSort, step)
        const cause = causeFor(model, runner, slot, piece, step)
        if (cause === null) continue
        add(counts, cause * model.sorts.length + sort, 1)
        const row = rowWaitedFor(cause, sort, step)
        if (row >= 0) add(load.waits, row * weeks + week, 1)
      }
    },
  }

  /** The row of what a step waits for; -1 when it waits for nothing that is a row. */
  function rowWaitedFor(cause: number, sort: number, step: number): number {
    if (cause === PEOPLE || cause === ORDER) return at(rowOfSort, sort)
    if (cause === AIR) return air
    if (cause !== PLACE) return -1
    const [place] = membersOf(model.stepPlaces, step * model.placeWords, model.placeWords)
    return place === undefined ? -1 : at(rowOfPlace, place)
  }
}

/** The first step of a piece that is ready; -1 for none. */
function waitingStep(r: Runner, o: Order, piece: number): number {
  for (let s = at(r.firstStep, piece); s < at(r.firstStep, piece + 1); s++) {
    if (hasBit(r.ready, 0, at(o.stepBit, s))) return s
  }
  return -1
}

/** What a dated piece did in a half-day, or why it stood still; null when it is finished. */
function causeFor(m: LabModel, r: Runner, slot: number, piece: number, step: number): number | null {
  const row = piece * PIECE_STRIDE
  if (at(r.pieces, row + OPEN_STEPS) === 0) return null
  if (at(r.pieces, row + LAST_SLOT) === slot) return HOURS
  if (step < 0 || at(r.pieces, row + SOAKS_UNTIL) > at(m.slotDay, slot)) return REST
  return causeOf(m, r, at(m.stepSort, step))
}

/** Why a ready step got nothing: nobody in who can, no air, all who can at other pieces, or no place. */
function causeOf(m: LabModel, r: Runner, sort: number): number {
  let here = 0
  let free = 0
  const from = canAt(m, r.rosters, r.now.roster, sort)
  for (let w = 0; w < r.rosters.words; w++) {
    const can = at(r.now.can, from + w)
    here |= can & at(r.here, w)
    free |= can & at(r.free, w)
  }
  if (here === 0) return PEOPLE
  if (at(m.sortAir, sort) > r.now.airLeft) return AIR
  return free === 0 ? ORDER : PLACE
}

/** The causes of a dated piece, the greatest first; shares of all half-days to its end. */
export function reasonsOf(model: LabModel, load: Load, piece: number): readonly Reason[] {
  const steps = stuckSteps(model, piece).map((step) => ({
    cause: 'stuck' as const,
    techniqueId: model.sorts[at(model.stepSort, step)]?.techniqueId ?? null,
    stepId: model.stepIds[step] ?? null,
    share: 1,
  }))
  const counts = load.causes.get(piece)
  if (!counts) return steps
  const all = counts.reduce((sum, count) => sum + count, 0)
  const shares = new Map<string, Reason>()
  for (const [index, count] of counts.entries()) {
    if (count === 0) continue
    const cause = CAUSES[Math.floor(index / model.sorts.length)] ?? 'hours'
    const isNamed = cause !== 'hours' && cause !== 'rest'
    const techniqueId = isNamed ? (model.sorts[index % model.sorts.length]?.techniqueId ?? null) : null
    const key = `${cause} ${techniqueId}`
    shares.set(key, { cause, techniqueId, stepId: null, share: (shares.get(key)?.share ?? 0) + count / all })
  }
  return [...steps, ...[...shares.values()].sort((a, b) => b.share - a.share).slice(0, REASONS_MAX)]
}

const REASONS_MAX = 6

function stuckSteps(model: LabModel, piece: number): readonly number[] {
  const stuck: number[] = []
  for (let s = 0; s < model.stepPiece.length; s++) {
    if (at(model.stepPiece, s) === piece && at(model.stepStuck, s) === 1) stuck.push(s)
  }
  return stuck
}

/** The load of each row as bands over the watched futures. */
export function bottlenecksOf(model: LabModel, load: Load): readonly Bottleneck[] {
  const { techniques, kinds, weeks } = load
  const there = thereOf(model, load)
  const row = (index: number, kind: Bottleneck['kind'], id: string, unit: number): Bottleneck => {
    const week = (w: number) => index * weeks + w
    return {
      kind,
      id,
      used: Array.from({ length: weeks }, (_, w) => bandOf(load.used.map((used) => atDouble(used, week(w)) / unit))),
      there: Array.from({ length: weeks }, (_, w) => atDouble(there, week(w)) / unit),
      waits: Array.from({ length: weeks }, (_, w) => at(load.waits, week(w)) / Math.max(1, at(load.held, w))),
    }
  }
  return [
    ...techniques.map((id, i) => row(i, 'people', id, 60)),
    ...kinds.map((id, i) => row(techniques.length + i, 'place', id, 60)),
    row(load.rows - 1, 'air', 'air', 60),
  ]
}

/** Ten, fifty and ninety in a hundred of some values. */
export function bandOf(values: readonly number[]) {
  const sorted = Float64Array.from(values).sort()
  const of = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0
  return { p10: of(0.1), p50: of(0.5), p90: of(0.9) }
}

/** What there is in each row and week: minutes of people who can, minutes of seats, litres of air. */
function thereOf(m: LabModel, { techniques, kinds, weeks, rows }: Load): Float64Array {
  const there = new Float64Array(rows * weeks)
  const put = (row: number, week: number, amount: number) => {
    there[row * weeks + week] = atDouble(there, row * weeks + week) + amount
  }
  const can = techniques.map((id) => {
    const mask = new Int32Array(m.peopleWords)
    for (const [sort, { techniqueId }] of m.sorts.entries()) {
      if (techniqueId !== id) continue
      for (let w = 0; w < m.peopleWords; w++) mask[w] = at(mask, w) | at(m.can, sort * m.peopleWords + w)
    }
    return mask
  })
  for (let slot = 0; slot < m.slotCount; slot++) {
    const week = Math.floor(at(m.slotDay, slot) / 7)
    const length = at(m.slotLength, slot)
    for (const [row, mask] of can.entries()) {
      for (let w = 0; w < m.peopleWords; w++) {
        for (let rest = at(mask, w) & at(m.present, slot * m.peopleWords + w); rest !== 0; rest &= rest - 1) {
          put(row, week, length * (1 - atDouble(m.personAway, w * 32 + lowestBit(rest)) / 2 ** 32))
        }
      }
    }
    for (let place = 0; place < m.placeIds.length; place++) {
      if (at(m.placeOpenDay, place) > at(m.slotDay, slot)) continue
      put(techniques.length + kinds.indexOf(m.placeKinds[place] ?? ''), week, at(m.placeSeats, place) * length)
    }
    put(rows - 1, week, m.airLimit * length)
  }
  return there
}
