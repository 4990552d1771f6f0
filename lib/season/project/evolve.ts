/**
 * The part of the search that keeps many schedules at once: a busy stretch of one is kept and the rest ordered as in
 * another (the peak crossover of Valls, Ballestín & Quintanilla 2008, with the keys of Debels & Vanhoucke 2007), then one
 * pass from each end. A child takes its own first parent's place, and only when it is no longer and nobody's double, so that
 * the many stay different; replacing the longest instead measured 0.3 (j60) and 0.7 points (j120) worse.
 */
import { at, type Random } from '#lib/base'
import type { Side } from './pass.ts'

/** A schedule as seen from the end it was made from. */
export interface Bred {
  start: Int32Array
  choice: Int32Array
  length: number
  end: 0 | 1
}

/** What breeding asks of the search around it. */
export interface Breeder<T extends Bred> {
  readonly sides: readonly [Side, Side]
  readonly random: Random
  readonly make: () => T
  /** One pass of `list` from an end into a schedule; false when it reached the limit. */
  readonly pass: (into: T, end: 0 | 1, limit: number) => boolean
  /** Reads a schedule from its other end into `list`. */
  readonly turn: (of: T) => void
  readonly list: Int32Array
  /** Deals a window of `list` anew, seen from an end. */
  readonly deal: (end: 0 | 1) => void
  readonly isOver: () => boolean
}

/** Share of children changed a little besides. */
const CHANGED = 0.3
/** A first pass longer than its parent by more than this factor is given up. */
const LOOSE = 1.1

/** Breeds until over, changing `many` in place, and leaves the shortest first. All share one choice of modes. */
export function evolve<T extends Bred>(many: T[], breeder: Breeder<T>): void {
  const { sides, random, make, pass, turn, list, deal, isOver } = breeder
  const { activities: count, duration } = sides[0]
  const mine = new Int32Array(count)
  const theirs = new Int32Array(count)
  const rank = new Int32Array(count)
  const ids = Int32Array.from(mine, (_, a) => a)
  const readFrom = (one: T, end: 0 | 1, into: Int32Array): void => {
    for (let a = 0; a < count; a++)
      into[a] = one.end === end ? at(one.start, a) : one.length - at(one.start, a) - at(duration, a)
  }
  const first = make()
  let second = make()
  while (many.length > 1 && !isOver()) {
    const which = random.below(many.length)
    const parent = many[which] as T
    const one = many[random.below(many.length)] as T
    const two = many[random.below(many.length)] as T
    const other = one.length <= two.length ? one : two
    if (other === parent) continue
    const end = random.below(2) === 0 ? 0 : 1
    readFrom(parent, end, mine)
    readFrom(other, end, theirs)
    const span = Math.floor(parent.length * (0.25 + 0.5 * random.unit()))
    const from = Math.floor((parent.length - span) * random.unit())
    // What the stretch leaves goes before or behind it, in the other parent's order.
    const far = parent.length + other.length
    for (let a = 0; a < count; a++) {
      const key = at(mine, a)
      if (key >= from && key < from + span) rank[a] = key
      else rank[a] = at(theirs, a) + (2 * at(theirs, a) < 2 * from + span ? -far : far)
    }
    ids.sort((a, b) => at(rank, a) - at(rank, b) || a - b)
    listByRank(sides[end], ids, list)
    if (random.unit() < CHANGED) deal(end)
    if (!pass(first, end, Math.ceil(parent.length * LOOSE) + 1)) continue
    turn(first)
    if (!pass(second, end === 0 ? 1 : 0, parent.length + 1)) continue
    if (many.some((it) => isSame(it, second))) continue
    many[which] = second
    second = parent
  }
  many.sort((a, b) => a.length - b.length)
}

function isSame(a: Bred, b: Bred): boolean {
  return a.length === b.length && a.end === b.end && a.start.every((time, i) => time === b.start[i])
}

/** The activities in the order of `ids`, each behind all that must come before it. */
function listByRank({ before: { from, next } }: Side, ids: Int32Array, list: Int32Array): void {
  const isPut = new Uint8Array(ids.length)
  // Walked without recursion: an arc chain may be as long as the project.
  const way: number[] = []
  let filled = 0
  for (const id of ids) {
    way.push(id)
    while (way.length > 0) {
      const a = way[way.length - 1] as number
      let missing = -1
      for (let k = at(from, a); k < at(from, a + 1) && missing < 0; k++) {
        if (isPut[at(next, k)] === 0) missing = at(next, k)
      }
      if (missing >= 0) way.push(missing)
      else {
        way.pop()
        if (isPut[a] === 1) continue
        isPut[a] = 1
        list[filled++] = a
      }
    }
  }
}
