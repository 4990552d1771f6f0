/**
 * One future of the season: half-day by half-day, the most urgent ready step first, each gets a place and the people
 * who can, as long as there are any (a serial list schedule in time; the list is an Order). Hands that know the piece
 * are taken before others, and people who have nothing under way before those who have. Nothing is looked ahead: who
 * draws up a real morning does not know either how long a step will take.
 *
 * Everything in a future hangs on its key by counted chance (chance.ts): which hours, who is away. Rules kept at every
 * half-day: presence, level, force ceiling and order (tables), one place a person, seats, exclusive pieces, load, air
 * lines, the lab's air, daily vibration and noise, fewest hands, cure and soak, places taken by what cannot be moved.
 */
import { add, at, atDouble } from '#lib/base'
import { mix, NORMAL_SHIFT, normals } from './chance.ts'
import { addBit, dropBit, hasBit, lowestBit } from './masks.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import type { Runner } from './runner.ts'

/** What is told of each turn as it is given; null when only finish days are wanted. */
export interface Witness {
  /** `count` people of `runner.picked` work on the step at the place in the half-day. */
  readonly turns: (slot: number, step: number, place: number, picked: Int32Array, count: number) => void
  /** A half-day with anybody in it is given out; `runner.free` are those without a turn. */
  readonly slotEnds: (slot: number) => void
}

/** The key of no future at all: every step takes its median time and everybody comes. */
export const MEDIAN = -1

/**
 * Runs one future; results stand in the runner. `key` is from `keyOf`, or MEDIAN with `isMedian`. With `until`, it ends
 * when none of those pieces (1 in the table) is open any more.
 */
export function runFuture(
  m: LabModel,
  o: Order,
  r: Runner,
  { key, isMedian = false }: { readonly key: number; readonly isMedian?: boolean },
  witness: Witness | null = null,
  until: Int32Array | null = null,
): void {
  start(m, o, r, until)
  drawHours(m, r, key, isMedian)
  let slot = 0
  for (let day = 0; day < m.days; day++) {
    if (at(r.waitHead, day) >= 0) release(m, o, r, day)
    const end = at(m.daySlot, day + 1)
    if (slot === end) continue
    openPlaces(m, r, day)
    r.now.can = day < m.canLaterDay ? m.can : m.canLater
    if (isMedian) r.away.fill(0)
    else drawAway(m, r, key, day)
    if (r.now.isExposed) {
      r.vibration.fill(0)
      r.noise.fill(0)
      r.now.isExposed = false
    }
    for (; slot < end; slot++) {
      if (giveOut(m, o, r, slot, witness)) endSteps(m, o, r, day, until)
    }
    if (r.now.piecesOpen === 0) return
  }
}

function start(m: LabModel, o: Order, r: Runner, until: Int32Array | null): void {
  r.finishDay.fill(-1)
  r.beginDay.fill(-1)
  r.waits.set(m.stepWaits)
  r.openSteps.set(m.pieceSteps)
  r.curedDay.fill(0)
  r.lastSlot.fill(-1)
  r.lastPlace.set(m.pieceAt)
  r.heldAt.fill(-1)
  r.heldOfSort.fill(0)
  r.hands.set(m.stepHands)
  r.ready.set(o.readyAtFirst)
  r.waitHead.fill(-1)
  r.engaged.fill(0)
  r.engagedOn.fill(-1)
  r.seatsLeft.set(m.placeSeats)
  r.linesLeft.set(m.placeAirLines)
  r.loadLeft.set(m.placeLoad)
  r.now.isPlaceNews = true
  r.now.isExposed = true
  r.now.endedCount = 0
  r.now.usedCount = 0
  r.now.piecesOpen = 0
  for (let piece = 0; piece < m.pieceSteps.length; piece++) {
    if (until === null || at(until, piece) === 1) r.now.piecesOpen++
  }
  for (let place = 0; place < m.placeTied.length; place++) {
    const piece = at(m.placeTied, place)
    if (piece >= 0) hold(m, r, piece, place)
  }
}

/** Hours of every step: median · e^(σ·(√linkage · piece's draw + √(1 − linkage) · own draw)). */
export function drawHours(m: LabModel, r: Runner, key: number, isMedian: boolean): void {
  let s = 0
  for (let piece = 0; piece < m.pieceSteps.length; piece++) {
    const common = m.shared * atDouble(normals, mix(key ^ at(m.pieceSalt, piece)) >>> NORMAL_SHIFT)
    const end = at(r.firstStep, piece + 1)
    for (; s < end; s++) {
      const own = m.own * atDouble(normals, mix(key ^ at(m.stepSalt, s)) >>> NORMAL_SHIFT)
      const factor = isMedian ? 1 : Math.exp(atDouble(m.stepLogSd, s) * (common + own))
      r.left[s] = Math.max(1, Math.ceil(atDouble(m.stepMedian, s) * factor))
    }
  }
}

/** Who is expected today and does not come. */
function drawAway(m: LabModel, r: Runner, key: number, day: number): void {
  const ofDay = mix(key ^ Math.imul(day + 1, 0x9e3779b1))
  for (let w = 0; w < m.peopleWords; w++) {
    let away = 0
    for (let rest = at(m.presentOnDay, day * m.peopleWords + w); rest !== 0; rest &= rest - 1) {
      const bit = lowestBit(rest)
      const person = w * 32 + bit
      if (mix(ofDay ^ at(m.personSalt, person)) >>> 0 < atDouble(m.personAway, person)) away |= 1 << bit
    }
    r.away[w] = away
  }
}

/** Places in use today that nothing holds. */
function openPlaces(m: LabModel, r: Runner, day: number): void {
  if (!r.now.isPlaceNews) return
  r.now.isPlaceNews = false
  r.openPlaces.fill(0)
  for (let place = 0; place < m.placeIds.length; place++) {
    if (at(m.placeOpenDay, place) <= day) addBit(r.openPlaces, 0, place)
    else r.now.isPlaceNews = true
  }
  for (let piece = 0; piece < r.heldAt.length; piece++) {
    const place = at(r.heldAt, piece)
    if (place >= 0) dropBit(r.openPlaces, 0, place)
  }
}

/** Takes the place for the piece, also while nobody works on it. */
function hold(m: LabModel, r: Runner, piece: number, place: number): void {
  r.heldAt[piece] = place
  r.now.isPlaceNews = true
  for (let s = at(r.firstStep, piece); s < at(r.firstStep, piece + 1); s++) add(r.heldOfSort, at(m.stepSort, s), 1)
}

function letGo(m: LabModel, r: Runner, piece: number): void {
  r.heldAt[piece] = -1
  r.now.isPlaceNews = true
  for (let s = at(r.firstStep, piece); s < at(r.firstStep, piece + 1); s++) add(r.heldOfSort, at(m.stepSort, s), -1)
}

/** Gives out one half-day. True when a step ended or went to soak. */
function giveOut(m: LabModel, o: Order, r: Runner, slot: number, witness: Witness | null): boolean {
  let anybody = 0
  for (let w = 0; w < m.peopleWords; w++) {
    const free = at(m.present, slot * m.peopleWords + w) & ~at(r.away, w)
    r.free[w] = free
    anybody |= free
  }
  if (anybody === 0) return false
  freshPlaces(m, r)
  r.now.airLeft = m.airLimit
  let heads = headsOf(m, o, r)
  while (heads > 0) {
    let first = 0
    let rank = at(r.headRank, 0)
    for (let i = 1; i < heads; i++) {
      const other = at(r.headRank, i)
      if (other < rank) {
        rank = other
        first = i
      }
    }
    const sort = at(r.headSort, first)
    if (!isInPlay(m, r, sort)) {
      heads = dropHead(r, first, heads)
      continue
    }
    const step = at(r.headStep, first)
    const count = seat(m, r, slot, step, sort, witness)
    if (count > 0) {
      let left = 0
      for (let w = 0; w < m.peopleWords; w++) left |= at(r.free, w)
      if (left === 0) break
    }
    if (!nextHead(o, r, first, sort)) heads = dropHead(r, first, heads)
  }
  if (witness !== null) witness.slotEnds(slot)
  return r.now.endedCount > 0
}

/** Seats, air lines and loads as they are at the beginning of a half-day. */
function freshPlaces(m: LabModel, r: Runner): void {
  for (let i = 0; i < r.now.usedCount; i++) {
    const place = at(r.placeUsed, i)
    r.seatsLeft[place] = at(m.placeSeats, place)
    r.linesLeft[place] = at(m.placeAirLines, place)
    r.loadLeft[place] = at(m.placeLoad, place)
  }
  r.now.usedCount = 0
  for (let w = 0; w < m.placeWords; w++) r.freePlaces[w] = at(r.openPlaces, w)
}

/** The most urgent ready step of each sort that somebody here can do. */
function headsOf(m: LabModel, o: Order, r: Runner): number {
  let heads = 0
  for (let sort = 0; sort < m.sorts.length; sort++) {
    let word = at(o.sortWord, sort)
    const end = at(o.sortWord, sort + 1)
    while (word < end && at(r.ready, word) === 0) word++
    if (word === end || !isAnybody(m, r, sort)) continue
    const bits = at(r.ready, word)
    const step = at(o.bitStep, word * 32 + lowestBit(bits))
    r.headSort[heads] = sort
    r.headWord[heads] = word
    r.headBits[heads] = bits
    r.headStep[heads] = step
    r.headRank[heads] = at(o.stepRank, step)
    heads++
  }
  return heads
}

function isAnybody(m: LabModel, r: Runner, sort: number): boolean {
  for (let w = 0; w < m.peopleWords; w++) {
    if ((at(r.now.can, sort * m.peopleWords + w) & at(r.free, w)) !== 0) return true
  }
  return false
}

/** Whether the sort still has somebody free, a place and air in this half-day. */
function isInPlay(m: LabModel, r: Runner, sort: number): boolean {
  if (at(m.sortAir, sort) > r.now.airLeft || !isAnybody(m, r, sort)) return false
  if (at(r.heldOfSort, sort) > 0) return true
  for (let w = 0; w < m.placeWords; w++) {
    if ((at(r.sortPlaces, sort * m.placeWords + w) & at(r.freePlaces, w)) !== 0) return true
  }
  return false
}

/** Moves a head to the next ready step of its sort; false when there is none. */
function nextHead(o: Order, r: Runner, head: number, sort: number): boolean {
  let bits = at(r.headBits, head)
  bits &= bits - 1
  let word = at(r.headWord, head)
  const end = at(o.sortWord, sort + 1)
  while (bits === 0) {
    if (++word >= end) return false
    bits = at(r.ready, word)
  }
  const step = at(o.bitStep, word * 32 + lowestBit(bits))
  r.headWord[head] = word
  r.headBits[head] = bits
  r.headStep[head] = step
  r.headRank[head] = at(o.stepRank, step)
  return true
}

function dropHead(r: Runner, head: number, heads: number): number {
  const last = heads - 1
  r.headSort[head] = at(r.headSort, last)
  r.headStep[head] = at(r.headStep, last)
  r.headRank[head] = at(r.headRank, last)
  r.headWord[head] = at(r.headWord, last)
  r.headBits[head] = at(r.headBits, last)
  return last
}

/** Gives a step its place and people for the half-day; how many, 0 when it gets none. */
function seat(m: LabModel, r: Runner, slot: number, step: number, sort: number, witness: Witness | null): number {
  const piece = at(m.stepPiece, step)
  // A piece is in one place, at one step, in one half-day.
  if (at(r.lastSlot, piece) === slot) return 0
  const place = placeFor(m, r, slot, step, piece)
  if (place < 0) return 0
  const minutes = at(m.slotMinutes, slot)
  const air = at(m.sortAir, sort)
  const fewest = at(m.stepMin, step)
  let most = Math.min(at(m.stepMax, step), at(r.seatsLeft, place))
  if (air > 0) most = Math.min(most, at(r.linesLeft, place), Math.floor(r.now.airLeft / air))
  if (most < fewest) return 0
  most = Math.min(most, Math.max(fewest, Math.ceil(at(r.left, step) / minutes)))
  let count = 0
  while (count < most) {
    const person = personFor(m, r, slot, step, sort)
    if (person < 0) break
    r.picked[count++] = person
    dropBit(r.free, 0, person)
  }
  if (count < fewest) {
    for (let i = 0; i < count; i++) addBit(r.free, 0, at(r.picked, i))
    return 0
  }
  settle(m, r, slot, step, sort, place, count)
  if (witness !== null) witness.turns(slot, step, place, r.picked, count)
  return count
}

/** The place: where it is held, where it lies, or the plainest that is free. -1 for none. */
function placeFor(m: LabModel, r: Runner, slot: number, step: number, piece: number): number {
  const words = m.placeWords
  const held = at(r.heldAt, piece)
  if (held >= 0) {
    const isOpen = at(m.placeOpenDay, held) <= at(m.slotDay, slot)
    return isOpen && hasBit(m.stepPlaces, step * words, held) ? held : -1
  }
  const mass = at(m.pieceMass, piece)
  const last = at(r.lastPlace, piece)
  if (last >= 0 && hasBit(m.stepPlaces, step * words, last) && hasBit(r.freePlaces, 0, last)) {
    if (at(r.loadLeft, last) >= mass) return last
  }
  for (let w = 0; w < words; w++) {
    for (let rest = at(m.stepPlaces, step * words + w) & at(r.freePlaces, w); rest !== 0; rest &= rest - 1) {
      const place = w * 32 + lowestBit(rest)
      if (at(r.loadLeft, place) >= mass && at(r.seatsLeft, place) >= at(m.stepMin, step)) return place
    }
  }
  return -1
}

/** Somebody free who can: who knows the piece, else who has nothing under way, else whoever there is. -1 for none. */
function personFor(m: LabModel, r: Runner, slot: number, step: number, sort: number): number {
  const words = m.peopleWords
  const isExposing = atDouble(m.sortVibration, sort) > 0 || atDouble(m.sortNoise, sort) > 0
  for (let w = 0; w < words; w++) {
    let rest = at(r.now.can, sort * words + w) & at(r.free, w) & at(r.hands, step * words + w)
    for (; rest !== 0; rest &= rest - 1) {
      const person = w * 32 + lowestBit(rest)
      if (!isExposing || maySuffer(m, r, slot, sort, person)) return person
    }
  }
  for (let w = 0; w < words; w++) {
    let rest = at(r.now.can, sort * words + w) & at(r.free, w) & ~at(r.engaged, w)
    for (; rest !== 0; rest &= rest - 1) {
      const person = w * 32 + lowestBit(rest)
      if (!isExposing || maySuffer(m, r, slot, sort, person)) return person
    }
  }
  for (let w = 0; w < words; w++) {
    let rest = at(r.now.can, sort * words + w) & at(r.free, w)
    for (; rest !== 0; rest &= rest - 1) {
      const person = w * 32 + lowestBit(rest)
      if (!isExposing || maySuffer(m, r, slot, sort, person)) return person
    }
  }
  return -1
}

/** Whether the half-day keeps the person within the day's limits of vibration and noise. */
function maySuffer(m: LabModel, r: Runner, slot: number, sort: number, person: number): boolean {
  const hours = at(m.slotLength, slot) / 60
  return (
    atDouble(r.vibration, person) + atDouble(m.sortVibration, sort) * hours <= m.vibrationLimit + SLACK &&
    atDouble(r.noise, person) + atDouble(m.sortNoise, sort) * hours <= m.noiseLimit + SLACK
  )
}

/** For sums of fractions, not for exposure. */
const SLACK = 1e-6

/** Writes a turn down: the picked people work on the step at the place. */
function settle(m: LabModel, r: Runner, slot: number, step: number, sort: number, place: number, count: number): void {
  const piece = at(m.stepPiece, step)
  const air = at(m.sortAir, sort)
  r.lastSlot[piece] = slot
  r.lastPlace[piece] = place
  if (at(r.beginDay, piece) < 0) r.beginDay[piece] = at(m.slotDay, slot)
  r.placeUsed[r.now.usedCount++] = place
  add(r.seatsLeft, place, -count)
  add(r.loadLeft, place, -at(m.pieceMass, piece))
  if (air > 0) {
    add(r.linesLeft, place, -count)
    r.now.airLeft -= air * count
  }
  if (at(m.placeExclusive, place) === 1 || at(r.seatsLeft, place) === 0) dropBit(r.freePlaces, 0, place)
  const hours = at(m.slotLength, slot) / 60
  const vibration = atDouble(m.sortVibration, sort) * hours
  const noise = atDouble(m.sortNoise, sort) * hours
  for (let i = 0; i < count; i++) {
    const person = at(r.picked, i)
    addBit(r.hands, step * m.peopleWords, person)
    addBit(r.engaged, 0, person)
    r.engagedOn[person] = step
    if (vibration > 0 || noise > 0) {
      r.vibration[person] = atDouble(r.vibration, person) + vibration
      r.noise[person] = atDouble(r.noise, person) + noise
      r.now.isExposed = true
    }
  }
  const left = at(r.left, step) - count * at(m.slotMinutes, slot)
  r.left[step] = left
  if (left <= 0 || at(m.sortSoak, sort) > 0) r.ended[r.now.endedCount++] = step
}

/** After a half-day: what is finished cures or lets others begin, what soaks keeps its place. */
function endSteps(m: LabModel, o: Order, r: Runner, day: number, until: Int32Array | null): void {
  for (let i = 0; i < r.now.endedCount; i++) {
    const step = at(r.ended, i)
    const sort = at(m.stepSort, step)
    const piece = at(m.stepPiece, step)
    dropBit(r.ready, 0, at(o.stepBit, step))
    const isOver = at(r.left, step) <= 0
    const days = at(isOver ? m.sortCure : m.sortSoak, sort)
    if (at(m.sortSoak, sort) > 0 && at(r.heldAt, piece) < 0) hold(m, r, piece, at(r.lastPlace, piece))
    if (isOver) endStep(m, r, step, piece, day + days, until)
    if (days > 0) rest(m, r, step, day + days)
    else followers(m, o, r, step)
  }
  r.now.endedCount = 0
}

function endStep(m: LabModel, r: Runner, step: number, piece: number, cured: number, until: Int32Array | null): void {
  const words = m.peopleWords
  for (let w = 0; w < words; w++) {
    for (let bits = at(r.hands, step * words + w) & at(r.engaged, w); bits !== 0; bits &= bits - 1) {
      const person = w * 32 + lowestBit(bits)
      if (at(r.engagedOn, person) === step) dropBit(r.engaged, 0, person)
    }
  }
  if (cured > at(r.curedDay, piece)) r.curedDay[piece] = cured
  add(r.openSteps, piece, -1)
  if (at(r.openSteps, piece) > 0) return
  if (at(r.curedDay, piece) < m.days) r.finishDay[piece] = at(r.curedDay, piece)
  if (until === null || at(until, piece) === 1) r.now.piecesOpen--
  // What soaks to the end is let go when it is dry (release).
  if (at(r.heldAt, piece) >= 0 && at(m.sortSoak, at(m.stepSort, step)) === 0) letGo(m, r, piece)
}

function rest(m: LabModel, r: Runner, step: number, day: number): void {
  if (day >= m.days) return
  r.waitNext[step] = at(r.waitHead, day)
  r.waitHead[day] = step
}

/** What has cured or soaked until today. */
function release(m: LabModel, o: Order, r: Runner, day: number): void {
  for (let step = at(r.waitHead, day); step >= 0; step = at(r.waitNext, step)) {
    if (at(r.left, step) > 0) addBit(r.ready, 0, at(o.stepBit, step))
    else {
      const piece = at(m.stepPiece, step)
      const isDry = at(m.sortSoak, at(m.stepSort, step)) > 0 && at(r.heldAt, piece) >= 0
      if (isDry && (at(r.openSteps, piece) === 0 || !isTied(m, piece))) letGo(m, r, piece)
      followers(m, o, r, step)
    }
  }
}

const isTied = (m: LabModel, piece: number): boolean => m.placeTied.includes(piece)

/** Steps that waited for this one alone are ready. */
function followers(m: LabModel, o: Order, r: Runner, step: number): void {
  for (let i = at(m.afterStart, step); i < at(m.afterStart, step + 1); i++) {
    const next = at(m.after, i)
    add(r.waits, next, -1)
    if (at(r.waits, next) === 0 && at(m.stepStuck, next) === 0) addBit(r.ready, 0, at(o.stepBit, next))
  }
}
