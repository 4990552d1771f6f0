// A tray made ready for advice: the likeness of its edges, with how far two sides of a break lie apart learnt from the
// lab's own fits. Made anew when fragments are measured or the count of fits has doubled, not at every try.
import { lastTries, type TrySeen } from '#lib/rules'
import {
  bestEdges,
  type Likeness,
  learntSpreads,
  likenessOf,
  type Spreads,
  type SpreadsSeen,
  usualSpreads,
} from './likeness.ts'
import type { FragmentSeen } from './tray.ts'

/** Fewest fits from which anything is learnt. */
const FITS_MIN = 6

export interface Study {
  readonly fragments: readonly FragmentSeen[]
  readonly likeness: Likeness
  /** What the likeness was counted with. */
  readonly spreads: Spreads
}

/** Fits among the tries that count. */
const fitsOf = (tries: Iterable<TrySeen>): readonly TrySeen[] =>
  [...lastTries(tries).values()].filter(({ result }) => result === 'fit')

/** Changes when it is worth studying the tray anew: 0, then one more with each doubling of the known fits. */
export function studyRound(tries: Iterable<TrySeen>): number {
  const fits = fitsOf(tries).length
  return fits < FITS_MIN ? 0 : Math.floor(Math.log2(fits / FITS_MIN)) + 1
}

/** Counts the likeness of all edges; a fragment without a break edge takes part and is never asked for. */
export function studyTray(fragments: readonly FragmentSeen[], tries: Iterable<TrySeen>): Study {
  const usual = likenessOf(fragments, usualSpreads)
  const fits = fitsOf(tries)
  if (fits.length < FITS_MIN) return { fragments, likeness: usual, spreads: usualSpreads }
  const spreads = learntSpreads(seenIn(fragments, usual, fits))
  return { fragments, likeness: likenessOf(fragments, spreads), spreads }
}

/** How far apart the two sides of each known fit were, by the edges that look most like mates. */
function seenIn(fragments: readonly FragmentSeen[], likeness: Likeness, fits: readonly TrySeen[]): SpreadsSeen {
  const indexOf = new Map(fragments.map(({ number }, index) => [number, index]))
  const seen = { thickness: [], middle: [], length: [], texture: [], shade: [] } as Record<keyof Spreads, number[]>
  const note = (key: keyof Spreads, one: number | null | undefined, other: number | null | undefined) => {
    if (one && other) seen[key].push(key === 'texture' || key === 'shade' ? one - other : Math.log(one / other))
  }
  for (const { pair } of fits) {
    const [a, b] = [indexOf.get(pair[0]), indexOf.get(pair[1])]
    if (a === undefined || b === undefined) continue
    const [one, other] = [fragments[a], fragments[b]]
    note('middle', one?.thicknessMm, other?.thicknessMm)
    note('texture', one?.texture, other?.texture)
    note('shade', one?.shade, other?.shade)
    const [edgeA, edgeB] = bestEdges(likeness, a, b)
    const sideA = one?.edges[edgeA - (likeness.firstEdge[a] ?? 0)]
    const sideB = other?.edges[edgeB - (likeness.firstEdge[b] ?? 0)]
    note('thickness', sideA?.thicknessMm, sideB?.thicknessMm)
    // Where one faces a part of the other, the lengths tell nothing of the measuring.
    if (sideA && sideB && Math.abs(Math.log(sideA.lengthMm / sideB.lengthMm)) < 0.3)
      note('length', sideA.lengthMm, sideB.lengthMm)
  }
  return seen
}
