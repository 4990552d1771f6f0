/**
 * Changes of a line-up that keep every rule: put somebody somewhere, push out whoever is in the way, see to the
 * learners of a mentor who leaves, fill the holes. All of a change is written to a journal and can be undone, so
 * that the search may look first and decide after.
 */
import { at, type Random } from '#lib/base'
import { exposure, type Model, mayBeAt } from './model.ts'
import { carry, put, rementor, type State, take } from './state.ts'

/** One change under way: the state, its journal and the turns pushed out so far. */
export interface Hand {
  readonly state: State
  readonly random: Random
  /** Four numbers an entry: kind, turn or group, then what undoing needs. */
  readonly journal: Int32Array
  entries: number
  readonly displaced: Int32Array
  displacedCount: number
  /** Whether turns that keep a must may be pushed out; only while musts are being placed. */
  mayBreakMusts: boolean
  /** People who can mentor, by technique. */
  readonly mentors: readonly Int32Array[]
}

const PUT = 0
const TAKE = 1
const CARRY = 2
const REMENTOR = 3
/** A change that would need more entries than this is given up: it is no longer a small change. */
const ENTRIES_MAX = 200

/** A hand on a state. */
export function handOn(state: State, random: Random): Hand {
  const { model } = state
  const mentors = Array.from({ length: model.techniques }, (_, t) => {
    const list: number[] = []
    for (let p = 0; p < model.persons; p++) if (at(model.levels, p * model.techniques + t) >= 4) list.push(p)
    return Int32Array.from(list)
  })
  return {
    state,
    random,
    journal: new Int32Array((ENTRIES_MAX * 3 + 8) * 5),
    entries: 0,
    displaced: new Int32Array(ENTRIES_MAX + 8),
    displacedCount: 0,
    mayBreakMusts: false,
    mentors,
  }
}

/** Forgets the journal: what was done stays. */
export function keep(hand: Hand): void {
  hand.entries = 0
  hand.displacedCount = 0
}

/** Takes back all that the journal holds, last first. */
export function undo(hand: Hand): void {
  const { state, journal } = hand
  while (hand.entries > 0) {
    hand.entries--
    const base = hand.entries * 5
    const subject = at(journal, base + 1)
    const kind = at(journal, base)
    if (kind === PUT) take(state, subject)
    else if (kind === TAKE) put(state, subject, at(journal, base + 2), at(journal, base + 3), at(journal, base + 4))
    else if (kind === CARRY) carry(state, subject, at(journal, base + 2))
    else rementor(state, subject, at(journal, base + 2))
  }
  hand.displacedCount = 0
}

/** Whether a turn may join a job at a place as things stand; the mentor it would have is `mentorFor`'s to say. */
export function fits(hand: Hand, turn: number, job: number, place: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const piece = at(model.jobPiece, job)
  const group = piece * S + shift
  const where = place * S + shift
  if (at(state.turnsUsed, job) >= at(model.jobTurns, job)) return false
  if (at(state.seatsUsed, where) >= at(model.seats, place)) return false
  const air = at(model.jobAir, job)
  if (air > 0) {
    if (at(state.airUsed, shift) + air > at(model.airCap, shift)) return false
    if (at(state.linesUsed, where) >= at(model.airLines, place)) return false
  }
  if (at(state.groupCount, group) > 0) {
    if (at(state.groupJob, group) !== job || at(state.groupPlace, group) !== place) return false
    if (at(state.groupCount, group) >= at(model.jobMax, job)) return false
  } else if (!takesPiece(state, piece, place, shift)) return false
  return hasLimitsLeft(state, turn, job) && mayBeAt(model, turn, job, place)
}

/** A place where the turn fits now, -1 when there is none. Where the piece already is comes first. */
export function placeFor(hand: Hand, turn: number, job: number): number {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const piece = at(model.jobPiece, job)
  const group = piece * S + (turn % S)
  if (at(state.groupCount, group) > 0) {
    const place = at(state.groupPlace, group)
    return fits(hand, turn, job, place) ? place : -1
  }
  if (at(state.turnsUsed, job) >= at(model.jobTurns, job) || !hasLimitsLeft(state, turn, job)) return -1
  for (let s = 0; s < S; s++) {
    const place = at(state.groupPlace, piece * S + s)
    if (place >= 0 && suits(model, job, place) && mayJoin(hand, turn, job, place)) return place
  }
  const stands = at(model.standsAt, piece)
  if (stands >= 0 && suits(model, job, stands) && mayJoin(hand, turn, job, stands)) return stands
  const start = at(model.jobPlacesStart, job)
  const count = at(model.jobPlacesStart, job + 1) - start
  if (count === 0) return -1
  const offset = random.below(count)
  for (let i = 0; i < count; i++) {
    const place = at(model.jobPlaces, start + ((offset + i) % count))
    if (mayJoin(hand, turn, job, place)) return place
  }
  return -1
}

function mayJoin(hand: Hand, turn: number, job: number, place: number): boolean {
  return fits(hand, turn, job, place) && hasMentor(hand, turn, job, place)
}

/** Whether a turn that would learn has a mentor in reach of a place; true for everybody else. */
function hasMentor(hand: Hand, turn: number, job: number, place: number): boolean {
  const { model } = hand.state
  return at(model.learner, turn * model.jobs + job) === 0 || mentorFor(hand, turn, job, place, -1) >= 0
}

/** A mentor in reach with room for one more, -1 when there is none. */
export function mentorFor(hand: Hand, turn: number, job: number, place: number, except: number): number {
  const { state, random } = hand
  const { model } = state
  const shift = turn % model.shifts
  const list = hand.mentors[at(model.jobTechnique, job)]
  if (list === undefined || list.length === 0) return -1
  const offset = random.below(list.length)
  for (let i = 0; i < list.length; i++) {
    const person = at(list, (offset + i) % list.length)
    const other = person * model.shifts + shift
    if (person === except || other === turn) continue
    const work = at(state.job, other)
    if (work < 0 || at(state.learners, other) >= model.mentorMax) continue
    if (at(model.jobMin, work) > 1 || at(model.learner, other * model.jobs + work) === 1) continue
    const there = at(state.groupPlace, at(model.jobPiece, work) * model.shifts + shift)
    if (at(model.near, there * model.places + place) === 1) return person
  }
  return -1
}

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
  if (isDisplaced) hand.displaced[hand.displacedCount++] = turn
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
  const piece = (group - shift) / S
  const job = at(state.groupJob, group)
  const people = at(state.groupCount, group)
  if (place === at(state.groupPlace, group) || at(model.seats, place) < people) return false
  if (at(model.jobAir, job) > 0 && at(model.airLines, place) < people) return false
  for (let turn = at(state.groupHead, group); turn >= 0; turn = at(state.next, turn)) {
    if (!mayBeAt(model, turn, job, place)) return false
  }
  const where = place * S + shift
  if (!makeRoomForPiece(hand, piece, place, shift)) return false
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

/** Makes room for one turn: seat, line, air, the piece's own limits, the person's own limits. */
function makeRoom(hand: Hand, turn: number, job: number, place: number): boolean {
  const { state } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const piece = at(model.jobPiece, job)
  const group = piece * S + shift
  const where = place * S + shift
  if (!mayBeAt(model, turn, job, place)) return false
  const isNew = at(state.groupCount, group) === 0
  if (!isNew && at(state.groupCount, group) >= at(model.jobMax, job)) {
    if (!pushOut(hand, memberOf(hand, group), true)) return false
  }
  if (isNew && !makeRoomForPiece(hand, piece, place, shift)) return false
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
  if (!isNew && at(state.groupCount, group) === 0) return makeRoomForPiece(hand, piece, place, shift)
  return true
}

function makeRoomForPiece(hand: Hand, piece: number, place: number, shift: number): boolean {
  const { state } = hand
  const { model } = state
  const where = place * model.shifts + shift
  if (at(model.exclusive, piece * model.places + place) === 1 && at(state.exclusiveUsed, where) > 0) {
    const other = groupAt(hand, shift, place, true)
    if (other < 0 || !pushOutGroup(hand, other)) return false
  }
  while (at(state.loadUsed, where) + at(model.mass, piece) > at(model.loadCap, place)) {
    const other = groupAt(hand, shift, place, false)
    if (other < 0 || !pushOutGroup(hand, other)) return false
  }
  return true
}

function pushOutGroup(hand: Hand, group: number): boolean {
  const { state } = hand
  while (at(state.groupCount, group) > 0) if (!pushOut(hand, at(state.groupHead, group), true)) return false
  return true
}

/** Some group at a place in a shift, starting from a random person; -1 when there is none. */
function groupAt(hand: Hand, shift: number, place: number, exclusiveOnly: boolean): number {
  const { state, random } = hand
  const { model } = state
  const offset = random.below(model.persons)
  for (let i = 0; i < model.persons; i++) {
    const turn = ((offset + i) % model.persons) * model.shifts + shift
    const job = at(state.job, turn)
    if (job < 0) continue
    const piece = at(model.jobPiece, job)
    if (at(state.groupPlace, piece * model.shifts + shift) !== place) continue
    if (!exclusiveOnly || at(model.exclusive, piece * model.places + place) === 1) return piece * model.shifts + shift
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

/** A random place that suits the job and is open to the turn, taken or not. */
function anyPlace(hand: Hand, turn: number, job: number): number {
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

function takesPiece(state: State, piece: number, place: number, shift: number): boolean {
  const { model } = state
  const where = place * model.shifts + shift
  if (at(model.exclusive, piece * model.places + place) === 1 && at(state.exclusiveUsed, where) > 0) return false
  return at(state.loadUsed, where) + at(model.mass, piece) <= at(model.loadCap, place)
}

function hasLimitsLeft(state: State, turn: number, job: number): boolean {
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
  for (let i = at(model.jobPlacesStart, job); i < at(model.jobPlacesStart, job + 1); i++) {
    if (at(model.jobPlaces, i) === place) return true
  }
  return false
}

function write(hand: Hand, kind: number, subject: number, a: number, b: number, c: number): void {
  const { journal } = hand
  const base = hand.entries++ * 5
  journal[base] = kind
  journal[base + 1] = subject
  journal[base + 2] = a
  journal[base + 3] = b
  journal[base + 4] = c
}
