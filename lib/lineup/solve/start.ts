/**
 * A line-up of ids back into tables: as it stands (for a redraw's comparison), and the part of it that is still
 * legal (as a search's start). What no longer fits, because somebody is missing or a place is closed, is left out.
 */
import { at, seededRandom } from '#lib/base'
import type { Assignment } from '../problem.ts'
import { fits, suits } from './fits.ts'
import { handOn } from './journal.ts'
import { type Model, mayBeAt } from './model.ts'
import { settleIn } from './moves.ts'
import type { Snapshot } from './search.ts'
import { type Anchor, emptyState, type State, settle } from './state.ts'

interface IndexedTurn {
  readonly turn: number
  readonly job: number
  readonly place: number
}

/** Job and place by turn of a line-up; turns of people who are no longer in are left out. */
export function anchorOf(model: Model, lineUp: readonly Assignment[], loss: number): Anchor {
  const job = new Int32Array(model.persons * model.shifts).fill(-1)
  const place = Int32Array.from(job)
  for (const entry of indexed(model, lineUp)) {
    if (at(model.quarters, entry.turn) < 1) continue
    job[entry.turn] = entry.job
    place[entry.turn] = entry.place
  }
  return { job, place, loss }
}

/** The legal part of a line-up as a state: mentors before learners, otherwise in its own order. */
function stateOf(model: Model, lineUp: readonly Assignment[]): State {
  const state = emptyState(model)
  const hand = handOn(state, seededRandom(0))
  const learns = (entry: IndexedTurn): number => at(model.learner, entry.turn * model.jobs + entry.job)
  for (const entry of indexed(model, lineUp).sort((a, b) => learns(a) - learns(b))) {
    const { turn, job, place } = entry
    if (at(model.value, turn * model.jobs + job) < 0 || at(state.job, turn) >= 0) continue
    if (suits(model, job, place) && mayBeAt(model, turn, job, place) && fits(state, turn, job, place)) {
      settleIn(hand, turn, job, place)
      hand.entries = 0
    }
  }
  settle(state)
  return state
}

/** The legal part of a line-up as a start for the search. */
export function startOf(model: Model, lineUp: readonly Assignment[]): Snapshot {
  const state = stateOf(model, lineUp)
  const place = Int32Array.from(state.job, (job, turn) =>
    job < 0 ? -1 : at(state.groupPlace, at(model.jobPiece, job) * model.shifts + (turn % model.shifts)),
  )
  return { job: Int32Array.from(state.job), place, mentor: Int32Array.from(state.mentor), worth: state.worth }
}

function indexed(model: Model, lineUp: readonly Assignment[]): IndexedTurn[] {
  const person = new Map(model.personIds.map((id, index) => [id, index]))
  const shift = new Map(model.shiftIds.map((id, index) => [id, index]))
  const piece = new Map(model.pieceIds.map((id, index) => [id, index]))
  const place = new Map(model.placeIds.map((id, index) => [id, index]))
  return lineUp.flatMap((turn) => {
    const [p, s, k, l] = [person.get(turn.person), shift.get(turn.shift), piece.get(turn.piece), place.get(turn.place)]
    if (p === undefined || s === undefined || k === undefined || l === undefined) return []
    for (let job = at(model.firstJob, k); job < at(model.firstJob, k + 1); job++) {
      if (model.steps[job]?.id === turn.step) return [{ turn: p * model.shifts + s, job, place: l }]
    }
    return []
  })
}
