/**
 * The compound changes of the search: send, swap, carry, stay on, gather helpers, bring a mentor, go back to the
 * posted day; and the filling of the holes they tear. Options are tried in the order of their priced worth.
 */
import { at, atDouble } from '#lib/base'
import { placeFor, suits } from './fits.ts'
import { displace, type Hand, keep } from './journal.ts'
import type { Model } from './model.ts'
import { carryTo, pushOut, send, settleIn } from './moves.ts'
import { type Anchor, settle } from './state.ts'

/** What the search knows before it starts: turns with options, options by value, jobs for several, the scale. */
export interface Guide {
  readonly turns: Int32Array
  /** Options of each turn, best first, as slices like the model's. */
  readonly ranked: Int32Array
  readonly groupJobs: Int32Array
  readonly spread: number
  readonly hasMentors: boolean
}

/** Ranks every turn's options and measures the scale of the temperature. */
export function guideOf(model: Model, reduced: Float64Array | undefined): Guide {
  const ranked = Int32Array.from(model.options)
  const turns: number[] = []
  const worth = new Float64Array(model.jobs)
  let spreadSum = 0
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    const [start, end] = [at(model.optionsStart, turn), at(model.optionsStart, turn + 1)]
    if (end === start) continue
    turns.push(turn)
    const slice = ranked.subarray(start, end)
    slice.forEach((job, i) => {
      worth[job] = reduced === undefined ? at(model.value, turn * model.jobs + job) : atDouble(reduced, start + i)
    })
    slice.sort((a, b) => atDouble(worth, b) - atDouble(worth, a) || a - b)
    spreadSum += atDouble(worth, at(slice, 0)) - atDouble(worth, at(slice, Math.min(8, slice.length - 1)))
  }
  const groupJobs: number[] = []
  for (let j = 0; j < model.jobs; j++) if (at(model.jobMax, j) > 1) groupJobs.push(j)
  return {
    turns: Int32Array.from(turns),
    ranked,
    groupJobs: Int32Array.from(groupJobs),
    spread: turns.length === 0 ? 1 : Math.max(100, spreadSum / turns.length),
    hasMentors: model.learner.includes(1),
  }
}

/** One compound change; false when it could not be made (the journal then still holds its first half). */
export function change(hand: Hand, guide: Guide): boolean {
  const { state, random } = hand
  const { model } = state
  const turn = at(guide.turns, random.below(guide.turns.length))
  const dice = random.below(100)
  if (state.anchor !== null && random.below(6) === 0) return revert(hand, guide, state.anchor)
  let isDone: boolean
  if (dice < 50) isDone = send(hand, turn, pickOption(hand, guide, turn), -1)
  else if (dice < 66) isDone = swap(hand, turn)
  else if (dice < 76) isDone = carrySome(hand, turn)
  else if (dice < 86 && model.shifts > 1) isDone = stayOn(hand, turn)
  else if (dice < 93 && guide.groupJobs.length > 0) isDone = gather(hand, guide, turn % model.shifts)
  else if (dice < 97 && guide.hasMentors) isDone = bringMentor(hand, guide, turn)
  else isDone = at(state.job, turn) >= 0 && pushOut(hand, turn, true)
  if (!isDone) return false
  refill(hand, guide)
  return true
}

/** In a redraw: somebody whose day has changed goes back to the posted one, in all shifts at once. */
function revert(hand: Hand, guide: Guide, anchor: Anchor): boolean {
  const { state, random } = hand
  const { model } = state
  const offset = random.below(model.persons)
  for (let i = 0; i < model.persons; i++) {
    const person = (offset + i) % model.persons
    if (at(state.isChanged, person) === 0) continue
    for (let turn = person * model.shifts; turn < (person + 1) * model.shifts; turn++) {
      const [job, place] = [at(anchor.job, turn), at(anchor.place, turn)]
      if (job < 0) {
        if (at(state.job, turn) >= 0 && !pushOut(hand, turn, false)) return false
      } else {
        if (!isOption(model, turn, job) || !suits(model, job, place)) return false
        if (!send(hand, turn, job, place)) return false
      }
    }
    refill(hand, guide)
    return true
  }
  return false
}

/** How far down the ranking of a turn's options most draws go. */
const DEPTH = 16

/** An option of a turn, better ones likelier: the best of two drawn from the ranked list. */
function pickOption(hand: Hand, guide: Guide, turn: number): number {
  const { model } = hand.state
  const start = at(model.optionsStart, turn)
  const count = at(model.optionsStart, turn + 1) - start
  // Mostly among the first few, now and then anywhere: the deep end is needed, but rarely.
  const depth = hand.random.below(8) === 0 ? count : Math.min(count, DEPTH)
  const draw = Math.min(hand.random.below(depth), hand.random.below(depth))
  return at(guide.ranked, start + draw)
}

/** Two people of one shift exchange their work. */
function swap(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const other = random.below(model.persons) * S + shift
  const [mine, its] = [at(state.job, turn), at(state.job, other)]
  if (other === turn || mine === its || its < 0 || at(model.value, turn * model.jobs + its) < 0) return false
  const placeOf = (job: number): number => at(state.groupPlace, at(model.jobPiece, job) * S + shift)
  const itsPlace = placeOf(its)
  const myPlace = mine < 0 ? -1 : placeOf(mine)
  if (mine >= 0 && !pushOut(hand, turn, false)) return false
  if (at(state.job, other) >= 0 && !pushOut(hand, other, false)) return false
  if (!send(hand, turn, its, itsPlace)) return false
  if (mine >= 0 && at(model.value, other * model.jobs + mine) >= 0) return send(hand, other, mine, myPlace)
  displace(hand, other, its)
  return true
}

/** The turn's whole group goes to another place. */
function carrySome(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const job = at(state.job, turn)
  if (job < 0) return false
  const piece = at(model.jobPiece, job)
  const group = piece * model.shifts + (turn % model.shifts)
  const start = at(model.jobPlacesStart, job)
  const count = at(model.jobPlacesStart, job + 1) - start
  let place = at(model.jobPlaces, start + random.below(count))
  if (random.below(2) === 0) {
    const elsewhere = at(state.groupPlace, piece * model.shifts + random.below(model.shifts))
    const wanted = random.below(2) === 0 || elsewhere < 0 ? at(model.standsAt, piece) : elsewhere
    if (wanted >= 0 && suits(model, job, wanted)) place = wanted
  }
  return carryTo(hand, group, place)
}

/** Somebody stays on the same piece in the shift before or after. */
function stayOn(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const job = at(state.job, turn)
  if (job < 0) return false
  const shift = turn % model.shifts
  const step = random.below(2) === 0 ? -1 : 1
  if (shift + step < 0 || shift + step >= model.shifts) return false
  const piece = at(model.jobPiece, job)
  const first = at(model.firstJob, piece)
  const count = at(model.firstJob, piece + 1) - first
  const there = at(state.groupJob, piece * model.shifts + shift + step)
  const next = there >= 0 ? there : random.below(2) === 0 ? job : first + random.below(count)
  if (!isOption(model, turn + step, next) || at(state.job, turn + step) === next) return false
  const place = at(state.groupPlace, piece * model.shifts + shift)
  return send(hand, turn + step, next, there < 0 && suits(model, next, place) ? place : -1)
}

/** Enough people for a step that needs or takes several, all in one change. */
function gather(hand: Hand, guide: Guide, shift: number): boolean {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const job = at(guide.groupJobs, random.below(guide.groupJobs.length))
  const group = at(model.jobPiece, job) * S + shift
  const has = at(state.groupJob, group) === job ? at(state.groupCount, group) : 0
  const least = Math.max(at(model.jobMin, job), has + 1)
  const wanted = least + random.below(Math.max(1, at(model.jobMax, job) - least + 1))
  if (wanted > at(model.jobMax, job)) return false
  const offset = random.below(model.persons)
  const onlyFree = random.below(2) === 0
  let sent = has
  for (let i = 0; i < model.persons && sent < wanted; i++) {
    const turn = ((offset + i) % model.persons) * S + shift
    if (at(state.job, turn) === job || !isOption(model, turn, job)) continue
    if (onlyFree && at(state.job, turn) >= 0 && random.below(4) > 0) continue
    if (!send(hand, turn, job, -1)) return false
    sent++
  }
  return sent >= least
}

/** A learner's option made possible by sending a mentor within reach first. */
function bringMentor(hand: Hand, guide: Guide, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const job = pickOption(hand, guide, turn)
  if (at(model.learner, turn * model.jobs + job) === 0) return send(hand, turn, job, -1)
  const list = hand.mentors[at(model.jobTechnique, job)]
  if (list === undefined || list.length === 0) return false
  const mentor = at(list, random.below(list.length)) * model.shifts + (turn % model.shifts)
  const open = at(model.optionsStart, mentor + 1) > at(model.optionsStart, mentor)
  if (mentor === turn || !open) return false
  if (!send(hand, mentor, pickOption(hand, guide, mentor), -1)) return false
  const work = at(state.job, mentor)
  const near = at(state.groupPlace, at(model.jobPiece, work) * model.shifts + (turn % model.shifts))
  const start = at(model.jobPlacesStart, job)
  const count = at(model.jobPlacesStart, job + 1) - start
  const offset = random.below(Math.max(1, count))
  for (let i = 0; i < count; i++) {
    const place = at(model.jobPlaces, start + ((offset + i) % count))
    if (at(model.near, near * model.places + place) === 1) return send(hand, turn, job, place)
  }
  return false
}

/** Gives work to those who were pushed out, and now and then to somebody else who is idle. */
function refill(hand: Hand, guide: Guide): void {
  const { state, random } = hand
  for (let i = 0; i < hand.displacedCount; i++) {
    const turn = at(hand.displaced, i)
    if (at(state.job, turn) >= 0) continue
    const job = at(hand.displacedJob, i)
    const place = random.below(4) === 0 ? -1 : placeFor(hand, turn, job)
    if (place < 0 || !settleIn(hand, turn, job, place)) offer(hand, guide, turn)
  }
  const idle = at(guide.turns, random.below(guide.turns.length))
  if (at(state.job, idle) < 0) offer(hand, guide, idle)
}

/** Options a turn looks at when it is offered work. */
const LOOKS = 24

function offer(hand: Hand, guide: Guide, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const start = at(model.optionsStart, turn)
  const count = at(model.optionsStart, turn + 1) - start
  if (count === 0) return false
  const skip = random.below(3)
  let rank = skip === 0 ? random.below(count) : 0
  for (let look = 0; look < LOOKS && rank < count; look++) {
    const job = at(guide.ranked, start + rank)
    const place = placeFor(hand, turn, job)
    if (place >= 0 && settleIn(hand, turn, job, place)) return true
    rank += skip === 2 ? 1 + random.below(3) : 1
  }
  return false
}

/** Gives every idle turn the best work that fits, as a start. */
export function fill(hand: Hand, guide: Guide): void {
  const { state } = hand
  const { model } = state
  for (const turn of guide.turns) {
    if (at(state.job, turn) >= 0) continue
    for (let i = at(model.optionsStart, turn); i < at(model.optionsStart, turn + 1); i++) {
      const job = at(guide.ranked, i)
      const place = placeFor(hand, turn, job)
      if (place >= 0 && settleIn(hand, turn, job, place)) break
    }
    keep(hand)
  }
  settle(state)
}

/** Whether the person may do the job at all. */
export function isOption(model: Model, turn: number, job: number): boolean {
  return at(model.value, turn * model.jobs + job) >= 0
}
