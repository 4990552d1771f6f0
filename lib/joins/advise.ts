// Which pair to hold together next, and when to stop. Each open edge has at most one mate on the tray, or none: lost,
// worn away, or of another surface. The chance that two edges are mates is the fixed point of a matching that gives
// every edge the sum of 1 over all its mates and none (iterative proportional fitting with a dummy mate; Sinkhorn 1967).
// Pairs inside an assembly are settled and not asked, but their edges stay in the matching: what they may have closed
// is not looked for elsewhere. Chances are estimates: `bench -- joins` shows how good they are where the answer is known.
import { lastTries, type TrySeen } from '#lib/rules'
import type { FragmentPair } from '#lib/words'
import { bestEdges, type Likeness } from './likeness.ts'
import type { Study } from './study.ts'
import { Assemblies } from './tray.ts'

/** The advice says done when the chance that a join is among what is untried falls under this. */
const DONE_BELOW = 0.02

const ROUNDS = 10
/** With a matching at hand from the try before, so many rounds carry it on. */
const ROUNDS_AFTER = 3
/** Open edges of which the usual share has a mate, before the tray itself tells (common practice). */
const USUAL_MATED = 0.8
const USUAL_COUNTS = 20
/** Two of one assembly that were never held together touch more often than two at random. */
const INSIDE_FACTOR = 4
/** An edge is closed when less than this share of it is left over beside its mate. */
const LEFT_OVER = 0.3
/** What is left of an edge's weight when a fit seems to have closed it: which edges met is inferred, and may be wrong. */
const SEEMS_CLOSED = 0.15
/** A pair that nobody could tell is likely no fit, and comes after others. */
const UNSURE_FACTOR = 0.5
const UNSURE_WAIT = 0.2

/** One pair worth trying. */
export interface Candidate {
  readonly pair: FragmentPair
  /** Estimated chance that the two fit, from 0 to 1. */
  readonly chance: number
  /** Number of tries of this pair that told nothing yet: 1 when the last was `unsure`. */
  readonly unsure: boolean
  /** The edges that look like mates: index into each fragment's `edges`. */
  readonly edges: readonly [number, number]
}

export interface Advice {
  /** The pair to try next; null when nothing is left to try. */
  readonly next: Candidate | null
  /** True when the chance that a join is left among the untried is below `DONE_BELOW`. */
  readonly isDone: boolean
  /** Estimated chance that at least one join is among the untried pairs. */
  readonly chanceLeft: number
  /** Expected number of joins among them. */
  readonly expectedLeft: number
  readonly pairs: {
    readonly all: number
    /** Tried, whatever came of it. */
    readonly tried: number
    /** Not tried, but both in one assembly. */
    readonly inside: number
    /** Not tried, and one of the two has no open edge left. */
    readonly closed: number
    /** Not tried and not settled. */
    readonly untried: number
  }
  /** Estimated count of further tries until done, if all goes as estimated. */
  readonly triesLeft: number
  /** Handed to the next call after one more try, so that it need not begin anew. */
  readonly carry: Float64Array
}

interface Known {
  readonly count: number
  /** Factor on each pair's ratios in the matching: 0 told, 1 open, more inside an assembly. */
  readonly weight: Float32Array
  /** 1 where a pair may be asked. */
  readonly isOpen: Uint8Array
  readonly isUnsure: Uint8Array
  /** 0 where an edge is seen to be taken, 1 where it is open, little where a fit seems to have closed it. */
  readonly edgeWeight: Float64Array
  readonly pairs: Advice['pairs']
}

/** The advice for a tray; O(edges²) a round, 200 fragments in some tens of milliseconds. Same tries in any order, same advice. */
export function advise(study: Study, tries: Iterable<TrySeen>, carry?: Float64Array): Advice {
  const { likeness, fragments } = study
  const known = knownOf(study, tries)
  const { gain, prior } = matched(likeness, known, carry)
  const { count } = known
  let best: { a: number; b: number; value: number; chance: number; edges: [number, number] } | null = null
  let logNone = 0
  let expectedLeft = 0
  const chances: number[] = []
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++) {
      if (known.isOpen[a * count + b] !== 1) continue
      const found = chanceOf(likeness, known, gain, prior, a, b)
      logNone += Math.log1p(-found.chance)
      expectedLeft += found.chance
      chances.push(found.chance)
      const value = known.isUnsure[a * count + b] === 1 ? found.chance * UNSURE_WAIT : found.chance
      if (best === null || value > best.value) best = { a, b, value, ...found }
    }
  const chanceLeft = 1 - Math.exp(logNone)
  const numberOf = (index: number) => fragments[index]?.number ?? 0
  return {
    next: best && {
      pair: [numberOf(best.a), numberOf(best.b)],
      chance: best.chance,
      unsure: known.isUnsure[best.a * count + best.b] === 1,
      edges: best.edges,
    },
    isDone: chanceLeft < DONE_BELOW,
    chanceLeft,
    expectedLeft,
    pairs: known.pairs,
    triesLeft: triesUntil(chances),
    carry: gain,
  }
}

/** What the tries so far settle: open pairs, open edges, and how each pair enters the matching. */
function knownOf({ fragments, likeness }: Study, tries: Iterable<TrySeen>): Known {
  const count = fragments.length
  const indexOf = new Map(fragments.map(({ number }, index) => [number, index]))
  const weight = new Float32Array(count * count).fill(1)
  const isUnsure = new Uint8Array(count * count)
  const told = new Uint8Array(count * count)
  const assemblies = new Assemblies(count)
  const fits: [number, number][] = []
  for (const { pair, result } of lastTries(tries).values()) {
    const [one, other] = pair.map((number) => indexOf.get(number))
    if (one === undefined || other === undefined || one === other) continue
    const [a, b] = one < other ? [one, other] : [other, one]
    set(weight, count, a, b, result === 'unsure' ? UNSURE_FACTOR : 0)
    if (result === 'unsure') set(isUnsure, count, a, b, 1)
    else set(told, count, a, b, 1)
    if (result !== 'fit') continue
    assemblies.join(a, b)
    fits.push([a, b])
  }
  const edgeWeight = Float64Array.from(openEdges(likeness, fits), (isOpen) => (isOpen === 1 ? 1 : SEEMS_CLOSED))
  for (const [index, { edges }] of fragments.entries())
    for (const [side, { isTaken }] of edges.entries())
      if (isTaken) edgeWeight[(likeness.firstEdge[index] ?? 0) + side] = 0
  const hasOpen = new Uint8Array(count)
  for (let edge = 0; edge < likeness.edgeCount; edge++)
    if (edgeWeight[edge] !== 0) hasOpen[likeness.fragmentOf[edge] ?? 0] = 1
  const isOpen = new Uint8Array(count * count)
  const pairs = { all: (count * (count - 1)) / 2, tried: 0, inside: 0, closed: 0, untried: 0 }
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++) {
      const at = a * count + b
      if (told[at] === 1) pairs.tried++
      else if (assemblies.find(a) === assemblies.find(b)) {
        pairs.inside++
        set(weight, count, a, b, INSIDE_FACTOR)
      } else if (hasOpen[a] === 0 || hasOpen[b] === 0) pairs.closed++
      else {
        isOpen[at] = 1
        if (isUnsure[at] === 1) pairs.tried++
        else pairs.untried++
      }
    }
  return { count, weight, isOpen, isUnsure, edgeWeight, pairs }
}

function set(cells: Float32Array | Uint8Array, count: number, a: number, b: number, value: number): void {
  cells[a * count + b] = value
  cells[b * count + a] = value
}

/** Edges that no known fit has closed. A long edge that faces a short one stays open with what is left over. */
function openEdges(likeness: Likeness, fits: readonly (readonly [number, number])[]): Uint8Array {
  const isOpen = new Uint8Array(likeness.edgeCount).fill(1)
  const left = Float64Array.from(likeness.lengthMm)
  const ratioOf = ([one, other]: readonly [number, number]) => likeness.ratio[one * likeness.edgeCount + other] ?? 0
  // The plainest first, so that a doubtful fit takes what is left; by ratio and not by number or time.
  const byPlainness = fits
    .map(([a, b]) => ({ a, b, plain: ratioOf(bestEdges(likeness, a, b)) }))
    .sort((x, y) => y.plain - x.plain)
  for (const { a, b } of byPlainness) {
    const [one, other] = bestEdges(likeness, a, b, isOpen)
    if (one < 0) continue
    const shared = Math.min(left[one] ?? 0, left[other] ?? 0)
    for (const edge of [one, other]) {
      left[edge] = (left[edge] ?? 0) - shared
      if ((left[edge] ?? 0) < LEFT_OVER * (likeness.lengthMm[edge] ?? 0)) isOpen[edge] = 0
    }
  }
  return isOpen
}

/** The matching: `gain` of each edge, so that the chance of two being mates is gain × gain × prior × ratio. */
function matched(likeness: Likeness, known: Known, carry: Float64Array | undefined) {
  const { edgeCount, fragmentOf, firstEdge, ratio } = likeness
  const { count, weight, edgeWeight } = known
  const gain = carry?.length === edgeCount ? Float64Array.from(carry) : new Float64Array(edgeCount).fill(1)
  let open = 0
  for (let edge = 0; edge < edgeCount; edge++) {
    open += edgeWeight[edge] ?? 0
    // The edge's own weight goes into its gain, here and below, so that sums and chances need not ask for it.
    if (edgeWeight[edge] === 0) gain[edge] = 0
    else if (gain[edge] === 0) gain[edge] = 1
  }
  let mated = USUAL_MATED
  let prior = 0
  const rounds = carry?.length === edgeCount ? ROUNDS_AFTER : ROUNDS
  const before = new Float64Array(edgeCount)
  for (let round = 0; round < rounds; round++) {
    // All at once from the round before, or the numbering would show.
    before.set(gain)
    prior = mated / Math.max(1, open)
    let withMate = 0
    for (let edge = 0; edge < edgeCount; edge++) {
      const heft = edgeWeight[edge] ?? 0
      if (heft === 0) continue
      const own = (fragmentOf[edge] ?? 0) * count
      let sum = 0
      for (let other = 0; other < count; other++) {
        const factor = weight[own + other] ?? 0
        if (factor === 0) continue
        const end = firstEdge[other + 1] ?? 0
        let part = 0
        for (let mate = firstEdge[other] ?? 0; mate < end; mate++)
          part += (ratio[edge * edgeCount + mate] ?? 0) * (before[mate] ?? 0)
        sum += factor * part
      }
      const mates = heft * prior * sum
      const whole = 1 - mated + mates
      withMate += (heft * mates) / whole
      // Half a step in the logarithm: whole steps swing.
      gain[edge] = Math.sqrt(((before[edge] ?? 1) * heft) / whole)
    }
    mated = (withMate + USUAL_MATED * USUAL_COUNTS) / (open + USUAL_COUNTS)
  }
  return { gain, prior }
}

/** The chance that two fragments share a break, and by which of their edges. */
function chanceOf(
  { firstEdge, ratio, edgeCount }: Likeness,
  { weight, count }: Known,
  gain: Float64Array,
  prior: number,
  a: number,
  b: number,
): { chance: number; edges: [number, number] } {
  const factor = prior * (weight[a * count + b] ?? 0)
  let none = 1
  let most = -1
  let edges: [number, number] = [0, 0]
  const [firstA, firstB] = [firstEdge[a] ?? 0, firstEdge[b] ?? 0]
  for (let one = firstA; one < (firstEdge[a + 1] ?? 0); one++) {
    const gainOne = (gain[one] ?? 0) * factor
    if (gainOne === 0) continue
    for (let other = firstB; other < (firstEdge[b + 1] ?? 0); other++) {
      const chance = Math.min(0.98, gainOne * (gain[other] ?? 0) * (ratio[one * edgeCount + other] ?? 0))
      none *= 1 - chance
      if (chance <= most) continue
      most = chance
      edges = [one - firstA, other - firstB]
    }
  }
  return { chance: Math.min(0.98, 1 - none), edges }
}

/** Tries until the chance left is below `DONE_BELOW`, the likeliest first: no more than a guess from these estimates. */
function triesUntil(chances: number[]): number {
  chances.sort((a, b) => a - b)
  const most = -Math.log1p(-DONE_BELOW)
  let sum = 0
  let kept = 0
  while (kept < chances.length) {
    sum -= Math.log1p(-(chances[kept] ?? 0))
    if (sum >= most) break
    kept++
  }
  return chances.length - kept
}
