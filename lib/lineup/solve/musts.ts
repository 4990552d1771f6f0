/** Holds, claims, begun turns and clocks come first: the search starts from a line-up that keeps all it can of them. */
import { at } from '#lib/base'
import { keepsMust, suits } from './fits.ts'
import { isOption } from './guide.ts'
import { type Hand, keep, undo } from './journal.ts'
import { MUST_MARKS } from './model.ts'
import { send } from './moves.ts'
import { settle } from './state.ts'

/** Attempts per must: places and company differ by chance, so one refusal proves nothing. */
const MUST_TRIES = 12

/** Holds, claims, begun turns and clocks first; each is kept when it costs no other must. */
export function placeMusts(hand: Hand): void {
  const { state, random } = hand
  const { model } = state
  const S = model.shifts
  hand.mayBreakMusts = true
  for (let round = 0; round < 2; round++) {
    for (const must of model.musts) {
      for (let attempt = 0; attempt < MUST_TRIES; attempt++) {
        if (must.turn !== -1 && keepsMust(state, must.turn)) break
        const before = settle(state)
        const shift = must.group % S
        const piece = (must.group - shift) / S
        const steps = at(model.firstJob, piece + 1) - at(model.firstJob, piece)
        if (steps === 0) break
        const job = must.job !== -1 ? must.job : at(model.firstJob, piece) + random.below(steps)
        const turn = must.turn !== -1 ? must.turn : random.below(model.persons) * S + shift
        if (job < 0 || !isOption(model, turn, job)) continue
        if (must.place !== -1 && !suits(model, job, must.place)) break
        let isDone = at(state.job, turn) === job || send(hand, turn, job, must.place)
        for (let p = 0; isDone && p < model.persons; p++) {
          if (at(state.groupCount, must.group) >= at(model.jobMin, job)) break
          const helper = p * S + shift
          if (at(state.job, helper) < 0 && isOption(model, helper, job)) isDone = send(hand, helper, job, -1)
        }
        if (isDone && settle(state) >= before) {
          const gained = settle(state) - before
          keep(hand)
          if (gained >= MUST_MARKS / 2) break
        } else {
          undo(hand)
          settle(state)
        }
      }
    }
  }
  hand.mayBreakMusts = false
}
