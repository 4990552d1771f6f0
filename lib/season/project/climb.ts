/**
 * The search all projects share. A current schedule is read as a list from its other end, a window of the list is dealt
 * anew, and one pass from that end makes the next schedule, which stays when it is no longer: each step is both a window
 * search and half of a double justification (Valls, Ballestín & Quintanilla 2005). A few currents take turns, begun at
 * the best of a sample or, where there is no choice but the order, of those bred from it; the budget is counted in
 * passes, a pass given up early by the share of activities it placed.
 */
import { at, type Random, seededRandom } from '#lib/base'
import { evolve } from './evolve.ts'
import { type Side, sortInto, TOO_LONG } from './pass.ts'

export interface Budget {
  readonly seed: number
  /** Passes in all, forward or backward. */
  readonly schedules: number
  /** Asked after each pass. */
  readonly isCancelled?: () => boolean
  /** Told each better schedule as it is found, by its length. */
  readonly onBetter?: (length: number) => void
}

/** What a project has to offer so that it can be searched. */
export interface Maker {
  readonly sides: readonly [Side, Side]
  /** The longest any schedule can be. */
  readonly horizon: number
  /** No schedule is shorter. */
  readonly bound: number
  /** One pass from an end; TOO_LONG when it reaches the limit. Adds the activities placed to `done.placed`. */
  readonly run: (end: End, list: Int32Array, start: Int32Array, limit: number, done: { placed: number }) => number
  /** Choices besides the order (modes, people's weights) of the schedule under way; changed by `vary`. */
  readonly choice: Int32Array
  readonly vary: ((random: Random) => void) | null
  /** Makes durations and needs those of `choice`. */
  readonly apply?: () => void
  /** Whatever must be kept with the best schedule, called right after the pass that made it. */
  readonly keep?: (end: End, start: Int32Array, length: number) => void
}

type End = 0 | 1

export interface Climbed {
  /** Start times from the front; null when nothing was scheduled. */
  readonly start: Int32Array | null
  readonly length: number
  readonly choice: Int32Array
  readonly schedules: number
}

interface Current {
  start: Int32Array
  choice: Int32Array
  length: number
  end: End
  /** Shortest length on its way here, and steps since. */
  least: number
  stale: number
}

/** Lists dealt at random to begin with. */
const SAMPLE = 60
/** Schedules kept at once while breeding, its share of the budget and the most passes it gets. */
const MANY = 100
const BREED = 0.85
const BREED_MOST = 200_000
/** The least budget and activities it is for: fewer activities do better with new beginnings (j3021_1 of PSPLIB). */
const BREED_FROM = 5000
const BREED_SIZE = 50
/** Longest window dealt anew. */
const WINDOW = 20
/** Steps without a shorter schedule, by activity, after which a current begins anew. */
const STALE = 60

/** Searches until the budget is used, the bound is reached or it is cancelled; equal seeds and budgets give equal answers. */
export function climb(maker: Maker, budget: Budget): Climbed {
  const { sides, bound, choice } = maker
  const count = sides[0].activities
  const random = seededRandom(budget.seed)
  const done = { placed: 0 }
  const most = budget.schedules * count
  const bucket = new Int32Array(maker.horizon + 3)
  const key = new Int32Array(count)
  const keys = new Float64Array(count)
  const list = new Int32Array(count)
  const best: Current = {
    start: new Int32Array(count),
    choice: choice.slice(),
    length: TOO_LONG,
    end: 0,
    least: TOO_LONG,
    stale: 0,
  }
  const isOver = (): boolean => done.placed >= most || best.length <= bound || budget.isCancelled?.() === true
  const make = (): Current => ({
    start: new Int32Array(count),
    choice: choice.slice(),
    length: TOO_LONG,
    end: 0,
    least: TOO_LONG,
    stale: 0,
  })

  const pass = (into: Current, end: End, limit: number): boolean => {
    into.length = maker.run(end, list, into.start, limit, done)
    into.end = end
    if (into.length === TOO_LONG) return false
    into.choice.set(choice)
    if (into.length < best.length) {
      best.start.set(into.start)
      best.choice.set(choice)
      best.length = into.length
      best.end = end
      maker.keep?.(end, into.start, into.length)
      budget.onBetter?.(into.length)
    }
    return true
  }
  /** The list of a schedule from the other end: latest finish first. */
  const turn = ({ start, length, end }: Current): void => {
    const { duration } = sides[0]
    for (let a = 0; a < count; a++) key[a] = length - at(start, a) - at(duration, a)
    sortInto(sides[1 - end] as Side, key, length, bucket, list)
  }
  const sample: Current[] = []
  // Parents with different modes have no common order to mix, so those projects are climbed alone.
  const isBred = maker.vary === null && count >= BREED_SIZE && budget.schedules >= BREED_FROM
  const size = isBred ? MANY : Math.max(1, Math.min(SAMPLE, Math.floor(budget.schedules / 8)))
  for (let i = 0; i < size && (i === 0 || !isOver()); i++) {
    const one = make()
    if (i > 0) maker.vary?.(random)
    dealList(sides[0], random, list)
    if (!pass(one, 0, TOO_LONG)) continue
    turn(one)
    const back = make()
    if (!isOver() && pass(back, 1, TOO_LONG)) sample.push(back)
    else sample.push(one)
  }
  sample.sort((a, b) => a.length - b.length)
  const deal = (end: End): void => {
    const width = Math.min(count, 2 + random.below(WINDOW))
    const first = random.below(count - width + 1)
    dealWindow(sides[end], list, first, first + width, keys, random)
  }
  if (isBred) {
    const isBredOut = (): boolean => isOver() || done.placed >= Math.min(most * BREED, BREED_MOST * count)
    evolve(sample, { sides, random, make, pass, turn, list, deal, isOver: isBredOut })
    for (const one of sample) one.least = one.length
  }
  const currents = sample.slice(0, budget.schedules >= 5000 ? 3 : 1)
  let spare = make()
  let turns = 0
  while (currents.length > 0 && !isOver()) {
    const which = turns++ % currents.length
    const current = currents[which] as Current
    choice.set(current.choice)
    maker.apply?.()
    turn(current)
    const end = (1 - current.end) as End
    const isVaried = maker.vary !== null && random.below(2) === 0
    if (isVaried) maker.vary?.(random)
    if (!isVaried || random.below(2) === 0) deal(end)
    // Longer by one is let through now and then, or the search stays in one valley.
    const limit = current.length + (random.below(10) === 0 ? 2 : 1)
    // The first current is never given up; the others are what leads out of a valley it may sit in.
    if (which > 0 && current.stale++ > STALE * count) {
      dealList(sides[0], random, list)
      if (pass(current, 0, TOO_LONG)) {
        current.stale = 0
        current.least = current.length
      }
      continue
    }
    if (!pass(spare, end, Math.max(limit, 2))) continue
    spare.stale = spare.length < current.least ? 0 : current.stale
    spare.least = Math.min(spare.length, current.least)
    currents[which] = spare
    spare = current
  }
  const schedules = done.placed / count
  if (best.length === TOO_LONG) return { start: null, length: 0, choice: best.choice, schedules }
  choice.set(best.choice)
  maker.apply?.()
  if (best.end === 1) {
    for (let a = 0; a < count; a++) best.start[a] = best.length - at(best.start, a) - at(sides[0].duration, a)
  }
  return { start: best.start, length: best.length, choice: best.choice, schedules }
}

/** A list at random that favours long ways to the end. */
function dealList(side: Side, random: Random, list: Int32Array): void {
  const { before, after, tail, activities } = side
  const waiting = Int32Array.from({ length: activities }, (_, a) => at(before.from, a + 1) - at(before.from, a))
  const ready: number[] = []
  for (let a = 0; a < activities; a++) if (at(waiting, a) === 0) ready.push(a)
  for (let filled = 0; filled < activities; filled++) {
    let pick = random.below(ready.length)
    for (let k = 0; k < 2; k++) {
      const other = random.below(ready.length)
      if (at(tail, ready[other] ?? 0) > at(tail, ready[pick] ?? 0)) pick = other
    }
    const a = ready[pick] ?? 0
    ready[pick] = ready[ready.length - 1] ?? 0
    ready.pop()
    list[filled] = a
    for (let k = at(after.from, a); k < at(after.from, a + 1); k++) {
      const b = at(after.next, k)
      waiting[b] = at(waiting, b) - 1
      if (at(waiting, b) === 0) ready.push(b)
    }
  }
}

/** Deals a window of the list anew, each activity a little earlier or later, none past one that must come before it. */
function dealWindow(side: Side, list: Int32Array, from: number, to: number, keys: Float64Array, random: Random): void {
  const { from: first, next } = side.before
  for (let i = from; i < to; i++) keys[at(list, i)] = i + random.unit() * 10
  for (let i = from + 1; i < to; i++) {
    const a = at(list, i)
    const key = keys[a] ?? 0
    let j = i - 1
    for (; j >= from && (keys[at(list, j)] ?? 0) > key; j--) {
      const b = at(list, j)
      let isLinked = false
      for (let k = at(first, a); k < at(first, a + 1); k++) if (at(next, k) === b) isLinked = true
      if (isLinked) break
      list[j + 1] = b
    }
    list[j + 1] = a
  }
}
