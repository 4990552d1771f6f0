/**
 * Questions about a line-up in the making, none of which change it: does a turn fit, where, and who would mentor it.
 * These are asked far more often than anything is changed, so the cheap refusals come first.
 */
import { at } from '#lib/base'
import type { Hand } from './journal.ts'
import { exposure, type Model, mayBeAt } from './model.ts'
import { mixedAt, type State } from './state.ts'

/** Whether a turn may join a job at a place as things stand; the mentor it would have is `mentorFor`'s to say. */
export function fits(state: State, turn: number, job: number, place: number): boolean {
  return fitsAnywhere(state, turn, job) && fitsAt(state, turn, job, place)
}

/** The part of the question that does not depend on the place. */
function fitsAnywhere(state: State, turn: number, job: number): boolean {
  const { model } = state
  if (at(state.turnsUsed, job) >= at(model.jobTurns, job)) return false
  const shift = turn % model.shifts
  const group = at(model.jobPiece, job) * model.shifts + shift
  if (at(state.groupCount, group) > 0) {
    if (at(state.groupJob, group) !== job || at(state.groupCount, group) >= at(model.jobMax, job)) return false
  }
  const air = at(model.jobAir, job)
  if (air > 0 && at(state.airUsed, shift) + air > at(model.airCap, shift)) return false
  return hasLimitsLeft(state, turn, job)
}

function fitsAt(state: State, turn: number, job: number, place: number): boolean {
  const { model } = state
  const shift = turn % model.shifts
  const where = place * model.shifts + shift
  if (at(state.seatsUsed, where) >= at(model.seats, place)) return false
  if (at(model.jobAir, job) > 0 && at(state.linesUsed, where) >= at(model.airLines, place)) return false
  const piece = at(model.jobPiece, job)
  const group = piece * model.shifts + shift
  if (at(state.groupCount, group) > 0) {
    if (at(state.groupPlace, group) !== place) return false
  } else if (!takesPiece(state, job, place, shift)) return false
  return mayBeAt(model, turn, job, place)
}

/**
 * A place where the turn fits now, with a mentor in reach if it needs one; -1 when there is none. Where the piece
 * already is comes first.
 */
export function placeFor(hand: Hand, turn: number, job: number): number {
  const { state, random } = hand
  const { model } = state
  if (!fitsAnywhere(state, turn, job)) return -1
  const S = model.shifts
  const shift = turn % S
  const piece = at(model.jobPiece, job)
  const group = piece * S + shift
  const learns = at(model.learner, turn * model.jobs + job) === 1
  if (learns && !hasAnyMentor(hand, turn, job)) return -1
  const may = (place: number): boolean =>
    fitsAt(state, turn, job, place) && (!learns || mentorFor(hand, turn, job, place, -1) >= 0)
  if (at(state.groupCount, group) > 0) {
    const place = at(state.groupPlace, group)
    return may(place) ? place : -1
  }
  for (let s = 0; s < S; s++) {
    const place = s === shift ? at(model.standsAt, piece) : at(state.groupPlace, piece * S + s)
    if (place >= 0 && at(model.suits, job * model.places + place) === 1 && may(place)) return place
  }
  if (learns) return placeByMentor(hand, turn, job)
  const start = at(model.jobPlacesStart, job)
  const count = at(model.jobPlacesStart, job + 1) - start
  if (count === 0) return -1
  const offset = random.below(count)
  for (let i = offset; i < count; i++)
    if (fitsAt(state, turn, job, at(model.jobPlaces, start + i))) return at(model.jobPlaces, start + i)
  for (let i = 0; i < offset; i++)
    if (fitsAt(state, turn, job, at(model.jobPlaces, start + i))) return at(model.jobPlaces, start + i)
  return -1
}

/** A place where a learner fits, looked for around the mentors there are. */
function placeByMentor(hand: Hand, turn: number, job: number): number {
  const { state, random } = hand
  const { model } = state
  const list = mentorsOf(hand, job)
  const offset = random.below(list.length)
  for (let i = 0; i < list.length; i++) {
    const there = placeOfMentor(state, at(list, (offset + i) % list.length), turn)
    if (there < 0) continue
    for (let r = at(model.reachStart, there); r < at(model.reachStart, there + 1); r++) {
      const place = at(model.reach, r)
      if (at(model.suits, job * model.places + place) === 1 && fitsAt(state, turn, job, place)) return place
    }
  }
  return -1
}

/** A mentor in reach with room for one more, -1 when there is none. */
export function mentorFor(hand: Hand, turn: number, job: number, place: number, except: number): number {
  const { state, random } = hand
  const { model } = state
  const list = mentorsOf(hand, job)
  if (list.length === 0) return -1
  const offset = random.below(list.length)
  for (let i = 0; i < list.length; i++) {
    const person = at(list, (offset + i) % list.length)
    if (person === except) continue
    const there = placeOfMentor(state, person, turn)
    if (there >= 0 && at(model.near, there * model.places + place) === 1) return person
  }
  return -1
}

/** Whether a turn that would learn has a mentor in reach of a place; true for everybody else. */
function hasMentor(hand: Hand, turn: number, job: number, place: number): boolean {
  const { model } = hand.state
  return at(model.learner, turn * model.jobs + job) === 0 || mentorFor(hand, turn, job, place, -1) >= 0
}

function hasAnyMentor(hand: Hand, turn: number, job: number): boolean {
  const list = mentorsOf(hand, job)
  for (let i = 0; i < list.length; i++) if (placeOfMentor(hand.state, at(list, i), turn) >= 0) return true
  return false
}

/** Where a person is who could mentor one more in the turn's shift; -1 when not ready to. */
function placeOfMentor(state: State, person: number, turn: number): number {
  const { model } = state
  const shift = turn % model.shifts
  const other = person * model.shifts + shift
  const work = at(state.job, other)
  if (work < 0 || other === turn || at(state.learners, other) >= model.mentorMax) return -1
  if (at(model.jobMin, work) > 1 || at(model.learner, other * model.jobs + work) === 1) return -1
  return at(state.groupPlace, at(model.jobPiece, work) * model.shifts + shift)
}

const NOBODY = new Int32Array(0)

function mentorsOf(hand: Hand, job: number): Int32Array {
  return hand.mentors[at(hand.state.model.jobTechnique, job)] ?? NOBODY
}

/** Whether a piece that is not there yet may come to a place for a job: exclusive use, dust and solvent, load. */
function takesPiece(state: State, job: number, place: number, shift: number): boolean {
  const { model } = state
  const piece = at(model.jobPiece, job)
  const where = place * model.shifts + shift
  if (at(model.exclusive, piece * model.places + place) === 1 && at(state.exclusiveUsed, where) > 0) return false
  if (mixedAt(state, job, place, shift) > 0) return false
  return at(state.loadUsed, where) + at(model.mass, piece) <= at(model.loadCap, place)
}

/** Whether a person's own limits leave room for a turn on a job. */
export function hasLimitsLeft(state: State, turn: number, job: number): boolean {
  const { model } = state
  const person = Math.floor(turn / model.shifts)
  const minutes = at(model.minutes, turn)
  const vibration = at(model.jobVibration, job)
  if (vibration > 0) {
    if (at(state.vibrationUsed, person) + exposure(vibration, minutes) > at(model.vibrationLeft, person)) return false
  }
  const noise = at(model.jobNoise, job)
  if (noise > 0 && at(state.noiseUsed, person) + exposure(noise, minutes) > at(model.noiseLeft, person)) return false
  const kind = at(model.jobClass, job)
  if (kind < 0) return true
  const cell = person * model.classes + kind
  return at(state.classUsed, cell) + minutes <= at(model.classLeft, cell)
}

/** Whether a place is among those that suit a job. */
export function suits(model: Model, job: number, place: number): boolean {
  return at(model.suits, job * model.places + place) === 1
}

/** A random place that suits the job and is open to the turn, taken or not; a learner's has a mentor in reach. */
export function anyPlace(hand: Hand, turn: number, job: number): number {
  const { model } = hand.state
  const start = at(model.jobPlacesStart, job)
  const count = at(model.jobPlacesStart, job + 1) - start
  if (count === 0) return -1
  const offset = hand.random.below(count)
  for (let i = 0; i < count; i++) {
    const place = at(model.jobPlaces, start + ((offset + i) % count))
    if (mayBeAt(model, turn, job, place) && hasMentor(hand, turn, job, place)) return place
  }
  return -1
}

/** Whether a turn, as it is now, keeps a must of its person. */
export function keepsMust(state: State, turn: number): boolean {
  const { model } = state
  const musts = model.mustsOfTurn[turn]
  if (musts === undefined || musts.length === 0) return false
  const job = at(state.job, turn)
  if (job < 0) return false
  const group = at(model.jobPiece, job) * model.shifts + (turn % model.shifts)
  const place = at(state.groupPlace, group)
  return musts.some(
    (must) =>
      must.group === group && (must.job === -1 || must.job === job) && (must.place === -1 || must.place === place),
  )
}
