// Chance with a seed, in the few shapes the demo needs, and the one way a record is made here: through its schema.
import type * as z from 'zod/mini'
import { assert, instantOf, type Random, seededRandom } from '#lib/base'
import { type Change, type Kind, kinds, put, type RecordOf } from '#lib/words'

/** A record as written down before its schema has seen it; plain texts where the record has branded ids. */
export type Draft<K extends Kind> = z.input<(typeof kinds)[K]>

/** A record made from its draft; throws when the schema refuses it, which would be a mistake in the demo. */
export function record<K extends Kind>(kind: K, draft: Draft<K>): Change {
  // The table's schema of `kind` gives a record of `kind`; the compiler cannot follow a key through two mapped types.
  return put(kind, kinds[kind].parse(draft) as unknown as RecordOf<K>)
}

export interface Dice extends Random {
  /** A whole number from `low` to `high`, both included. */
  readonly between: (low: number, high: number) => number
  readonly pick: <T>(list: readonly T[]) => T
  /** True in `percent` of a hundred throws. */
  readonly happens: (percent: number) => boolean
  /** `middle` times a factor between 1/ratio and ratio, mostly near 1. */
  readonly around: (middle: number, ratio: number) => number
}

/** A stream of throws that depends on the seed alone. */
export function dice(seed: number): Dice {
  const random = seededRandom(seed)
  return {
    ...random,
    between: (low, high) => low + random.below(high - low + 1),
    pick: (list) => {
      const picked = list[random.below(list.length)]
      assert(picked !== undefined, 'a list to pick from is not empty')
      return picked
    },
    happens: (percent) => random.unit() * 100 < percent,
    around: (middle, ratio) => middle * ratio ** (random.unit() + random.unit() - 1),
  }
}

/** Rounded to two places: centimetres, hundredths of hours. */
export const round2 = (value: number): number => Math.round(value * 100) / 100

/** The instant of a local time as text. */
export const instant = (zone: string, date: string, minute: number): string =>
  new Date(instantOf(zone, date, minute)).toISOString()

/** Entries by a key, in their order. */
export function groupBy<T>(list: readonly T[], keyOf: (entry: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>()
  for (const entry of list) {
    const group = groups.get(keyOf(entry))
    if (group) group.push(entry)
    else groups.set(keyOf(entry), [entry])
  }
  return groups
}
