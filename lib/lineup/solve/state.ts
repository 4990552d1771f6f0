/**
 * A line-up in the making: who does which job, where every piece stands, what is used of seats, air and people's
 * limits. `put` and `take` change it without asking; `fits*` ask without changing. The worth is kept up to date by
 * `settle`, which recounts only what was touched since the last time.
 *
 * A group with fewer people than its step needs is *idle*: it holds its seats but earns nothing, so that a move for
 * three helpers can be built one helper at a time. Idle groups never leave the search.
 */
import { add, at, atDouble } from '#lib/base'
import { exposure, type Model, MUST_MARKS } from './model.ts'

export interface State {
  readonly model: Model
  /** Job of each turn, -1 for none; mentor (a person) of each turn, -1 for none. */
  readonly job: Int32Array
  readonly mentor: Int32Array
  /** Learners that a person mentors, by turn of the mentor. */
  readonly learners: Int32Array
  /** Job, place, number of people and first member (a turn) of each group; -1 for none. */
  readonly groupJob: Int32Array
  readonly groupPlace: Int32Array
  readonly groupCount: Int32Array
  readonly groupHead: Int32Array
  /** Next and previous member by turn, -1 at the ends. */
  readonly next: Int32Array
  readonly previous: Int32Array
  /** By place × shifts + shift. */
  readonly seatsUsed: Int32Array
  readonly exclusiveUsed: Int32Array
  /** Groups that give off dust (0) or solvent (1) there, by (place × shifts + shift) × 2 + kind. */
  readonly airGiven: Int32Array
  readonly linesUsed: Int32Array
  readonly loadUsed: Int32Array
  readonly airUsed: Int32Array
  readonly vibrationUsed: Int32Array
  readonly noiseUsed: Int32Array
  readonly classUsed: Int32Array
  readonly turnsUsed: Int32Array
  /** Cached worth of each group, of each person's staying on, and marks lost by each piece's moves. */
  readonly groupWorth: Float64Array
  readonly stayWorth: Float64Array
  readonly moveLoss: Int32Array
  readonly dirtyGroups: Int32Array
  readonly isDirtyGroup: Int32Array
  dirtyGroupCount: number
  readonly dirtyPersons: Int32Array
  readonly isDirtyPerson: Int32Array
  dirtyPersonCount: number
  worth: number
  /** People whose day differs from the posted one; counted in a redraw alone. */
  changed: number
  readonly isChanged: Int32Array
  readonly anchor: Anchor | null
}

/** What a redraw compares with: job and place by turn (-1 for none) and the price of each changed person. */
export interface Anchor {
  readonly job: Int32Array
  readonly place: Int32Array
  readonly loss: number
}

/** An empty line-up. */
export function emptyState(model: Model, anchor?: Anchor): State {
  const { persons: P, shifts: S, places: L, pieces: K, jobs: J, classes: C } = model
  const none = (size: number): Int32Array => new Int32Array(size).fill(-1)
  const state: State = {
    model,
    job: none(P * S),
    mentor: none(P * S),
    learners: new Int32Array(P * S),
    groupJob: none(K * S),
    groupPlace: none(K * S),
    groupCount: new Int32Array(K * S),
    groupHead: none(K * S),
    next: none(P * S),
    previous: none(P * S),
    seatsUsed: new Int32Array(L * S),
    exclusiveUsed: new Int32Array(L * S),
    airGiven: new Int32Array(L * S * 2),
    linesUsed: new Int32Array(L * S),
    loadUsed: new Int32Array(L * S),
    airUsed: new Int32Array(S),
    vibrationUsed: new Int32Array(P),
    noiseUsed: new Int32Array(P),
    classUsed: new Int32Array(P * C),
    turnsUsed: new Int32Array(J),
    groupWorth: new Float64Array(K * S),
    stayWorth: new Float64Array(P),
    moveLoss: new Int32Array(K),
    dirtyGroups: new Int32Array(K * S),
    isDirtyGroup: new Int32Array(K * S),
    dirtyGroupCount: 0,
    dirtyPersons: new Int32Array(P),
    isDirtyPerson: new Int32Array(P),
    dirtyPersonCount: 0,
    worth: 0,
    changed: 0,
    isChanged: new Int32Array(P),
    anchor: anchor ?? null,
  }
  if (anchor !== undefined) for (let p = 0; p < P; p++) touchPerson(state, p)
  settle(state)
  return state
}

/** Gives a turn to a job; the place counts only when the group is not there yet. */
export function put(state: State, turn: number, job: number, place: number, mentor: number): void {
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const person = (turn - shift) / S
  const group = at(model.jobPiece, job) * S + shift
  if (at(state.groupCount, group) === 0) {
    state.groupJob[group] = job
    state.groupPlace[group] = place
    use(state, group, place, 1)
  }
  const where = at(state.groupPlace, group) * S + shift
  const head = at(state.groupHead, group)
  state.next[turn] = head
  state.previous[turn] = -1
  if (head >= 0) state.previous[head] = turn
  state.groupHead[group] = turn
  add(state.groupCount, group, 1)
  state.job[turn] = job
  spend(state, turn, person, shift, job, where, 1)
  state.mentor[turn] = mentor
  if (mentor >= 0) add(state.learners, mentor * S + shift, 1)
  touchGroup(state, group)
  touchPerson(state, person)
}

/** Takes a turn off its job. Its learners must have been seen to before. */
export function take(state: State, turn: number): void {
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const person = (turn - shift) / S
  const job = at(state.job, turn)
  const group = at(model.jobPiece, job) * S + shift
  const place = at(state.groupPlace, group)
  const [next, previous] = [at(state.next, turn), at(state.previous, turn)]
  if (previous >= 0) state.next[previous] = next
  else state.groupHead[group] = next
  if (next >= 0) state.previous[next] = previous
  add(state.groupCount, group, -1)
  state.job[turn] = -1
  spend(state, turn, person, shift, job, place * S + shift, -1)
  const mentor = at(state.mentor, turn)
  if (mentor >= 0) add(state.learners, mentor * S + shift, -1)
  state.mentor[turn] = -1
  if (at(state.groupCount, group) === 0) {
    use(state, group, place, -1)
    state.groupJob[group] = -1
    state.groupPlace[group] = -1
  }
  touchGroup(state, group)
  touchPerson(state, person)
}

/** Carries a whole group to another place. */
export function carry(state: State, group: number, place: number): void {
  const { model } = state
  const shift = group % model.shifts
  const from = at(state.groupPlace, group)
  const job = at(state.groupJob, group)
  const people = at(state.groupCount, group)
  use(state, group, from, -1)
  use(state, group, place, 1)
  add(state.seatsUsed, from * model.shifts + shift, -people)
  add(state.seatsUsed, place * model.shifts + shift, people)
  if (at(model.jobAir, job) > 0) {
    add(state.linesUsed, from * model.shifts + shift, -people)
    add(state.linesUsed, place * model.shifts + shift, people)
  }
  state.groupPlace[group] = place
  touchGroup(state, group)
}

/** Names another mentor, or none, for a learner's turn. */
export function rementor(state: State, turn: number, mentor: number): void {
  const shift = turn % state.model.shifts
  const before = at(state.mentor, turn)
  if (before >= 0) add(state.learners, before * state.model.shifts + shift, -1)
  if (mentor >= 0) add(state.learners, mentor * state.model.shifts + shift, 1)
  state.mentor[turn] = mentor
}

/** Recounts what was touched and returns the worth of the line-up. */
export function settle(state: State): number {
  const { model } = state
  for (let i = 0; i < state.dirtyGroupCount; i++) {
    const group = at(state.dirtyGroups, i)
    state.isDirtyGroup[group] = 0
    const before = atDouble(state.groupWorth, group)
    const now = worthOfGroup(state, group)
    state.groupWorth[group] = now
    state.worth += now - before
    const piece = Math.floor(group / model.shifts)
    const loss = lossOfMoves(state, piece)
    state.worth -= loss - at(state.moveLoss, piece)
    state.moveLoss[piece] = loss
    // Whether a group is idle, and where it is, decides for all its people whether they stay on or are changed.
    for (let turn = at(state.groupHead, group); turn >= 0; turn = at(state.next, turn)) {
      touchPerson(state, Math.floor(turn / model.shifts))
    }
  }
  state.dirtyGroupCount = 0
  for (let i = 0; i < state.dirtyPersonCount; i++) {
    const person = at(state.dirtyPersons, i)
    state.isDirtyPerson[person] = 0
    const now = worthOfPerson(state, person)
    state.worth += now - atDouble(state.stayWorth, person)
    state.stayWorth[person] = now
  }
  state.dirtyPersonCount = 0
  return state.worth
}

/** Whether a group has the people its step needs. */
export function isActive(state: State, group: number): boolean {
  const count = at(state.groupCount, group)
  return count > 0 && count >= at(state.model.jobMin, at(state.groupJob, group))
}

function use(state: State, group: number, place: number, sign: number): void {
  const { model } = state
  const shift = group % model.shifts
  const piece = (group - shift) / model.shifts
  if (at(model.exclusive, piece * model.places + place) === 1) {
    add(state.exclusiveUsed, place * model.shifts + shift, sign)
  }
  add(state.loadUsed, place * model.shifts + shift, sign * at(model.mass, piece))
  const air = at(model.givesOff, at(state.groupJob, group) * model.places + place)
  if (air > 0) add(state.airGiven, (place * model.shifts + shift) * 2 + air - 1, sign)
}

/** Groups at a place in a shift whose dust or vapour does not go with what a job would give off there. */
export function mixedAt(state: State, job: number, place: number, shift: number): number {
  const { model } = state
  const air = at(model.givesOff, job * model.places + place)
  return air === 0 ? 0 : at(state.airGiven, (place * model.shifts + shift) * 2 + 2 - air)
}

function spend(
  state: State,
  turn: number,
  person: number,
  shift: number,
  job: number,
  where: number,
  sign: number,
): void {
  const { model } = state
  add(state.seatsUsed, where, sign)
  add(state.turnsUsed, job, sign)
  const air = at(model.jobAir, job)
  if (air > 0) {
    add(state.linesUsed, where, sign)
    add(state.airUsed, shift, sign * air)
  }
  const minutes = at(model.minutes, turn)
  const vibration = at(model.jobVibration, job)
  if (vibration > 0) add(state.vibrationUsed, person, sign * exposure(vibration, minutes))
  const noise = at(model.jobNoise, job)
  if (noise > 0) add(state.noiseUsed, person, sign * exposure(noise, minutes))
  const kind = at(model.jobClass, job)
  if (kind >= 0) add(state.classUsed, person * model.classes + kind, sign * minutes)
}

function touchGroup(state: State, group: number): void {
  if (at(state.isDirtyGroup, group) === 1) return
  state.isDirtyGroup[group] = 1
  state.dirtyGroups[state.dirtyGroupCount++] = group
}

function touchPerson(state: State, person: number): void {
  if (at(state.isDirtyPerson, person) === 1) return
  state.isDirtyPerson[person] = 1
  state.dirtyPersons[state.dirtyPersonCount++] = person
}

function worthOfGroup(state: State, group: number): number {
  if (!isActive(state, group)) return 0
  const { model } = state
  const job = at(state.groupJob, group)
  const place = at(state.groupPlace, group)
  let worth = 0
  for (let turn = at(state.groupHead, group); turn >= 0; turn = at(state.next, turn)) {
    worth += at(model.value, turn * model.jobs + job)
    for (const must of model.mustsOfTurn[turn] ?? []) {
      if (must.group !== group || (must.job !== -1 && must.job !== job)) continue
      if (must.place === -1 || must.place === place) worth += MUST_MARKS
    }
  }
  for (const clock of model.clocksOfGroup.get(group) ?? []) {
    if (clock.job !== -1 && clock.job !== job) continue
    for (let turn = at(state.groupHead, group); turn >= 0; turn = at(state.next, turn)) {
      if (at(model.learner, turn * model.jobs + job) === 1) continue
      if (at(model.from, turn) <= clock.minute && clock.minute <= at(model.to, turn)) {
        worth += MUST_MARKS
        break
      }
    }
  }
  return worth
}

function lossOfMoves(state: State, piece: number): number {
  const { model } = state
  const stands = at(model.standsAt, piece)
  const cost = at(model.moveCost, piece)
  if (cost === 0 || stands < 0) return 0
  const first = piece * model.shifts
  let moves = 0
  for (let s = 0; s < model.shifts; s++) {
    const place = at(state.groupPlace, first + s)
    if (place < 0 || place === stands || !isActive(state, first + s)) continue
    let isNew = true
    for (let e = 0; e < s && isNew; e++)
      isNew = at(state.groupPlace, first + e) !== place || !isActive(state, first + e)
    if (isNew) moves++
  }
  return moves * cost
}

function worthOfPerson(state: State, person: number): number {
  const { model, anchor } = state
  const first = person * model.shifts
  let worth = 0
  let isChanged = 0
  let pieceBefore = -1
  for (let s = 0; s < model.shifts; s++) {
    const job = at(state.job, first + s)
    const piece = job < 0 ? -1 : at(model.jobPiece, job)
    const counts = piece >= 0 && isActive(state, piece * model.shifts + s)
    if (counts && piece === pieceBefore) worth += model.stayValue
    pieceBefore = counts ? piece : -1
    if (anchor === null) continue
    const place = counts ? at(state.groupPlace, piece * model.shifts + s) : -1
    if ((counts ? job : -1) !== at(anchor.job, first + s) || place !== at(anchor.place, first + s)) isChanged = 1
  }
  if (anchor === null) return worth
  state.changed += isChanged - at(state.isChanged, person)
  state.isChanged[person] = isChanged
  return worth - isChanged * anchor.loss
}
