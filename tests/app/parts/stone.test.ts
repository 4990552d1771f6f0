// The stone's outline: the same id draws the same stone, true to its measures, with its pattern inside.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { figure, type StoneStage } from '../../../app/_parts/stone/figure.ts'
import { bone, isInside, lump, placed, shard } from '../../../app/_parts/stone/outline.ts'
import { stipple, weave } from '../../../app/_parts/stone/pattern.ts'

const stages: readonly StoneStage[] = ['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed', 'released']
const bounds = (values: readonly number[]) => [Math.min(...values), Math.max(...values)]

test('an id always draws the same stone, stage by stage', () => {
  fc.assert(
    fc.property(fc.string(), fc.constantFrom(...stages), (seed, stage) => {
      expect(figure(seed, stage, 80, 60)).toEqual(figure(seed, stage, 80, 60))
    }),
  )
})

test('every outline fills its box, so a stone drawn 3 m long is 3 m long', () => {
  fc.assert(
    fc.property(fc.string(), fc.double({ min: 5, max: 400, noNaN: true }), (seed, half) => {
      for (const outline of [lump(seed), bone(seed), shard(seed)]) {
        const points = placed(outline, half, half / 2)
        const [left, right] = bounds(points.map(([x]) => x))
        const [top, bottom] = bounds(points.map(([, y]) => y))
        expect(right).toBeCloseTo(half)
        expect(left).toBeCloseTo(-half)
        expect(bottom).toBeCloseTo(half / 2)
        expect(top).toBeCloseTo(-half / 2)
      }
    }),
  )
})

test('two neighbouring ids do not share an outline', () => {
  expect(lump('OB24-017')).not.toEqual(lump('OB24-018'))
})

test('dots and threads stay inside the outline', () => {
  fc.assert(
    fc.property(fc.string(), (seed) => {
      const outline = placed(lump(seed), 60, 40)
      const roomy = placed(lump(seed), 61, 41)
      const { fine, coarse } = stipple(seed, outline, 6)
      const places = [...`${fine}${coarse}${weave(outline, 6)}`.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)]
      expect(places.length).toBeGreaterThan(20)
      for (const [, x, y] of places) expect(isInside(roomy, Number(x), Number(y))).toBe(true)
    }),
    { numRuns: 30 },
  )
})

test('a poster draws no more strokes than a hundred rows would allow', () => {
  const length = (width: number) =>
    figure('OB25-002', 'sealed', width, width * 0.8).reduce((sum, line) => sum + line.path.length, 0)
  expect(length(54)).toBeLessThan(8_000)
  expect(length(320)).toBeLessThan(60_000)
})
