/**
 * The rows that get a price: everything people and places have to give. Each has room (how much there is) and a unit
 * (the scale of its amounts: litres and minutes would otherwise drown seats).
 */
import { at } from '#lib/base'
import { exposure, type Model } from '../solve/model.ts'

/** First numbers of each kind of row; the order within a kind is told beside it. */
export interface Rows {
  readonly count: number
  readonly room: Float64Array
  readonly unit: Float64Array
  /** person × shifts + shift: one turn each. */
  readonly turn: number
  /** place × shifts + shift, each of the four. */
  readonly seats: number
  readonly lines: number
  readonly exclusive: number
  readonly load: number
  readonly air: number
  /** A learner's turn wants somebody at all who leads its technique: turn × techniques + technique. */
  readonly learner: number
  /** Learners of a technique, and of all, against the room their mentors have: technique × shifts + shift; shift. */
  readonly mentor: number
  readonly mentorAll: number
  readonly vibration: number
  readonly noise: number
  /** person × classes + class. */
  readonly kind: number
  /** Job; only asked where more than two shifts share a job's turns. */
  readonly jobTurns: number
}

export function rowsOf(model: Model): Rows {
  const { persons: P, shifts: S, places: L, jobs: J, techniques: T, classes: C } = model
  let count = 0
  const take = (size: number): number => {
    count += size
    return count - size
  }
  const turn = take(P * S)
  const seats = take(L * S)
  const lines = take(L * S)
  const exclusive = take(L * S)
  const load = take(L * S)
  const air = take(S)
  const learner = take(P * S * T)
  const mentor = take(T * S)
  const mentorAll = take(S)
  const vibration = take(P)
  const noise = take(P)
  const kind = take(P * C)
  const jobTurns = take(S > 2 ? J : 0)
  const room = new Float64Array(count)
  room.fill(1, turn, turn + P * S)
  for (let where = 0; where < L * S; where++) {
    const place = Math.floor(where / S)
    room[seats + where] = at(model.seats, place)
    room[lines + where] = at(model.airLines, place)
    room[exclusive + where] = 1
    room[load + where] = at(model.loadCap, place)
  }
  room.set(model.airCap, air)
  room.set(model.vibrationLeft, vibration)
  room.set(model.noiseLeft, noise)
  room.set(model.classLeft, kind)
  if (S > 2) room.set(model.jobTurns, jobTurns)
  const unit = new Float64Array(count).fill(1)
  const most = (amounts: Int32Array): number => amounts.reduce((widest, amount) => Math.max(widest, amount), 1)
  const longest = most(model.minutes)
  const heaviest = model.mass.reduce((widest, kg) => Math.max(widest, kg), 1)
  unit.fill(Math.min(heaviest, 100), load, air)
  unit.fill(most(model.jobAir), air, learner)
  unit.fill(exposure(most(model.jobVibration), longest), vibration, noise)
  unit.fill(exposure(most(model.jobNoise), longest), noise, kind)
  unit.fill(longest, kind, jobTurns)
  return {
    count,
    room,
    unit,
    turn,
    seats,
    lines,
    exclusive,
    load,
    air,
    learner,
    mentor,
    mentorAll,
    vibration,
    noise,
    kind,
    jobTurns,
  }
}
