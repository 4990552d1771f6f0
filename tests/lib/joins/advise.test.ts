// What must hold of every tray, on generated breakages whose answer is known.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '#lib/base'
import { advise, assembliesOf, type FragmentSeen, joinOrder, lockedOutBy, reasonsFor, studyTray } from '#lib/joins'
import { pairKey, type TrySeen } from '#lib/rules'
import type { FragmentPair } from '#lib/words'
import { breakUp, shuffled, usualCircumstances } from '../../bench/joins/breakage.ts'

const seeds = fc.integer({ min: 1, max: 1_000_000 })
const aTry = (index: number, pair: FragmentPair, result: TrySeen['result'], at = ''): TrySeen => ({
  ...{ id: `t${String(index).padStart(4, '0')}`, at, pair, result },
})

/** The first `count` tries of somebody who follows the advice and sometimes cannot tell. */
function followed(seed: number, count: number) {
  const { fragments, joins } = breakUp(14, seed, usualCircumstances)
  const truth = new Set(joins.map(([a, b]) => pairKey([a, b])))
  const chance = seededRandom(seed)
  const tries: TrySeen[] = []
  for (let index = 0; index < count; index++) {
    const { next, isDone } = advise(studyTray(fragments, tries), tries)
    if (!next || isDone) break
    const result = chance.unit() < 0.1 ? 'unsure' : truth.has(pairKey(next.pair)) ? 'fit' : 'no fit'
    tries.push(aTry(index, next.pair, result))
  }
  return { fragments, joins, tries }
}

describe('the next pair', () => {
  test('is never one that was settled, inside an assembly, or without an open edge', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { fragments, tries } = followed(seed, 40)
        for (const [index, { pair }] of tries.entries()) {
          const before = tries.slice(0, index)
          const told = before.filter(({ result }) => result !== 'unsure').map((one) => pairKey(one.pair))
          expect(told).not.toContain(pairKey(pair))
          const fits = before.filter(({ result }) => result === 'fit').map((one) => one.pair)
          const groups = assembliesOf(fragments, fits)
          expect(groups.some((group) => group.includes(pair[0]) && group.includes(pair[1]))).toBe(false)
        }
        const closed = fragments.map(
          (one): FragmentSeen =>
            one.number === 3 ? { ...one, edges: one.edges.map((edge) => ({ ...edge, isTaken: true })) } : one,
        )
        expect(advise(studyTray(closed, tries), tries).next?.pair ?? []).not.toContain(3)
      }),
      { numRuns: 20 },
    )
  })

  test('and everything said of a tray do not depend on the order of tries or on the numbers', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { fragments, tries } = followed(seed, 25)
        const said = advise(studyTray(fragments, tries), tries)
        const mixed = shuffled(tries, seededRandom(seed + 1))
        expect(advise(studyTray(fragments, mixed), mixed)).toEqual(said)
        // Other numbers, laid out in another order.
        const numbers = shuffled(
          fragments.map(({ number }) => number),
          seededRandom(seed + 2),
        )
        const renamed = (number: number) => numbers[number - 1] ?? 0
        const others = fragments
          .map((one) => ({ ...one, number: renamed(one.number) }))
          .sort((a, b) => a.number - b.number)
        const theirs = tries.map((one) => {
          const [a, b] = one.pair.map(renamed) as [number, number]
          return { ...one, pair: [Math.min(a, b), Math.max(a, b)] as const }
        })
        const again = advise(studyTray(others, theirs), theirs)
        expect(again.pairs).toEqual(said.pairs)
        expect(again.expectedLeft).toBeCloseTo(said.expectedLeft, 4)
        expect(again.next?.chance ?? 0).toBeCloseTo(said.next?.chance ?? 0, 4)
      }),
      { numRuns: 20 },
    )
  })

  test('pairs are counted once: tried, inside, closed and untried make all', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 0, max: 60 }), (seed, count) => {
        const { fragments, tries } = followed(seed, count)
        const { pairs, chanceLeft, expectedLeft } = advise(studyTray(fragments, tries), tries)
        expect(pairs.tried + pairs.inside + pairs.closed + pairs.untried).toBe((14 * 13) / 2)
        expect(pairs.all).toBe(91)
        expect(chanceLeft).toBeLessThanOrEqual(Math.min(1, expectedLeft + 1e-9) + 0.05)
      }),
      { numRuns: 15 },
    )
  })

  test('the newest try of a pair counts: a fit taken back parts the assembly again', () => {
    const { fragments } = breakUp(9, 5, usualCircumstances)
    const fit = aTry(1, [1, 2], 'fit', '2026-03-12T09:00:00.000Z')
    const back = aTry(0, [1, 2], 'no fit', '2026-03-12T10:00:00.000Z')
    const study = studyTray(fragments, [])
    expect(advise(study, [back, fit])).toEqual(advise(study, [back]))
  })

  test('an empty tray and one fragment ask for nothing; fragments nobody measured are still asked for', () => {
    const { fragments } = breakUp(3, 1, usualCircumstances)
    const bare = fragments.map((one) => ({ ...one, edges: [] }))
    expect(advise(studyTray(bare, []), [])).toMatchObject({ isDone: false, pairs: { closed: 0, untried: 3 } })
    for (const tray of [[], fragments.slice(0, 1)]) {
      expect(advise(studyTray(tray, []), [])).toMatchObject({ next: null, isDone: true, chanceLeft: 0 })
    }
  })

  test('reasons name what was measured of the two edges', () => {
    const one = (number: number, lengthMm: number, profile: 'bowed in' | 'bowed out'): FragmentSeen => ({
      ...{ number, thicknessMm: 8, texture: number, shade: 4, surface: 'grooved' },
      edges: [{ lengthMm, thicknessMm: 7.9, profile }],
    })
    const study = studyTray([one(7, 31, 'bowed in'), one(23, 32, 'bowed out')], [])
    const next = advise(study, []).next
    expect(next?.pair).toEqual([7, 23])
    expect(next && reasonsFor(study, next)).toEqual([
      { kind: 'thickness', mm: [7.9, 7.9] },
      { kind: 'length', mm: [31, 32] },
      { kind: 'profile', profiles: ['bowed in', 'bowed out'] },
      { kind: 'surface', surface: 'grooved' },
      { kind: 'shade' },
    ])
  })
})

describe('assemblies', () => {
  test('are the same whatever the order of fits, and hold every fragment once', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { fragments, joins } = breakUp(20, seed, usualCircumstances)
        const groups = assembliesOf(fragments, joins)
        expect(assembliesOf(fragments, shuffled(joins, seededRandom(seed)))).toEqual(groups)
        expect(groups.flat().sort((a, b) => a - b)).toEqual(fragments.map(({ number }) => number))
      }),
      { numRuns: 50 },
    )
  })
})

describe('the order of gluing', () => {
  // Four in a ring around a fifth.
  const edges = Array.from({ length: 4 }, () => ({ lengthMm: 20, thicknessMm: 6, profile: 'straight' as const }))
  const ring: FragmentPair[] = [
    [1, 2],
    [2, 3],
    [3, 4],
    [1, 4],
  ]
  const spokes: FragmentPair[] = [
    [1, 5],
    [2, 5],
    [3, 5],
    [4, 5],
  ]
  const five = [1, 2, 3, 4, 5].map((number) => ({ number, edges }))

  test('a join that closes a ring around a loose fragment is warned of, with its number', () => {
    const fits = [...ring, ...spokes]
    const around: FragmentPair[] = [
      [1, 2],
      [2, 3],
    ]
    expect(lockedOutBy(five, fits, around, [3, 4])).toEqual([5])
    expect(lockedOutBy(five, fits, [], [1, 2])).toEqual([])
    // In place, it is locked out no more.
    expect(lockedOutBy(five, fits, [...around, [2, 5]], [3, 4])).toEqual([])
    // Marked as closed in all round, fewer known neighbours are enough.
    const marked = five.map((one) =>
      one.number === 5 ? { ...one, edges: one.edges.map((edge) => ({ ...edge, isTaken: true })) } : one,
    )
    const known: FragmentPair[] = [...ring, [1, 5], [3, 5]]
    expect(lockedOutBy(marked, known, [[1, 2]], [2, 3])).toEqual([5])
    expect(lockedOutBy(five, known, [[1, 2]], [2, 3])).toEqual([])
  })

  test('the proposed order joins all of an assembly and locks nobody out, on every breakage', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { fragments, joins } = breakUp(16, seed, usualCircumstances)
        const order = joinOrder(fragments, joins, [])
        expect(
          assembliesOf(
            fragments,
            order.map(({ pair }) => pair),
          ),
        ).toEqual(assembliesOf(fragments, joins))
        expect(order.flatMap(({ locksOut }) => locksOut)).toEqual([])
      }),
      { numRuns: 40 },
    )
  })
})
