// The tray of a piece from its records in any order: the newest of a number and of a pair counts.
import type { Fragment, FragmentPair, Join, PairTry } from '#lib/words'
import { newestBy } from './newest.ts'

/** What of a try is needed to tell what counts; the order of a list of tries means nothing but for `at` and `id`. */
export type TrySeen = Readonly<Pick<PairTry, 'id' | 'at' | 'result'>> & { readonly pair: FragmentPair }

/** The key of a pair of fragment numbers. */
export const pairKey = ([a, b]: FragmentPair): string => (a < b ? `${a}-${b}` : `${b}-${a}`)

/** The fragments that lie on the tray, as measured last, by number. */
export function fragmentsOf(records: Iterable<Fragment>): readonly Fragment[] {
  return [...newestBy(records, ({ number }) => String(number)).values()]
    .filter(({ isGone }) => !isGone)
    .sort((a, b) => a.number - b.number)
}

/** The try of each pair that counts, by `pairKey`. */
export const lastTries = <T extends TrySeen>(tries: Iterable<T>): ReadonlyMap<string, T> =>
  newestBy(tries, ({ pair }) => pairKey(pair))

/** The state of each join that was ever made, by `pairKey`. */
export const lastJoins = (joins: Iterable<Join>): ReadonlyMap<string, Join> =>
  newestBy(joins, ({ pair }) => pairKey(pair))
