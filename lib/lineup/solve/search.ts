/**
 * The search: simulated annealing over line-ups that always keep every rule. Each step makes one compound change
 * (send, swap, carry, gather helpers, bring a mentor, stay on), fills the holes it tore, and keeps it when it is
 * better, or worse within what the temperature allows. The temperature falls from the scale of the differences
 * between a turn's options down to single quarter-hours, several times over.
 *
 * The budget is in steps, so that equal seeds give equal line-ups on every machine.
 */
import { at, seededRandom } from '#lib/base'
import { change } from './changes.ts'
import { type Guide, guideOf } from './guide.ts'
import { handOn, keep, undo } from './journal.ts'
import type { Model } from './model.ts'
import { placeMusts } from './musts.ts'
import { fill } from './refill.ts'
import { type Anchor, emptyState, put, type State, settle, take } from './state.ts'

/** A line-up as tables: job, place and mentor by turn, -1 for none. */
export interface Snapshot {
  readonly job: Int32Array
  readonly place: Int32Array
  readonly mentor: Int32Array
  readonly worth: number
}

export interface SearchOptions {
  readonly seed: number
  readonly steps: number
  readonly restarts: number
  /** Share of the starting temperature; below 1 stays near the start. */
  readonly heat: number
  /** A legal line-up to begin with; without one the search fills an empty day. */
  readonly start?: Snapshot
  readonly anchor?: Anchor
  /** With an anchor: receives the best line-up met for each number of changed people. */
  readonly ladder?: Map<number, Snapshot>
  /** Worth of each of the model's options with what it uses priced: the order in which options are tried. */
  readonly reduced?: Float64Array
  /** The guide of an earlier search on the same model and the same `reduced`. */
  readonly guide?: Guide
  /** Called with each better line-up, at most once in every STRIDE steps. */
  readonly onBetter?: (snapshot: Snapshot, stepsDone: number) => void
  /** Asked once in every STRIDE steps; true ends the search with the best so far. */
  readonly isCancelled?: () => boolean
}

/** Steps between two looks at the cancel flag. */
const STRIDE = 1024

/** Share of the scale at which a round ends: near single quarter-hours. */
const COLDEST = 0.006

/** Steps between two temperatures. */
const COOLING = 32

/** Searches and returns the best line-up seen. */
export function search(model: Model, options: SearchOptions): Snapshot {
  const random = seededRandom(options.seed)
  const state = emptyState(model, options.anchor)
  const hand = handOn(state, random)
  const guide = options.guide ?? guideOf(model, options.reduced)
  if (options.start !== undefined) restore(state, options.start)
  note(state, options.ladder)
  placeMusts(hand)
  note(state, options.ladder)
  if (options.start === undefined) fill(hand, guide)
  let best = snapshot(state)
  if (guide.turns.length === 0 || options.steps === 0) return best
  let told = best
  const rounds = Math.max(1, options.restarts)
  const each = Math.ceil(options.steps / rounds)
  const coldest = guide.spread * COLDEST + 1
  let done = 0
  for (let round = 0; round < rounds; round++) {
    if (round > 0) {
      clear(state)
      restore(state, best)
    }
    const hottest = Math.max(coldest, guide.spread * options.heat * (round === 0 ? 1 : 0.5))
    const cooling = (coldest / hottest) ** (1 / Math.max(1, each / COOLING))
    let temperature = hottest
    let worth = settle(state)
    for (let step = 0; step < each; step++, done++) {
      if (done % STRIDE === 0) {
        if (best !== told) options.onBetter?.(best, done)
        told = best
        if (options.isCancelled?.() === true) return best
      }
      if (step > 0 && step % COOLING === 0) temperature *= cooling
      const isDone = change(hand, guide)
      const now = isDone ? settle(state) : worth
      if (isDone && (now >= worth || random.unit() < Math.exp((now - worth) / temperature))) {
        keep(hand)
        worth = now
        if (options.ladder !== undefined) note(state, options.ladder)
        if (now > best.worth) best = snapshot(state)
      } else {
        undo(hand)
        settle(state)
      }
    }
  }
  if (best !== told) options.onBetter?.(best, done)
  return best
}

function snapshot(state: State): Snapshot {
  const { model } = state
  const place = Int32Array.from(state.job, (job, turn) =>
    job < 0 ? -1 : at(state.groupPlace, at(model.jobPiece, job) * model.shifts + (turn % model.shifts)),
  )
  return { job: Int32Array.from(state.job), place, mentor: Int32Array.from(state.mentor), worth: state.worth }
}

/** Keeps the best line-up for each number of changed people, worth counted without their price. */
function note(state: State, ladder: Map<number, Snapshot> | undefined): void {
  if (ladder === undefined || state.anchor === null) return
  const worth = state.worth + state.changed * state.anchor.loss
  const before = ladder.get(state.changed)
  if (before === undefined || worth > before.worth) ladder.set(state.changed, { ...snapshot(state), worth })
}

function clear(state: State): void {
  const { model } = state
  // Learners are dropped together with their mentors, so the order does not matter.
  state.learners.fill(0)
  state.mentor.fill(-1)
  for (let turn = 0; turn < model.persons * model.shifts; turn++) if (at(state.job, turn) >= 0) take(state, turn)
  settle(state)
}

function restore(state: State, from: Snapshot): void {
  from.job.forEach((job, turn) => {
    if (job >= 0) put(state, turn, job, at(from.place, turn), at(from.mentor, turn))
  })
  settle(state)
}
