/**
 * What comes after a half-day: finished steps cure and then let others begin, acid soaks, and places are taken or given
 * back by what cannot be moved meanwhile.
 */
import { add, at } from '#lib/base'
import { addBit, dropBit, lowestBit } from './masks.ts'
import type { LabModel } from './model.ts'
import {
  CURED_DAY,
  HELD_AT,
  LAST_PLACE,
  LEFT,
  OPEN_STEPS,
  PIECE,
  PIECE_STRIDE,
  RANK,
  type Runner,
  SOAKS_UNTIL,
  SORT,
  STEP,
  WAITS,
} from './runner.ts'

/** After a half-day: what is finished cures or lets others begin, what soaks keeps its place. */
export function endSteps(m: LabModel, r: Runner, day: number, until: Int32Array | null): void {
  for (let i = 0; i < r.now.endedCount; i++) {
    const row = at(r.ended, i)
    const sort = at(r.steps, row * r.stride + SORT)
    const piece = at(r.steps, row * r.stride + PIECE)
    dropBit(r.ready, 0, row)
    if (row === at(r.firstRow, sort)) seekFirst(r, sort, row >> 5)
    const isOver = at(r.steps, row * r.stride + LEFT) <= 0
    const days = at(isOver ? m.sortCure : m.sortSoak, sort)
    const from = piece * PIECE_STRIDE
    if (at(m.sortSoak, sort) > 0) {
      r.pieces[from + SOAKS_UNTIL] = day + days
      if (at(r.pieces, from + HELD_AT) < 0) hold(m, r, piece, at(r.pieces, from + LAST_PLACE))
    }
    if (isOver) endStep(m, r, piece, day, day + days, until)
    if (days > 0) rest(m, r, row, day + days)
    else followers(m, r, row)
  }
  r.now.endedCount = 0
}

function endStep(m: LabModel, r: Runner, piece: number, day: number, cured: number, until: Int32Array | null): void {
  const from = piece * PIECE_STRIDE
  if (cured > at(r.pieces, from + CURED_DAY)) r.pieces[from + CURED_DAY] = cured
  add(r.pieces, from + OPEN_STEPS, -1)
  if (at(r.pieces, from + OPEN_STEPS) > 0) return
  const ready = at(r.pieces, from + CURED_DAY)
  if (ready < m.days) r.finishDay[piece] = ready
  if (until === null || at(until, piece) === 1) r.now.piecesOpen--
  // What still cures or soaks keeps its place until then (release).
  if (ready <= day && at(r.pieces, from + HELD_AT) >= 0) letGo(m, r, piece)
}

function rest(m: LabModel, r: Runner, row: number, day: number): void {
  if (day >= m.days) return
  r.waitNext[row] = at(r.waitHead, day)
  r.waitHead[day] = row
}

/** What has cured or soaked until today. */
export function release(m: LabModel, r: Runner, day: number): void {
  for (let row = at(r.waitHead, day); row >= 0; row = at(r.waitNext, row)) {
    const step = row * r.stride
    if (at(r.steps, step + LEFT) > 0) {
      makeReady(r, row)
      continue
    }
    const piece = at(r.steps, step + PIECE)
    const from = piece * PIECE_STRIDE
    const isFree =
      at(r.pieces, from + OPEN_STEPS) === 0
        ? at(r.pieces, from + CURED_DAY) <= day
        : at(m.sortSoak, at(r.steps, step + SORT)) > 0 && !m.placeTied.includes(piece)
    if (isFree && at(r.pieces, from + HELD_AT) >= 0) letGo(m, r, piece)
    followers(m, r, row)
  }
}

/** The step of a row may be worked on. */
function makeReady(r: Runner, row: number): void {
  addBit(r.ready, 0, row)
  const sort = at(r.steps, row * r.stride + SORT)
  addBit(r.sortsReady, 0, sort)
  if (row < at(r.firstRow, sort)) setFirst(r, sort, row)
}

/** Finds the first ready row of a sort from a word on. */
export function seekFirst(r: Runner, sort: number, from: number): void {
  const end = at(r.sortWord, sort + 1)
  let word = from
  while (word < end && at(r.ready, word) === 0) word++
  if (word < end) {
    setFirst(r, sort, word * 32 + lowestBit(at(r.ready, word)))
    addBit(r.sortsReady, 0, sort)
  } else {
    r.firstRow[sort] = NO_ROW
    dropBit(r.sortsReady, 0, sort)
  }
}

function setFirst(r: Runner, sort: number, row: number): void {
  r.firstRow[sort] = row
  r.firstRank[sort] = at(r.steps, row * r.stride + RANK)
}

/** Behind every row. */
const NO_ROW = 0x7fffffff

/** Steps that waited for this one alone are ready. */
function followers(m: LabModel, r: Runner, row: number): void {
  const step = at(r.steps, row * r.stride + STEP)
  for (let i = at(m.afterStart, step); i < at(m.afterStart, step + 1); i++) {
    const next = at(r.rowOfStep, at(m.after, i))
    add(r.steps, next * r.stride + WAITS, -1)
    if (at(r.steps, next * r.stride + WAITS) === 0) makeReady(r, next)
  }
}

/** Places in use today that nothing holds; looked at again only when one was taken or given back, or opens. */
export function openPlaces(m: LabModel, r: Runner, day: number): void {
  if (!r.now.isPlaceNews && day < r.now.nextOpenDay) return
  r.now.isPlaceNews = false
  r.now.nextOpenDay = m.days
  r.openPlaces.fill(0)
  for (let place = 0; place < m.placeIds.length; place++) {
    const opens = at(m.placeOpenDay, place)
    if (opens > day) r.now.nextOpenDay = Math.min(r.now.nextOpenDay, opens)
    else if (at(r.holds, place) === 0) addBit(r.openPlaces, 0, place)
  }
}

/** Takes the place for the piece, also while nobody works on it. */
export function hold(m: LabModel, r: Runner, piece: number, place: number): void {
  r.pieces[piece * PIECE_STRIDE + HELD_AT] = place
  holdMore(m, r, piece, place, 1)
}

function letGo(m: LabModel, r: Runner, piece: number): void {
  holdMore(m, r, piece, at(r.pieces, piece * PIECE_STRIDE + HELD_AT), -1)
  r.pieces[piece * PIECE_STRIDE + HELD_AT] = -1
}

function holdMore(m: LabModel, r: Runner, piece: number, place: number, more: number): void {
  r.now.isPlaceNews = true
  add(r.holds, place, more)
  for (let s = at(r.firstStep, piece); s < at(r.firstStep, piece + 1); s++) add(r.heldOfSort, at(m.stepSort, s), more)
}
