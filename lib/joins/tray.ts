// Fragments known to fit are one assembly; a pair inside one is settled and never asked again.
import type { Fragment, FragmentPair } from '#lib/words'

/** What of a fragment the advice reads. */
export type FragmentSeen = Readonly<
  Pick<Fragment, 'number' | 'thicknessMm' | 'texture' | 'shade' | 'surface' | 'edges'>
>

/** Fragments that hang together, by union-find with path halving. */
export class Assemblies {
  readonly #parent: Int32Array

  constructor(count: number) {
    this.#parent = Int32Array.from({ length: count }, (_, index) => index)
  }

  /** The one that stands for the assembly of `index`. */
  find(index: number): number {
    const parent = this.#parent
    let at = index
    while ((parent[at] ?? at) !== at) {
      const above = parent[at] ?? at
      parent[at] = parent[above] ?? above
      at = parent[at] ?? at
    }
    return at
  }

  /** Makes one assembly of two; the lowest index stands for it, so that the order of joining changes nothing. */
  join(a: number, b: number): void {
    const [low, high] = [this.find(a), this.find(b)].sort((x, y) => x - y) as [number, number]
    this.#parent[high] = low
  }
}

/** Groups of fragment numbers that are known to fit, largest first; a fragment that fits nothing is alone. */
export function assembliesOf(
  fragments: readonly Pick<Fragment, 'number'>[],
  fits: Iterable<FragmentPair>,
): readonly (readonly number[])[] {
  const indexOf = new Map(fragments.map(({ number }, index) => [number, index]))
  const assemblies = new Assemblies(fragments.length)
  for (const [a, b] of fits) {
    const [one, other] = [indexOf.get(a), indexOf.get(b)]
    if (one !== undefined && other !== undefined) assemblies.join(one, other)
  }
  const groups = new Map<number, number[]>()
  for (const { number } of fragments) {
    const root = assemblies.find(indexOf.get(number) ?? 0)
    groups.set(root, [...(groups.get(root) ?? []), number])
  }
  return [...groups.values()]
    .map((group) => group.sort((a, b) => a - b))
    .sort((a, b) => b.length - a.length || (a[0] ?? 0) - (b[0] ?? 0))
}
