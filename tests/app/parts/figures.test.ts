// Figures keep to what they are told: hatching stays inside, a lens cuts at its date, months are the calendar's.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { beyond, lens } from '../../../app/_parts/figures/finish-window.tsx'
import { box, hatch } from '../../../app/_parts/figures/hatch.ts'
import { along } from '../../../app/_parts/figures/scale.ts'
import { chanceWords } from '../../../app/_parts/figures/small.tsx'
import { monthStarts } from '../../../app/_parts/figures/time-axis.tsx'
import { dateOfDay, dayNumber } from '../../../lib/base/index.ts'

const size = fc.integer({ min: 4, max: 300 })

test('hatching never leaves its box', () => {
  fc.assert(
    fc.property(size, size, fc.integer({ min: 0, max: 180 }), (width, height, lean) => {
      const ends = [...hatch(box(10, 20, width, height), 4.4, lean).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)]
      for (const [, x, y] of ends) {
        expect(Number(x)).toBeGreaterThanOrEqual(9.9)
        expect(Number(x)).toBeLessThanOrEqual(10.1 + width)
        expect(Number(y)).toBeGreaterThanOrEqual(19.9)
        expect(Number(y)).toBeLessThanOrEqual(20.1 + height)
      }
    }),
  )
})

test('a finish window is thickest at its median and its late part begins at the date', () => {
  fc.assert(
    fc.property(size, size, (before, after) => {
      const shape = lens(100 - before, 100, 100 + after, 40, 17)
      const thickness = (x: number) =>
        Math.max(0, ...shape.filter(([px]) => Math.abs(px - x) < 1e-9).map(([, y]) => Math.abs(y - 40)))
      for (const [x] of shape) expect(thickness(x)).toBeLessThanOrEqual(17 + 1e-9)
      const late = beyond(shape, 100)
      expect(Math.min(...late.map(([x]) => x))).toBeCloseTo(100)
      expect(Math.max(...late.map(([x]) => x))).toBeCloseTo(100 + Math.max(6, after))
    }),
  )
})

test('a date after the window leaves nothing late', () => {
  expect(beyond(lens(0, 50, 90, 40, 17), 120)).toEqual([])
})

test('month rules fall on the firsts, over the turn of a year', () => {
  const scale = { from: dayNumber('2026-11-15'), to: dayNumber('2027-03-02'), left: 0, right: 100 }
  expect(monthStarts(scale).map(dateOfDay)).toEqual(['2026-12-01', '2027-01-01', '2027-02-01', '2027-03-01'])
})

test('amounts beyond a scale are drawn at its end', () => {
  const scale = { from: 0, to: 300, left: 1, right: 601 }
  expect(along(scale, 150)).toBe(301)
  expect(along(scale, 900)).toBe(601)
})

test('the ends of a chance are words, never certainty', () => {
  expect([0, 4, 10].map(chanceWords)).toEqual(['hardly', '4 in 10', 'as good as sure'])
})
