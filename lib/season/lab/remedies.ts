/**
 * What might be done about a date, before anything is tried: for the work that is left on the piece the places, hands
 * and sign-offs it could use more of, the pieces that go before it, and the date itself.
 */
import { add, addDays, at, atDouble, weekdayOf } from '#lib/base'
import { levelOf } from '#lib/rules'
import type { Remedy } from '../words.ts'
import { hasBit, membersOf } from './masks.ts'
import type { LabModel } from './model.ts'
import { type Order, orderOf } from './order.ts'
import { moved } from './plan.ts'
import type { Planned } from './planned.ts'
import { withHalfDay, withoutPiece, withPlace, withSkill } from './variants.ts'

/** A remedy with the season in which it is done. */
export interface Attempt {
  readonly remedy: Remedy
  readonly model: LabModel
  readonly order: Order
}

/** Techniques looked at, those with most hours left first; people for each; pieces that might rest. */
const TECHNIQUES_MAX = 4
const PEOPLE_EACH = 2
const PIECES_MAX = 4
/** Weeks beside a mentor until a sign-off (common practice, from memory; no source). */
const TRAINING_DAYS = 42

/** Every remedy worth a trial for a piece; moving the date needs none and is not here. */
export function attemptsFor({ records, season, aims, order }: Planned, piece: number): readonly Attempt[] {
  const { model } = season
  const work = workOf(model, piece)
  const change = (remedy: Remedy, changed: LabModel): Attempt => ({
    remedy,
    model: changed,
    order: orderOf(changed, order.pieces),
  })
  const first = moved(order.pieces, order.pieces.indexOf(piece), 0)
  const opens = at(aims.isUnseen, piece) === 1
  return [
    ...(at(order.pieces, 0) === piece
      ? []
      : [{ remedy: { kind: 'first', opens } as const, model, order: orderOf(model, first) }]),
    ...hoursFor(model, work).map(({ remedy, changed }) => change(remedy, changed)),
    ...placesFor(model, work).map((place) =>
      change({ kind: 'place', placeId: model.placeIds[place] ?? '' }, withPlace(model, place)),
    ),
    ...trainingFor(records, model, work).map(({ remedy, changed }) => change(remedy, changed)),
    ...rivalsOf(model, order, piece, work).map((rival) =>
      change({ kind: 'drop', pieceId: model.pieceIds[rival] ?? '' }, withoutPiece(model, rival)),
    ),
  ]
}

/** One sort of the work left on a piece. */
interface Work {
  readonly sort: number
  readonly minutes: number
  readonly steps: readonly number[]
}

function workOf(model: LabModel, piece: number): readonly Work[] {
  const bySort = new Map<number, Work>()
  for (let s = 0; s < model.stepIds.length; s++) {
    if (at(model.stepPiece, s) !== piece) continue
    const sort = at(model.stepSort, s)
    const work = bySort.get(sort) ?? { sort, minutes: 0, steps: [] }
    const minutes = work.minutes + atDouble(model.stepMedian, s)
    bySort.set(sort, { sort, minutes, steps: [...work.steps, s] })
  }
  return [...bySort.values()].sort((a, b) => b.minutes - a.minutes || a.sort - b.sort).slice(0, TECHNIQUES_MAX)
}

/** One place of each kind that the work could use, the plainest. */
function placesFor(model: LabModel, work: readonly Work[]): readonly number[] {
  const byKind = new Map<string, number>()
  for (const { steps } of work) {
    for (const step of steps) {
      const [place] = membersOf(model.stepPlaces, step * model.placeWords, model.placeWords)
      const kind = place === undefined ? undefined : model.placeKinds[place]
      if (place !== undefined && kind !== undefined && !byKind.has(kind)) byKind.set(kind, place)
    }
  }
  return [...byKind.values()]
}

/** For each sort the people who can and come least, on the half-day on which fewest of them are in. */
function hoursFor(model: LabModel, work: readonly Work[]) {
  const week = weekOf(model)
  return work.flatMap(({ sort }) => {
    const able = membersOf(model.can, sort * model.peopleWords, model.peopleWords)
    const comes = (person: number) => week.filter(({ people }) => people.has(person)).length
    const times = week
      .map((time) => ({ ...time, able: able.filter((person) => time.people.has(person)).length }))
      .sort((a, b) => a.able - b.able)
    return able
      .toSorted((a, b) => comes(a) - comes(b) || a - b)
      .slice(0, PEOPLE_EACH)
      .flatMap((person) => {
        const time = times.find(({ people }) => !people.has(person))
        if (!time) return []
        const remedy = {
          kind: 'hours',
          personId: model.personIds[person] ?? '',
          techniqueId: model.sorts[sort]?.techniqueId ?? '',
          weekday: time.weekday,
          shiftId: model.shiftIds[time.shift] ?? '',
          weeklyH: time.hours,
        } as const
        return [{ remedy, changed: withHalfDay(model, person, time.weekday, time.shift) }]
      })
  })
}

/** The half-days of a usual week: of the second, since the first may have begun. */
function weekOf(model: LabModel) {
  const week: { weekday: number; shift: number; hours: number; people: ReadonlySet<number> }[] = []
  for (let slot = 0; slot < model.slotCount; slot++) {
    const day = at(model.slotDay, slot)
    if (day < 7 || day >= 14) continue
    week.push({
      weekday: weekdayOf(addDays(model.from, day)),
      shift: at(model.slotShift, slot),
      hours: at(model.slotMinutes, slot) / 60,
      people: new Set(membersOf(model.present, slot * model.peopleWords, model.peopleWords)),
    })
  }
  return week
}

/** People one level short of what a sort asks for; those who come most first. */
function trainingFor(records: Planned['records'], model: LabModel, work: readonly Work[]) {
  const turns = new Int32Array(model.personIds.length)
  for (let slot = 0; slot < model.slotCount; slot++) {
    for (const person of membersOf(model.present, slot * model.peopleWords, model.peopleWords)) add(turns, person, 1)
  }
  return work.flatMap(({ sort }) => {
    const asked = model.sorts[sort]
    if (!asked) return []
    const short = model.personIds.flatMap((id, person) => {
      const one = records.person.get(id)
      const level = one ? levelOf(one, asked.techniqueId, model.from) : 0
      const isShort = level === asked.level - 1 && !hasBit(model.can, sort * model.peopleWords, person)
      return isShort && at(turns, person) > 0 ? [person] : []
    })
    return short
      .sort((a, b) => at(turns, b) - at(turns, a) || a - b)
      .slice(0, PEOPLE_EACH)
      .map((person) => {
        const sorts = model.sorts.flatMap(({ techniqueId, level }, index) =>
          techniqueId === asked.techniqueId && level <= asked.level ? [index] : [],
        )
        const remedy = {
          kind: 'train',
          personId: model.personIds[person] ?? '',
          techniqueId: asked.techniqueId,
          level: asked.level,
          from: addDays(model.from, TRAINING_DAYS),
        } as const
        return { remedy, changed: withSkill(model, person, sorts, TRAINING_DAYS) }
      })
  })
}

/** Pieces that go before it and want the same hands, most hours first. */
function rivalsOf(model: LabModel, order: Order, piece: number, work: readonly Work[]): readonly number[] {
  const techniques = new Set(work.map(({ sort }) => model.sorts[sort]?.techniqueId))
  const minutes = new Map<number, number>()
  const place = order.pieces.indexOf(piece)
  const before = new Set(order.pieces.subarray(0, place))
  for (let s = 0; s < model.stepIds.length; s++) {
    const rival = at(model.stepPiece, s)
    if (!before.has(rival) || !techniques.has(model.sorts[at(model.stepSort, s)]?.techniqueId)) continue
    minutes.set(rival, (minutes.get(rival) ?? 0) + atDouble(model.stepMedian, s))
  }
  return [...minutes]
    .sort(([a, x], [b, y]) => y - x || a - b)
    .slice(0, PIECES_MAX)
    .map(([rival]) => rival)
}
