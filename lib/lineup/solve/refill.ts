/**
 * What a change leaves behind is put in order before it is judged: groups with too few people get enough or none, and
 * who lost their work is offered other work.
 */
import { at } from '#lib/base'
import { placeFor } from './fits.ts'
import { type Guide, isOption } from './guide.ts'
import { type Hand, keep } from './journal.ts'
import { pushOut, send, settleIn } from './moves.ts'
import { type State, settle } from './state.ts'

/** A few turns of a shift, mostly near one another, lose their work and are offered other work in a random order. */
export function ruin(hand: Hand, guide: Guide, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const job = at(state.job, turn)
  const here = job < 0 ? -1 : at(state.groupPlace, at(model.jobPiece, job) * S + shift)
  if (job >= 0 && !pushOut(hand, turn, true)) return false
  let more = 1 + random.below(3)
  const offset = random.below(model.persons)
  for (let i = 0; i < model.persons && more > 0; i++) {
    const other = ((offset + i) % model.persons) * S + shift
    const its = at(state.job, other)
    if (its < 0) continue
    const place = at(state.groupPlace, at(model.jobPiece, its) * S + shift)
    if (here >= 0 && at(model.near, here * model.places + place) === 0 && random.below(4) > 0) continue
    if (pushOut(hand, other, true)) more--
  }
  if (!mendGroups(hand)) return false
  for (let left = hand.displacedCount; left > 0; left--) {
    const i = random.below(left)
    const next = at(hand.displaced, i)
    hand.displaced[i] = at(hand.displaced, left - 1)
    hand.displaced[left - 1] = next
    if (at(state.job, next) < 0) offer(hand, guide, next)
  }
  if (at(state.job, turn) < 0) offer(hand, guide, turn)
  // Nobody is sent back to what they had: those who got nothing stay so until another change.
  hand.displacedCount = 0
  return true
}

/** Groups that a change has left with too few people get enough or none. */
export function mendGroups(hand: Hand): boolean {
  const { state, random } = hand
  const { model } = state
  for (let i = 0; i < state.dirtyGroupCount; i++) {
    const group = at(state.dirtyGroups, i)
    const count = at(state.groupCount, group)
    if (count === 0) continue
    const job = at(state.groupJob, group)
    if (count >= at(model.jobMin, job)) continue
    if (random.below(2) === 0) {
      if (!fillGroup(hand, group, job, at(model.jobMin, job))) return false
    } else {
      for (let turn = at(state.groupHead, group), next = -1; turn >= 0; turn = next) {
        next = at(state.next, turn)
        if (at(state.job, turn) === job) pushOut(hand, turn, true)
      }
    }
  }
  return true
}

/** Sends people to a group until it has as many as wanted, each the best of a few drawn by chance. */
export function fillGroup(hand: Hand, group: number, job: number, wanted: number): boolean {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const shift = group % S
  for (let tries = 0; tries < 12; tries++) {
    const count = at(state.groupJob, group) === job ? at(state.groupCount, group) : 0
    if (count >= wanted) return true
    let best = -1
    let gain = 0
    let seen = 0
    const offset = random.below(model.persons)
    for (let k = 0; k < model.persons && seen < 3; k++) {
      const turn = ((offset + k) % model.persons) * S + shift
      const has = at(state.job, turn)
      if (has === job || !isOption(model, turn, job)) continue
      seen++
      const worth = at(model.value, turn * model.jobs + job) - (has < 0 ? 0 : at(model.value, turn * model.jobs + has))
      if (best < 0 || worth > gain) {
        best = turn
        gain = worth
      }
    }
    if (best < 0 || !send(hand, best, job, -1)) return false
  }
  return false
}

/** Gives work to those who were pushed out, and now and then to somebody else who is idle. */
export function refill(hand: Hand, guide: Guide): void {
  const { state, random } = hand
  for (let i = 0; i < hand.displacedCount; i++) {
    const turn = at(hand.displaced, i)
    if (at(state.job, turn) >= 0) continue
    const job = at(hand.displacedJob, i)
    const place = random.below(4) === 0 || isShort(state, turn, job) ? -1 : placeFor(hand, turn, job)
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
    const place = isShort(state, turn, job) ? -1 : placeFor(hand, turn, job)
    if (place >= 0 && settleIn(hand, turn, job, place)) return true
    rank += skip === 2 ? 1 + random.below(3) : 1
  }
  return false
}

/** Whether a job would still have too few people with this turn on it. */
function isShort(state: State, turn: number, job: number): boolean {
  const { model } = state
  const least = at(model.jobMin, job)
  return least > 1 && at(state.groupCount, at(model.jobPiece, job) * model.shifts + (turn % model.shifts)) + 1 < least
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
