/** Compound changes that leave everybody at their work and change where it is done. */
import { at } from '#lib/base'
import { suits } from './fits.ts'
import type { Hand } from './journal.ts'
import { carryTo, exchangePlaces } from './moves.ts'

/** The turn's whole group goes to another place. */
export function carrySome(hand: Hand, turn: number): boolean {
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

/** Two places exchange what is there, in one shift or in all. */
export function exchangeSome(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const job = at(state.job, turn)
  if (job < 0) return false
  const shift = turn % model.shifts
  const a = at(state.groupPlace, at(model.jobPiece, job) * model.shifts + shift)
  const start = at(model.jobPlacesStart, job)
  const b = at(model.jobPlaces, start + random.below(at(model.jobPlacesStart, job + 1) - start))
  if (a === b) return false
  if (random.below(2) === 0) return exchangePlaces(hand, shift, a, b)
  let isDone = false
  for (let s = 0; s < model.shifts; s++) {
    const before = hand.entries
    if (exchangePlaces(hand, s, a, b)) isDone = true
    else if (hand.entries !== before) return false
  }
  return isDone
}

/** The turn's piece goes to another place in every shift in which it is worked on. */
export function carryThrough(hand: Hand, turn: number): boolean {
  const { state, random } = hand
  const { model } = state
  const job = at(state.job, turn)
  if (job < 0) return false
  const piece = at(model.jobPiece, job)
  const start = at(model.jobPlacesStart, job)
  const place = at(model.jobPlaces, start + random.below(at(model.jobPlacesStart, job + 1) - start))
  let isDone = false
  for (let s = 0; s < model.shifts; s++) {
    const group = piece * model.shifts + s
    if (at(state.groupCount, group) === 0 || at(state.groupPlace, group) === place) continue
    if (!suits(model, at(state.groupJob, group), place) || !carryTo(hand, group, place)) return false
    isDone = true
  }
  return isDone
}
