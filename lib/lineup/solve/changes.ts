/**
 * The compound changes of the search: send, swap, carry, stay on, gather helpers, bring a mentor, tear down and fill
 * again, go back to the posted day.
 */
import { at } from '#lib/base'
import { suits } from './fits.ts'
import { type Guide, isOption, pickOption } from './guide.ts'
import { displace, type Hand } from './journal.ts'
import { pushOut, send } from './moves.ts'
import { carrySome, carryThrough, exchangeSome } from './place-changes.ts'
import { fillGroup, mendGroups, refill, ruin } from './refill.ts'
import type { Anchor, State } from './state.ts'

/** One compound change; false when it could not be made (the journal then still holds its first half). */
export function change(hand: Hand, guide: Guide): boolean {
  const { state, random } = hand
  if (state.anchor !== null && random.below(6) === 0) {
    if (!revert(hand, state.anchor)) return false
  } else if (!attempt(hand, guide)) return false
  if (!mendGroups(hand)) return false
  refill(hand, guide)
  return true
}

/** One change of a kind drawn by chance; the shares are those that found most optima of small days. */
function attempt(hand: Hand, guide: Guide): boolean {
  const { state, random } = hand
  const { model } = state
  const turn = at(guide.turns, random.below(guide.turns.length))
  const dice = random.below(100)
  if (dice < 31) return send(hand, turn, pickOption(hand, guide, turn), -1)
  if (dice < 51) return ruin(hand, guide, turn)
  if (dice < 61) return swap(hand, turn)
  if (dice < 69) return exchangeSome(hand, turn)
  if (dice < 75) return carrySome(hand, turn)
  if (dice < 80) return carryThrough(hand, turn)
  if (dice < 86 && model.shifts > 1) return stayOn(hand, turn)
  if (dice < 91 && model.shifts > 1) return exchangeShifts(hand, turn)
  if (dice < 95 && guide.groupJobs.length > 0) return gather(hand, guide, turn % model.shifts)
  if (dice < 98 && guide.hasMentors) return bringMentor(hand, guide, turn)
  return at(state.job, turn) >= 0 && pushOut(hand, turn, true)
}

/** In a redraw: somebody whose day has changed goes back to the posted one, in all shifts at once. */
function revert(hand: Hand, anchor: Anchor): boolean {
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
    return true
  }
  return false
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
  const [myPlace, itsPlace] = [placeAt(state, turn), placeAt(state, other)]
  if (mine >= 0 && !pushOut(hand, turn, false)) return false
  if (at(state.job, other) >= 0 && !pushOut(hand, other, false)) return false
  if (!send(hand, turn, its, itsPlace)) return false
  if (mine >= 0 && at(model.value, other * model.jobs + mine) >= 0) return send(hand, other, mine, myPlace)
  displace(hand, other, its)
  return true
}

/** Somebody does in one shift what they did in another, and the other way round. */
function exchangeShifts(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  const shift = turn % S
  const other = turn - shift + ((shift + 1 + random.below(S - 1)) % S)
  const [mine, its] = [at(state.job, turn), at(state.job, other)]
  if (mine === its) return false
  const [myPlace, itsPlace] = [placeAt(state, turn), placeAt(state, other)]
  if (mine >= 0 && !pushOut(hand, turn, false)) return false
  if (its >= 0 && at(state.job, other) >= 0 && !pushOut(hand, other, false)) return false
  return handOver(hand, turn, mine, other, myPlace) && handOver(hand, other, its, turn, itsPlace)
}

/** Gives one turn the job that another has just left, at the same place unless the piece is elsewhere by now. */
function handOver(hand: Hand, from: number, job: number, to: number, place: number): boolean {
  const { state } = hand
  const { model } = state
  if (job < 0) return true
  if (isOption(model, to, job)) {
    const group = at(model.jobPiece, job) * model.shifts + (to % model.shifts)
    return send(hand, to, job, at(state.groupCount, group) > 0 ? -1 : place)
  }
  displace(hand, from, job)
  return true
}

/** Where a turn is; -1 when it has no work. */
function placeAt(state: State, turn: number): number {
  const { model } = state
  const job = at(state.job, turn)
  return job < 0 ? -1 : at(state.groupPlace, at(model.jobPiece, job) * model.shifts + (turn % model.shifts))
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
  return fillGroup(hand, group, job, wanted)
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
