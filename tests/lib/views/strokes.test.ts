// Lines drawn by hand: fewer points, the same line.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fewerPoints } from '#lib/views'
import { STROKE_POINTS_MAX, STROKE_SPAN, type StrokePoint } from '#lib/words'

const along = fc.integer({ min: 0, max: STROKE_SPAN })
const line = fc.array(fc.tuple(along, along), { minLength: 1, maxLength: 1500 })

const off = ([x, y]: StrokePoint, [ax, ay]: StrokePoint, [bx, by]: StrokePoint) => {
  // By trying many places along the stretch: another way than the code's.
  let least = Number.POSITIVE_INFINITY
  for (let t = 0; t <= 200; t++)
    least = Math.min(least, Math.hypot(x - ax - ((bx - ax) * t) / 200, y - ay - ((by - ay) * t) / 200))
  return least
}

test('ends stay, points are some of those drawn, and never too many', () => {
  fc.assert(
    fc.property(line, (points) => {
      const fewer = fewerPoints(points)
      expect(fewer.length).toBeGreaterThanOrEqual(2)
      expect(fewer.length).toBeLessThanOrEqual(STROKE_POINTS_MAX)
      expect([fewer[0], fewer.at(-1)]).toEqual([points[0], points.at(-1)])
      for (const point of fewer) expect(points).toContainEqual(point)
    }),
    { numRuns: 60, seed: 20260312 },
  )
})

test('what is left out lies within a pen’s width of what stays', () => {
  // A slow hand: a wave with many points.
  const wave = Array.from({ length: 900 }, (_, n): StrokePoint => [n * 11, Math.round(5000 + 3000 * Math.sin(n / 60))])
  const fewer = fewerPoints(wave)
  expect(fewer.length).toBeLessThan(120)
  for (const point of wave) {
    const near = Math.min(...fewer.slice(1).map((to, n) => off(point, fewer[n] ?? to, to)))
    expect(near).toBeLessThan(14)
  }
  expect(fewerPoints([[5, 5]])).toEqual([
    [5, 5],
    [5, 5],
  ])
  expect(fewerPoints([])).toEqual([])
})
