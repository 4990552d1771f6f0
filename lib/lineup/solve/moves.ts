/**
 * Changes of a line-up that keep every rule: put somebody somewhere, push out whoever is in the way, see to the
 * learners of a mentor who leaves. All of it goes into the journal of the hand that does it.
 */
import { at } from '#lib/base'
import { anyPlace, hasLimitsLeft, keepsMust, mentorFor, placeFor, suits } from './fits.ts'
import { CARRY, displace, ENTRIES_MAX, type Hand, PUT, REMENTOR, TAKE, write } from './journal.ts'
import { mayBeAt } from './model.ts'
import { carry, mixedAt, put, rementor, type State, take } from './state.ts'

/** Puts a turn where it fits, with a mentor if it needs one; false and nothing done when that cannot be. */
export function settleIn(hand: Hand, turn: number, job: number, place: number): boolean {
  const { state } = hand
  let mentor = -1
  if (at(state.model.learner, turn * state.model.jobs + job) === 1) {
    mentor = mentorFor(hand, turn, job, place, -1)
    if (mentor < 0) return false
  }
  write(hand, PUT, turn, 0, 0, 0)
  put(state, turn, job, place, mentor)
  return true
}

/** Takes a turn off its job and sees to its learners; false when a must stands in the way. */
export function pushOut(hand: Hand, turn: number, isDisplaced: boolean): boolean {
  const { state } = hand
  const { model } = state
  if (hand.entries >= ENTRIES_MAX) return false
  if (isDisplaced && !hand.mayBreakMusts && keepsMust(state, turn)) return false
  if (at(state.learners, turn) > 0 && !leaveLearners(hand, turn)) return false
  const job = at(state.job, turn)
  const place = at(state.groupPlace, at(model.jobPiece, job) * model.shifts + (turn % model.shifts))
  write(hand, TAKE, turn, job, place, at(state.mentor, turn))
  take(state, turn)
  if (isDisplaced) displace(hand, turn, job)
  return true
}

/** Sends a turn to a job at a place (-1: any), pushing out whatever is in the way; false when it cannot be done. */
export function send(hand: Hand, turn: number, job: number, wanted: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  if (at(state.job, turn) >= 0 && !pushOut(hand, turn, false)) return false
  const group = at(model.jobPiece, job) * S + shift
  const isOther = at(state.groupJob, group) !== job || (wanted >= 0 && at(state.groupPlace, group) !== wanted)
  if (isOther)
    while (at(state.groupCount, group) > 0) if (!pushOut(hand, at(state.groupHead, group), true)) return false
  let place = at(state.groupCount, group) > 0 ? at(state.groupPlace, group) : wanted
  if (place < 0) {
    place = placeFor(hand, turn, job)
    if (place < 0) place = anyPlace(hand, turn, job)
    if (place < 0) return false
  }
  return makeRoom(hand, turn, job, place) && settleIn(hand, turn, job, place)
}

/** Carries a group to another place, pushing out what is in the way there. */
export function carryTo(hand: Hand, group: number, place: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const shift = group % S
  const job = at(state.groupJob, group)
  const people = at(state.groupCount, group)
  if (place === at(state.groupPlace, group) || at(model.seats, place) < people) return false
  if (at(model.jobAir, job) > 0 && at(model.airLines, place) < people) return false
  for (let turn = at(state.groupHead, group); turn >= 0; turn = at(state.next, turn)) {
    if (!mayBeAt(model, turn, job, place)) return false
  }
  const where = place * S + shift
  if (!makeRoomForPiece(hand, job, place, shift)) return false
  while (at(state.seatsUsed, where) + people > at(model.seats, place)) {
    if (!pushOutSomeone(hand, shift, place, -1, false)) return false
  }
  if (at(model.jobAir, job) > 0) {
    while (at(state.linesUsed, where) + people > at(model.airLines, place)) {
      if (!pushOutSomeone(hand, shift, place, -1, true)) return false
    }
  }
  // Pushing out a mentor at the new place may have taken this group's own learners with it.
  if (at(state.groupCount, group) !== people) return false
  write(hand, CARRY, group, at(state.groupPlace, group), 0, 0)
  carry(state, group, place)
  return renewGroup(hand, group)
}

/** After a carry: everybody of the group still has a mentor in reach, and so has everybody they mentor. */
function renewGroup(hand: Hand, group: number): boolean {
  const { state } = hand
  for (let turn = at(state.groupHead, group), next = -1; turn >= 0; turn = next) {
    next = at(state.next, turn)
    if (at(state.learners, turn) > 0 && !renewLearners(hand, turn)) return false
  }
  for (let turn = at(state.groupHead, group), next = -1; turn >= 0; turn = next) {
    next = at(state.next, turn)
    if (at(state.mentor, turn) >= 0 && !renewMentor(hand, turn)) return false
  }
  return true
}

/** Two places exchange all their groups of a shift; false when either does not suit what would come. */
export function exchangePlaces(hand: Hand, shift: number, a: number, b: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const moved: number[] = []
  for (let person = 0; person < model.persons; person++) {
    const turn = person * S + shift
    const job = at(state.job, turn)
    if (job < 0) continue
    const group = at(model.jobPiece, job) * S + shift
    const from = at(state.groupPlace, group)
    if (from !== a && from !== b) continue
    const to = from === a ? b : a
    if (!suits(model, job, to) || !mayBeAt(model, turn, job, to)) return false
    if (at(state.groupHead, group) === turn) moved.push(group)
  }
  if (moved.length === 0 || hand.entries >= ENTRIES_MAX) return false
  for (const group of moved) {
    const from = at(state.groupPlace, group)
    write(hand, CARRY, group, from, 0, 0)
    carry(state, group, from === a ? b : a)
  }
  if (isOverfull(state, a * S + shift) || isOverfull(state, b * S + shift)) return false
  return moved.every((group) => renewGroup(hand, group))
}

/** Whether more is at a place in a shift than it takes: only ever so between two halves of one change. */
function isOverfull(state: State, where: number): boolean {
  const { model } = state
  const place = Math.floor(where / model.shifts)
  return (
    at(state.seatsUsed, where) > at(model.seats, place) ||
    at(state.linesUsed, where) > at(model.airLines, place) ||
    at(state.exclusiveUsed, where) > 1 ||
    (at(state.airGiven, where * 2) > 0 && at(state.airGiven, where * 2 + 1) > 0) ||
    at(state.loadUsed, where) > at(model.loadCap, place)
  )
}

/** Makes room for one turn: seat, line, air, the piece's own limits, the person's own limits. */
function makeRoom(hand: Hand, turn: number, job: number, place: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const group = at(model.jobPiece, job) * S + shift
  const where = place * S + shift
  if (!mayBeAt(model, turn, job, place)) return false
  const isNew = at(state.groupCount, group) === 0
  if (!isNew && at(state.groupCount, group) >= at(model.jobMax, job)) {
    if (!pushOut(hand, memberOf(hand, group), true)) return false
  }
  if (isNew && !makeRoomForPiece(hand, job, place, shift)) return false
  while (at(state.seatsUsed, where) >= at(model.seats, place)) {
    if (!pushOutSomeone(hand, shift, place, -1, false)) return false
  }
  const air = at(model.jobAir, job)
  if (air > 0) {
    if (air > at(model.airCap, shift) || at(model.airLines, place) === 0) return false
    while (at(state.linesUsed, where) >= at(model.airLines, place)) {
      if (!pushOutSomeone(hand, shift, place, -1, true)) return false
    }
    while (at(state.airUsed, shift) + air > at(model.airCap, shift)) {
      if (!pushOutSomeone(hand, shift, -1, -1, true)) return false
    }
  }
  while (at(state.turnsUsed, job) >= at(model.jobTurns, job)) if (!pushOutFromJob(hand, job)) return false
  const first = turn - shift
  for (let s = 0; s < S && !hasLimitsLeft(state, turn, job); s++) {
    if (s !== shift && at(state.job, first + s) >= 0 && !pushOut(hand, first + s, true)) return false
  }
  if (!hasLimitsLeft(state, turn, job)) return false
  // Pushing out may have emptied the very group the turn was to join.
  if (!isNew && at(state.groupCount, group) === 0) return makeRoomForPiece(hand, job, place, shift)
  return true
}

function makeRoomForPiece(hand: Hand, job: number, place: number, shift: number): boolean {
  const { state } = hand
  const { model } = state
  const piece = at(model.jobPiece, job)
  const where = place * model.shifts + shift
  if (at(model.exclusive, piece * model.places + place) === 1 && at(state.exclusiveUsed, where) > 0) {
    const isExclusive = (its: number) => at(model.exclusive, at(model.jobPiece, its) * model.places + place) === 1
    const other = groupAt(hand, shift, place, isExclusive)
    if (other < 0 || !pushOutGroup(hand, other)) return false
  }
  const air = at(model.givesOff, job * model.places + place)
  while (mixedAt(state, job, place, shift) > 0) {
    const other = groupAt(hand, shift, place, (its) => at(model.givesOff, its * model.places + place) === 3 - air)
    if (other < 0 || !pushOutGroup(hand, other)) return false
  }
  while (at(state.loadUsed, where) + at(model.mass, piece) > at(model.loadCap, place)) {
    const other = groupAt(hand, shift, place)
    if (other < 0 || !pushOutGroup(hand, other)) return false
  }
  return true
}

function pushOutGroup(hand: Hand, group: number): boolean {
  const { state } = hand
  while (at(state.groupCount, group) > 0) if (!pushOut(hand, at(state.groupHead, group), true)) return false
  return true
}

/** Some group with such a job at a place in a shift, starting from a random person; -1 when there is none. */
function groupAt(hand: Hand, shift: number, place: number, isMeant: (job: number) => boolean = () => true): number {
  const { state, random } = hand
  const { model } = state
  const offset = random.below(model.persons)
  for (let i = 0; i < model.persons; i++) {
    const turn = ((offset + i) % model.persons) * model.shifts + shift
    const job = at(state.job, turn)
    if (job < 0) continue
    const piece = at(model.jobPiece, job)
    if (at(state.groupPlace, piece * model.shifts + shift) !== place) continue
    if (isMeant(job)) return piece * model.shifts + shift
  }
  return -1
}

/** Pushes out one person of a shift: at a place (-1: anywhere), of a group (-1: any), perhaps only who draws air. */
function pushOutSomeone(hand: Hand, shift: number, place: number, group: number, airOnly: boolean): boolean {
  const { state, random } = hand
  const { model } = state
  const offset = random.below(model.persons)
  for (let i = 0; i < model.persons; i++) {
    const turn = ((offset + i) % model.persons) * model.shifts + shift
    const job = at(state.job, turn)
    if (job < 0 || (airOnly && at(model.jobAir, job) === 0)) continue
    const its = at(model.jobPiece, job) * model.shifts + shift
    if (group !== -1 && its !== group) continue
    if (place === -1 || at(state.groupPlace, its) === place) return pushOut(hand, turn, true)
  }
  return false
}

function pushOutFromJob(hand: Hand, job: number): boolean {
  const { state, random } = hand
  const { model } = state
  const offset = random.below(model.shifts)
  for (let i = 0; i < model.shifts; i++) {
    const group = at(model.jobPiece, job) * model.shifts + ((offset + i) % model.shifts)
    if (at(state.groupJob, group) === job) return pushOut(hand, memberOf(hand, group), true)
  }
  return false
}

function memberOf(hand: Hand, group: number): number {
  const { state, random } = hand
  let turn = at(state.groupHead, group)
  for (let skip = random.below(at(state.groupCount, group)); skip > 0; skip--) turn = at(state.next, turn)
  return turn
}

/** Finds other mentors for the learners of a turn, or pushes them out. */
function leaveLearners(hand: Hand, turn: number): boolean {
  const { state } = hand
  const { model } = state
  const shift = turn % model.shifts
  const person = (turn - shift) / model.shifts
  for (let p = 0; p < model.persons && at(state.learners, turn) > 0; p++) {
    const other = p * model.shifts + shift
    if (at(state.mentor, other) !== person) continue
    const job = at(state.job, other)
    const place = at(state.groupPlace, at(model.jobPiece, job) * model.shifts + shift)
    const mentor = mentorFor(hand, other, job, place, person)
    if (mentor >= 0) changeMentor(hand, other, mentor)
    else if (!pushOut(hand, other, true)) return false
  }
  return true
}

/** After a carry: each learner elsewhere keeps its mentor if still in reach, else gets another or is pushed out. */
function renewLearners(hand: Hand, turn: number): boolean {
  const { state } = hand
  const { model } = state
  const shift = turn % model.shifts
  const person = (turn - shift) / model.shifts
  for (let p = 0; p < model.persons; p++) {
    const other = p * model.shifts + shift
    // Learners of the same group were carried along and are still beside their mentor.
    if (at(state.mentor, other) !== person || at(state.job, other) === at(state.job, turn)) continue
    if (!renewMentor(hand, other)) return false
  }
  return true
}

function renewMentor(hand: Hand, turn: number): boolean {
  const { state } = hand
  const { model } = state
  const shift = turn % model.shifts
  const placeOf = (of: number): number =>
    at(state.groupPlace, at(model.jobPiece, at(state.job, of)) * model.shifts + shift)
  const place = placeOf(turn)
  const mentor = at(state.mentor, turn)
  if (at(model.near, placeOf(mentor * model.shifts + shift) * model.places + place) === 1) return true
  const another = mentorFor(hand, turn, at(state.job, turn), place, mentor)
  if (another < 0) return pushOut(hand, turn, true)
  changeMentor(hand, turn, another)
  return true
}

function changeMentor(hand: Hand, turn: number, mentor: number): void {
  write(hand, REMENTOR, turn, at(hand.state.mentor, turn), 0, 0)
  rementor(hand.state, turn, mentor)
}
