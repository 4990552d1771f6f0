// An order to glue in, so that no gap is locked out: a fragment that is to sit between others cannot be slid in once
// they are one rigid piece around it. Known from the pairs that fit and from edges seen to be taken: a fragment is locked out
// when one glued whole holds all its known neighbours and these close it in all round, by three at least or by marks.
// That a natural margin may leave a way in is not known here, so the warning may be needless. (Common practice: build
// outwards, and put what is enclosed in before its ring is closed.)
import { pairKey } from '#lib/rules'
import { FRAGMENTS_MAX, type FragmentPair } from '#lib/words'
import { Assemblies, type FragmentSeen } from './tray.ts'

/** Fewest neighbours that close a fragment in when no edge of it is marked as taken. */
const RING_MIN = 3

/** Fragments that could no longer be put in if the pair were glued now, of those that still could; numbers in order. */
export function lockedOutBy(
  fragments: readonly Pick<FragmentSeen, 'number' | 'edges'>[],
  fits: readonly FragmentPair[],
  glued: readonly FragmentPair[],
  pair: FragmentPair,
): readonly number[] {
  const before = whole(glued)
  const after = whole([...glued, pair])
  const touching = neighboursOf(fits)
  return fragments.flatMap(({ number, edges }) => {
    if (pair.includes(number) || after.find(number) === after.find(pair[0])) return []
    const isLocked = (assemblies: Assemblies, root: number) => {
      const neighbours = touching.get(number) ?? []
      const sides = neighbours.filter((other) => assemblies.find(other) === root).length
      const isClosedIn = edges.length > 0 && edges.every(({ isTaken }) => isTaken)
      return isClosedIn ? sides > 1 && sides === neighbours.length : sides >= Math.max(RING_MIN, edges.length)
    }
    const wasLocked = isLocked(before, before.find(pair[0])) || isLocked(before, before.find(pair[1]))
    return !wasLocked && isLocked(after, after.find(pair[0])) ? [number] : []
  })
}

/** One join of an order, and whom it would lock out all the same. */
export interface OrderedJoin {
  readonly pair: FragmentPair
  readonly locksOut: readonly number[]
}

/**
 * The fits that are not yet glued, in an order that locks nobody out where there is one: at each turn a join that locks
 * nobody out, the one whose fragment has most neighbours in place first. Pairs that come to lie in one glued whole on the
 * way are left out: they are held by the others. O(fits²) per join; a tray of 200 in a moment.
 */
export function joinOrder(
  fragments: readonly Pick<FragmentSeen, 'number' | 'edges'>[],
  fits: readonly FragmentPair[],
  glued: readonly FragmentPair[],
): readonly OrderedJoin[] {
  const done = [...glued]
  const order: OrderedJoin[] = []
  const touching = neighboursOf(fits)
  for (;;) {
    const now = whole(done)
    const left = fits.filter(([a, b]) => now.find(a) !== now.find(b))
    if (left.length === 0) return order
    const inPlace = (number: number, other: number) =>
      (touching.get(number) ?? []).filter((one) => now.find(one) === now.find(other)).length
    const isBegun = (number: number) => done.some((pair) => pair.includes(number))
    const ranked = left
      .map((pair) => ({
        pair,
        begun: pair.some(isBegun) ? 1 : 0,
        held: Math.max(inPlace(pair[0], pair[1]), inPlace(pair[1], pair[0])),
      }))
      .sort((x, y) => y.begun - x.begun || y.held - x.held || x.pair[0] - y.pair[0] || x.pair[1] - y.pair[1])
    const first = ranked[0]
    if (!first) return order
    let chosen: OrderedJoin = { pair: first.pair, locksOut: lockedOutBy(fragments, fits, done, first.pair) }
    for (const { pair } of ranked.slice(1)) {
      if (chosen.locksOut.length === 0) break
      const locksOut = lockedOutBy(fragments, fits, done, pair)
      if (locksOut.length < chosen.locksOut.length) chosen = { pair, locksOut }
    }
    order.push(chosen)
    done.push(chosen.pair)
  }
}

/** Assemblies of fragments by number. */
function whole(pairs: readonly FragmentPair[]): Assemblies {
  const assemblies = new Assemblies(FRAGMENTS_MAX + 1)
  for (const [a, b] of pairs) assemblies.join(a, b)
  return assemblies
}

function neighboursOf(fits: readonly FragmentPair[]): ReadonlyMap<number, readonly number[]> {
  const touching = new Map<number, number[]>()
  const seen = new Set<string>()
  for (const pair of fits) {
    if (seen.has(pairKey(pair))) continue
    seen.add(pairKey(pair))
    const [a, b] = pair
    touching.set(a, [...(touching.get(a) ?? []), b])
    touching.set(b, [...(touching.get(b) ?? []), a])
  }
  return touching
}
