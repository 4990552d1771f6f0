/** The season's tables with one thing changed. Numbers of pieces, steps and people stay, so chance stays with them. */
import { addDays, at, weekdayOf } from '#lib/base'
import { addBit, hasBit, membersOf, wordsFor } from './masks.ts'
import type { LabModel } from './model.ts'

/** A second one of a place, from the first day on. */
export function withPlace(m: LabModel, place: number): LabModel {
  const more = (table: Int32Array, last: number) => Int32Array.from([...table, last])
  const placeWords = wordsFor(m.placeIds.length + 1)
  const stepPlaces = new Int32Array(m.stepIds.length * placeWords)
  for (let s = 0; s < m.stepIds.length; s++) {
    for (const one of membersOf(m.stepPlaces, s * m.placeWords, m.placeWords)) addBit(stepPlaces, s * placeWords, one)
    // What cannot be moved stays where it is.
    const isTied = m.placeTied.includes(at(m.stepPiece, s))
    if (!isTied && hasBit(m.stepPlaces, s * m.placeWords, place)) addBit(stepPlaces, s * placeWords, m.placeIds.length)
  }
  return {
    ...m,
    placeIds: [...m.placeIds, `${m.placeIds[place] ?? ''} 2`],
    placeKinds: [...m.placeKinds, m.placeKinds[place] ?? ''],
    placeWords,
    placeSeats: more(m.placeSeats, at(m.placeSeats, place)),
    placeAirLines: more(m.placeAirLines, at(m.placeAirLines, place)),
    placeExclusive: more(m.placeExclusive, at(m.placeExclusive, place)),
    placeLoad: more(m.placeLoad, at(m.placeLoad, place)),
    placeOpenDay: more(m.placeOpenDay, 0),
    placeTied: more(m.placeTied, -1),
    stepPlaces,
  }
}

/** Somebody comes for one half-day a week more, from the first day on. */
export function withHalfDay(m: LabModel, person: number, weekday: number, shift: number): LabModel {
  const present = m.present.slice()
  for (let slot = 0; slot < m.slotCount; slot++) {
    if (at(m.slotShift, slot) !== shift || weekdayOf(addDays(m.from, at(m.slotDay, slot))) !== weekday) continue
    addBit(present, slot * m.peopleWords, person)
  }
  return { ...m, present }
}

/** Somebody is signed off for some sorts of work from a day on. */
export function withSkill(m: LabModel, person: number, sorts: readonly number[], day: number): LabModel {
  const canLater = m.can.slice()
  for (const sort of sorts) addBit(canLater, sort * m.peopleWords, person)
  return { ...m, canLater, canLaterDay: day }
}

/** A piece rests: nothing is done on it. */
export function withoutPiece(m: LabModel, piece: number): LabModel {
  return { ...m, stepStuck: m.stepStuck.map((stuck, s) => (at(m.stepPiece, s) === piece ? 1 : stuck)) }
}
