/**
 * Giving out one half-day: who comes, then the most urgent ready step of all sorts of work, again and again, as long as
 * there are people, places and air. Each sort in play has a head, its most urgent ready step; a sort is out of play
 * when nobody is left who can, or no place, or no air.
 */
import { add, at, atDouble } from '#lib/base'
import { mix } from './chance.ts'
import { medianMinutesOf, minutesOf } from './hours.ts'
import { addBit, dropBit, hasBit, lowestBit } from './masks.ts'
import { HANDS, type LabModel } from './model.ts'
import { canAt, personAt } from './roster.ts'
import {
  FEWEST,
  HAND,
  HELD_AT,
  LAST_PLACE,
  LAST_SLOT,
  LEFT,
  MASS,
  MOST,
  PIECE,
  PIECE_STRIDE,
  PLACES,
  RANK,
  type Runner,
  SOAKS_UNTIL,
  STEP,
} from './runner.ts'

/** What is told of each turn as it is given; null when only finish days are wanted. */
export interface Witness {
  /** `count` people of `runner.picked` work on the step at the place in the half-day. */
  readonly turns: (slot: number, step: number, place: number, picked: Int32Array, count: number) => void
  /** A half-day with anybody in it is given out; `runner.free` are those without a turn. */
  readonly slotEnds: (slot: number) => void
}

/** Gives out one half-day. True when a step ended or went to soak. */
export function giveOut(m: LabModel, r: Runner, slot: number, witness: Witness | null): boolean {
  if (!comeIn(r, slot)) return false
  freshPlaces(m, r)
  r.now.airLeft = m.airLimit
  let heads = headsOf(r)
  while (heads > 0) {
    // The least without a branch: which head is next is nothing a processor could guess.
    let least = NOTHING
    for (let head = 0; head < heads; head++) {
      const less = at(r.headKey, head) - least
      least += less & (less >> 31)
    }
    const first = least & (HEADS_MAX - 1)
    const sort = at(r.headSort, first)
    let isOut = at(m.sortAir, sort) > r.now.airLeft || !isAnybody(m, r, sort)
    if (!isOut) {
      const count = seat(m, r, slot, at(r.headRow, first), sort, witness)
      if (count > 0 && !isAnybodyLeft(r)) break
      isOut = (count === 0 && !isAnyPlace(m, r, sort)) || !nextHead(r, first, sort, slot)
    }
    if (isOut) dropHead(r, first, --heads)
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

/** The most urgent ready step of each sort that somebody here can do; how many there are. */
function headsOf(r: Runner): number {
  const { rosters } = r
  const { sortWords } = rosters
  let heads = 0
  for (let w = 0; w < sortWords; w++) {
    let sorts = 0
    for (let p = 0; p < rosters.words; p++) {
      const from = (r.now.roster * rosters.words + p) * 32
      for (let rest = at(r.here, p); rest !== 0; rest &= rest - 1) {
        sorts |= at(r.now.canSorts, (from + lowestBit(rest)) * sortWords + w)
      }
    }
    for (let rest = sorts & at(r.sortsReady, w); rest !== 0; rest &= rest - 1) {
      const sort = w * 32 + lowestBit(rest)
      r.headSort[heads] = sort
      r.headRow[heads] = at(r.firstRow, sort)
      r.headKey[heads] = at(r.firstRank, sort) * HEADS_MAX + heads
      heads++
    }
  }
  return heads
}

/** Whether somebody is free who can. */
function isAnybody(m: LabModel, r: Runner, sort: number): boolean {
  const from = canAt(m, r.rosters, r.now.roster, sort)
  for (let w = 0; w < r.rosters.words; w++) if ((at(r.now.can, from + w) & at(r.free, w)) !== 0) return true
  return false
}

/** Whether any place is left that the sort could use; what is held has its own. */
function isAnyPlace(m: LabModel, r: Runner, sort: number): boolean {
  if (at(r.heldOfSort, sort) > 0) return true
  for (let w = 0; w < m.placeWords; w++) {
    if ((at(r.sortPlaces, sort * m.placeWords + w) & at(r.freePlaces, w)) !== 0) return true
  }
  return false
}

/** Moves a head to the next ready step of its sort on a piece that has no turn yet; false when there is none. */
function nextHead(r: Runner, head: number, sort: number, slot: number): boolean {
  const end = at(r.sortWord, sort + 1)
  let row = at(r.headRow, head)
  let word = row >> 5
  let bits = at(r.ready, word) & (-2 << (row & 31))
  for (;;) {
    while (bits === 0) {
      if (++word >= end) return false
      bits = at(r.ready, word)
    }
    row = word * 32 + lowestBit(bits)
    const from = row * r.stride
    if (at(r.pieces, at(r.steps, from + PIECE) * PIECE_STRIDE + LAST_SLOT) !== slot) {
      r.headRow[head] = row
      r.headKey[head] = at(r.steps, from + RANK) * HEADS_MAX + head
      return true
    }
    bits &= bits - 1
  }
}

/** Takes a head out of play: the last one comes in its place. */
function dropHead(r: Runner, head: number, last: number): void {
  r.headSort[head] = at(r.headSort, last)
  r.headRow[head] = at(r.headRow, last)
  r.headKey[head] = at(r.headKey, last) - last + head
}

/** A head's key is its step's rank and, below it, its own number: room for two levels of every technique a lab may have. */
const HEADS_MAX = 128
/** Beyond the key of any step. */
const NOTHING = 0x7fffffff

function isAnybodyLeft(r: Runner): boolean {
  let free = 0
  for (let w = 0; w < r.rosters.words; w++) free |= at(r.free, w)
  return free !== 0
}

/** Gives a step its place and people for the half-day; how many, 0 when it gets none. */
function seat(m: LabModel, r: Runner, slot: number, row: number, sort: number, witness: Witness | null): number {
  const step = row * r.stride
  const piece = at(r.steps, step + PIECE) * PIECE_STRIDE
  // A piece is in one place, at one step, in one half-day: the first head of a sort may be on one that has its turn.
  if (at(r.pieces, piece + LAST_SLOT) === slot || at(r.pieces, piece + SOAKS_UNTIL) > at(m.slotDay, slot)) return 0
  const place = placeFor(m, r, slot, step, piece)
  if (place < 0) return 0
  const air = at(m.sortAir, sort)
  const fewest = at(r.steps, step + FEWEST)
  let most = Math.min(at(r.steps, step + MOST), at(r.seatsLeft, place))
  if (air > 0) most = Math.min(most, at(r.linesLeft, place), Math.floor(r.now.airLeft / air))
  if (most < fewest) return 0
  let left = at(r.steps, step + LEFT)
  if (left === 0) {
    const number = at(r.steps, step + STEP)
    left = r.now.isMedian ? medianMinutesOf(m, number) : minutesOf(m, r.now.key, number)
  }
  // No more hands than there is work for.
  if (most > 1) most = Math.min(most, Math.max(fewest, Math.ceil(left / at(m.slotMinutes, slot))))
  let count = 0
  while (count < most) {
    const spot = spotFor(m, r, slot, step, sort)
    if (spot < 0) break
    r.pickedSpot[count] = spot
    r.picked[count++] = personAt(r.rosters, r.now.roster, spot)
    dropBit(r.free, 0, spot)
  }
  if (count < fewest) {
    for (let i = 0; i < count; i++) addBit(r.free, 0, at(r.pickedSpot, i))
    return 0
  }
  settle(m, r, slot, row, sort, place, count, left)
  if (witness !== null) witness.turns(slot, at(r.steps, step + STEP), place, r.picked, count)
  return count
}

/** The place: where it is held, where it lies, or the plainest that is free. -1 for none. `step`, `piece`: row starts. */
function placeFor(m: LabModel, r: Runner, slot: number, step: number, piece: number): number {
  const held = at(r.pieces, piece + HELD_AT)
  if (held >= 0) {
    const isOpen = at(m.placeOpenDay, held) <= at(m.slotDay, slot)
    return isOpen && hasBit(r.steps, step + PLACES, held) ? held : -1
  }
  const last = at(r.pieces, piece + LAST_PLACE)
  if (last >= 0 && hasBit(r.steps, step + PLACES, last) && hasBit(r.freePlaces, 0, last)) {
    if (takes(r, last, step, piece)) return last
  }
  for (let w = 0; w < m.placeWords; w++) {
    for (let rest = at(r.steps, step + PLACES + w) & at(r.freePlaces, w); rest !== 0; rest &= rest - 1) {
      const place = w * 32 + lowestBit(rest)
      if (takes(r, place, step, piece)) return place
    }
  }
  return -1
}

/** Whether a free place bears the piece and has seats for the fewest hands. */
const takes = (r: Runner, place: number, step: number, piece: number): boolean =>
  at(r.loadLeft, place) >= at(r.pieces, piece + MASS) && at(r.seatsLeft, place) >= at(r.steps, step + FEWEST)

/** Somebody free who can: who knows the piece, else who has nothing under way, else whoever there is. -1 for none. */
function spotFor(m: LabModel, r: Runner, slot: number, step: number, sort: number): number {
  const { rosters } = r
  const { roster } = r.now
  const from = canAt(m, rosters, roster, sort)
  const isExposing = at(m.sortExposes, sort) === 1
  const spots = roster * m.personSalt.length
  for (let i = 0; i < HANDS; i++) {
    const person = at(r.steps, step + HAND + i)
    if (person < 0) break
    const spot = at(rosters.spot, spots + person)
    if (spot < 0) continue
    const word = spot >> 5
    if ((at(r.free, word) & at(r.now.can, from + word) & (1 << (spot & 31))) === 0) continue
    if (!isExposing || maySuffer(m, r, slot, sort, person)) return spot
  }
  for (let round = 0; round < 2; round++) {
    for (let w = 0; w < rosters.words; w++) {
      const own = round === 0 ? ~at(r.engaged, w) : at(r.engaged, w)
      for (let rest = at(r.now.can, from + w) & at(r.free, w) & own; rest !== 0; rest &= rest - 1) {
        const spot = w * 32 + lowestBit(rest)
        if (!isExposing || maySuffer(m, r, slot, sort, personAt(rosters, roster, spot))) return spot
      }
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

/** Writes a turn down: the picked people work on the step, of which so many minutes are left, at the place. */
function settle(
  m: LabModel,
  r: Runner,
  slot: number,
  row: number,
  sort: number,
  place: number,
  count: number,
  left: number,
): void {
  const step = row * r.stride
  const index = at(r.steps, step + PIECE)
  const piece = index * PIECE_STRIDE
  const air = at(m.sortAir, sort)
  r.pieces[piece + LAST_SLOT] = slot
  r.pieces[piece + LAST_PLACE] = place
  if (at(r.beginDay, index) < 0) r.beginDay[index] = at(m.slotDay, slot)
  r.placeUsed[r.now.usedCount++] = place
  add(r.seatsLeft, place, -count)
  add(r.loadLeft, place, -at(r.pieces, piece + MASS))
  if (air > 0) {
    add(r.linesLeft, place, -count)
    r.now.airLeft -= air * count
  }
  if (at(m.placeExclusive, place) === 1 || at(r.seatsLeft, place) === 0) dropBit(r.freePlaces, 0, place)
  for (let i = 0; i < count; i++) {
    const person = at(r.picked, i)
    r.engagedOn[person] = row
    remember(r, step, person)
  }
  if (at(m.sortExposes, sort) === 1) expose(m, r, slot, sort, count)
  const after = left - count * at(m.slotMinutes, slot)
  r.steps[step + LEFT] = after
  if (after <= 0 || at(m.sortSoak, sort) > 0) r.ended[r.now.endedCount++] = row
}

/** The person is the last who worked on the step. */
function remember(r: Runner, step: number, person: number): void {
  const from = step + HAND
  if (at(r.steps, from) === person) return
  let i = 1
  while (i < HANDS - 1 && at(r.steps, from + i) !== person) i++
  for (; i > 0; i--) r.steps[from + i] = at(r.steps, from + i - 1)
  r.steps[from] = person
}

/** Adds the half-day's vibration and noise to the picked people's day. */
function expose(m: LabModel, r: Runner, slot: number, sort: number, count: number): void {
  const hours = at(m.slotLength, slot) / 60
  for (let i = 0; i < count; i++) {
    const person = at(r.picked, i)
    r.vibration[person] = atDouble(r.vibration, person) + atDouble(m.sortVibration, sort) * hours
    r.noise[person] = atDouble(r.noise, person) + atDouble(m.sortNoise, sort) * hours
  }
  r.now.isExposed = true
}

/** Who comes of those expected in a half-day; whoever is away is so for the whole day. False when nobody comes. */
function comeIn(r: Runner, slot: number): boolean {
  const { rosters } = r
  const { dayKey } = r.now
  const roster = at(rosters.slotRoster, slot)
  const size = at(rosters.size, roster)
  r.now.roster = roster
  let anybody = 0
  for (let w = 0; w < rosters.words; w++) {
    const from = (roster * rosters.words + w) * 32
    const count = Math.min(32, size - w * 32)
    let here = 0
    // Without a branch, as above: away when the draw is below the person's share.
    for (let spot = 0; spot < count; spot++) {
      const draw = mix(dayKey ^ at(rosters.salt, from + spot)) >>> 1
      here |= ((at(rosters.away, from + spot) - 1 - draw) >>> 31) << spot
    }
    if (r.now.isMedian) here = count < 32 ? (1 << count) - 1 : -1
    let engaged = 0
    for (let rest = here; rest !== 0; rest &= rest - 1) {
      const own = at(r.engagedOn, at(rosters.people, from + lowestBit(rest)))
      if (own >= 0 && at(r.steps, own * r.stride + LEFT) > 0) engaged |= rest & -rest
    }
    r.here[w] = here
    r.free[w] = here
    r.engaged[w] = engaged
    anybody |= here
  }
  return anybody !== 0
}
