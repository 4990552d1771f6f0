// All rules on one day. The gate, the early check in the browser and the proof of a drawn-up line-up call these, so
// that there is one opinion on what is allowed.
import type { Finding, Records } from '#lib/words'
import { judgeAir } from './air.ts'
import { type DayView, dayOf } from './day.ts'
import { judgeExposure } from './exposure.ts'
import { assignmentsOn, type Turn, turnId } from './find.ts'
import { judgeForce } from './force.ts'
import { judgeMixing } from './mixing.ts'
import { judgePieces, judgeSeats } from './one-place.ts'
import { judgeHands, judgeOrder } from './order.ts'
import { judgeLoads, judgeStations } from './place.ts'
import { judgeLevels, judgeMentors } from './skill.ts'

/** Rules whose answer hangs on the piece of a turn. */
export function judgeByPiece(day: DayView): readonly Finding[] {
  return [...judgePieces(day), ...judgeLevels(day), ...judgeForce(day), ...judgeLoads(day), ...judgeOrder(day)]
}

/** Rules whose answer is the same for every piece with that technique at that place. */
export function judgeByTechnique(day: DayView): readonly Finding[] {
  return [
    ...judgeSeats(day),
    ...judgeMentors(day),
    ...judgeAir(day),
    ...judgeExposure(day),
    ...judgeStations(day),
    ...judgeMixing(day),
  ]
}

/** Everything that stands against a day's turns; each finding names its turn in `ids.assignment`. */
export function judgeDay(records: Records, date: string, turns: readonly Turn[]): readonly Finding[] {
  const { day, findings } = dayOf(records, date, turns)
  return [...findings, ...judgeByPiece(day), ...judgeByTechnique(day)]
}

/** Steps of a whole day that were given fewer hands than they take; a single turn cannot be blamed for it. */
export function judgeHandsOfDay(records: Records, date: string, turns: readonly Turn[]): readonly Finding[] {
  return judgeHands(dayOf(records, date, turns).day)
}

/**
 * What would stand against one more turn on the day as it is: its own findings and those it brings upon others. A turn
 * the same person has in that shift already is replaced by it.
 */
export function judgeTurn(records: Records, date: string, turn: Turn): readonly Finding[] {
  const id = turnId(date, turn.shiftId, turn.personId)
  // Nothing else can meet it: places, mentors and air are shared in the shift, exposure by the person, order by the piece.
  const now = assignmentsOn(records, date).filter(
    (one) => one.shiftId === turn.shiftId || one.personId === turn.personId || one.pieceId === turn.pieceId,
  )
  const after = judgeDay(records, date, [...now.filter((one) => one.id !== id), turn])
  if (after.length === 0) return after
  const known = new Set(judgeDay(records, date, now).map(keyOf))
  // Its own findings count even where the replaced turn had the same.
  return after.filter((one) => one.ids.assignment === id || !known.has(keyOf(one)))
}

/** Findings of `after` that were not there before, whatever their figures. */
export function newFindings(before: readonly Finding[], after: readonly Finding[]): readonly Finding[] {
  const known = new Set(before.map(keyOf))
  return after.filter((one) => !known.has(keyOf(one)))
}

function keyOf(one: Finding): string {
  return `${one.rule} ${one.code} ${one.ids.assignment ?? JSON.stringify(one.ids)}`
}
