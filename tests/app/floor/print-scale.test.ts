// The printed room is as large as a round scale lets it be on one page.
import { expect, test } from 'vitest'
import { printPxPerM, printScale } from '../../../app/floor/print-scale.ts'

test('a small room comes at 1 : 50, a larger one at the next round scale that fits the page', () => {
  expect(printScale({ widthM: 10, depthM: 7 })).toBe(50)
  expect(printScale({ widthM: 16, depthM: 9.5 })).toBe(60)
  expect(printScale({ widthM: 16, depthM: 14 })).toBe(100)
  expect(printScale({ widthM: 400, depthM: 90 })).toBe(500)
})

test('a metre at 1 : 50 is 20 mm of paper', () => {
  expect((printPxPerM(50) * 25.4) / 96).toBeCloseTo(20)
})
