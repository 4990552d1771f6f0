// How good a proposal is, as the manager reads it: rounded so that it stays true.
import { expect, test } from 'vitest'
import { sayBound, worthRows } from '../../../app/floor/lineup/say-worth.ts'

test('what better exists is said upwards, and only what is proven is said to be best', () => {
  expect(sayBound({ isProven: true, gapPct: 0 }, true)).toBe('Nothing better exists.')
  expect(sayBound({ isProven: false, gapPct: 1.21 }, false)).toBe('At most 1.3 % better exists.')
  expect(sayBound({ isProven: false, gapPct: 1.3 }, true)).toBe('At most 1.3 % better exists. Still looking.')
  expect(sayBound({ isProven: false, gapPct: 0.01 }, false)).toBe('At most 0.1 % better exists.')
  expect(sayBound({ isProven: false, gapPct: 12.01 }, false)).toBe('At most 13 % better exists.')
  expect(sayBound({ isProven: false, gapPct: null }, true)).toBe('Looking for better ones.')
  expect(sayBound({ isProven: false, gapPct: null }, false)).toBe('Whether a better one exists is not known.')
})

test('the parts come as shares of the day, largest first, the cost of carrying last', () => {
  const none = { gentleness: 0, sameHands: 0, learning: 0, loves: 0, fairness: 0, notLast: 0 }
  const rows = worthRows({ ...none, urgency: 300, useful: 750, fewMoves: -50 }, 1000)
  expect(rows.map(({ part, percent }) => [part, percent])).toEqual([
    ['useful', 75],
    ['urgency', 30],
    ['fewMoves', -5],
  ])
})
