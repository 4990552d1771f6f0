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
import { at } from '#lib/base'
import { mix } from './chance.ts'
import { endSteps, hold, openPlaces, release, seekFirst } from './ends.ts'
import { giveOut, type Witness } from './give-out.ts'
import type { LabModel } from './model.ts'
import type { Order } from './order.ts'
import type { Runner } from './runner.ts'

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
  r.now.key = key
  r.now.isMedian = isMedian
  let slot = 0
  for (let day = 0; day < m.days; day++) {
    if (at(r.waitHead, day) >= 0) release(m, r, day)
    const end = at(m.daySlot, day + 1)
    if (slot === end) continue
    r.now.can = day < m.canLaterDay ? r.rosters.can : r.rosters.canLater
    r.now.canSorts = day < m.canLaterDay ? r.rosters.canSorts : r.rosters.canSortsLater
    r.now.dayKey = mix(key ^ Math.imul(day + 1, 0x9e3779b1))
    if (r.now.isExposed) {
      r.vibration.fill(0)
      r.noise.fill(0)
      r.now.isExposed = false
    }
    for (; slot < end; slot++) {
      openPlaces(m, r, day)
      if (giveOut(m, r, slot, witness)) endSteps(m, r, day, until)
    }
    if (r.now.piecesOpen === 0) return
  }
}

function start(m: LabModel, o: Order, r: Runner, until: Int32Array | null): void {
  r.finishDay.fill(-1)
  r.beginDay.fill(-1)
  r.steps.set(r.stepsAtFirst)
  r.pieces.set(r.piecesAtFirst)
  r.heldOfSort.fill(0)
  r.holds.fill(0)
  r.ready.set(o.readyAtFirst)
  for (let sort = 0; sort < m.sorts.length; sort++) seekFirst(r, sort, at(r.sortWord, sort))
  r.waitHead.fill(-1)
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
