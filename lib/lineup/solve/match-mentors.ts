/** A mentor for every learner of a line-up at once, where one by one would leave somebody without (augmenting paths). */
import { at } from '#lib/base'
import type { Model } from './model.ts'
import type { State } from './state.ts'

/** Mentor of each turn, -1 for who needs none; null when no matching has one for every learner. */
export function matchMentors(state: State): Int32Array | null {
  const { model } = state
  const { shifts: S, persons: P } = model
  const mentor = new Int32Array(P * S).fill(-1)
  for (let turn = 0; turn < P * S; turn++) {
    const job = at(state.job, turn)
    if (job < 0 || at(model.learner, turn * model.jobs + job) === 0) continue
    if (!findMentor(state, turn, mentor, new Set())) return null
  }
  return mentor
}

/** Gives a learner a mentor, moving other learners to other mentors where that helps. */
function findMentor(state: State, turn: number, mentor: Int32Array, tried: Set<number>): boolean {
  const { model } = state
  const { shifts: S, persons: P } = model
  const shift = turn % S
  for (let person = 0; person < P; person++) {
    if (tried.has(person) || !mayMentor(state, person, turn)) continue
    tried.add(person)
    const others: number[] = []
    for (let other = shift; other < P * S; other += S) if (at(mentor, other) === person) others.push(other)
    if (others.length < model.mentorMax || others.some((other) => findMentor(state, other, mentor, tried))) {
      mentor[turn] = person
      return true
    }
  }
  return false
}

/** Whether somebody, at their work in the turn's shift, could mentor it: level, no learner, hands free, in reach. */
function mayMentor(state: State, person: number, turn: number): boolean {
  const { model } = state
  const S = model.shifts
  const other = person * S + (turn % S)
  const work = at(state.job, other)
  if (other === turn || work < 0 || at(model.jobMin, work) > 1) return false
  if (at(model.learner, other * model.jobs + work) === 1) return false
  const technique = at(model.jobTechnique, at(state.job, turn))
  return (
    at(model.levels, person * model.techniques + technique) >= 4 &&
    at(model.near, placeOf(model, state, other) * model.places + placeOf(model, state, turn)) === 1
  )
}

function placeOf(model: Model, state: State, turn: number): number {
  return at(state.groupPlace, at(model.jobPiece, at(state.job, turn)) * model.shifts + (turn % model.shifts))
}
