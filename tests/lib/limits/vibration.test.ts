// Daily vibration against printed figures of the standard and of the regulator's ready-reckoner.
import { describe, expect, test } from 'vitest'
import { minutesTo, vibrationA8, vibrationDaily, vibrationPoints } from '#lib/limits'

describe('vibration', () => {
  test('A(8) of one tool follows ISO 5349-2:2001 Annex E.2.1: 7.4 m/s² for 2.5 h is 4.1', () => {
    expect(vibrationA8([{ vibrationMs2: 7.4, minutes: 150 }]).a8Ms2).toBeCloseTo(4.1, 1)
  })

  test('A(8) of three tools follows ISO 5349-2:2001 Annex E.3: 2.3, 2.1 and 1.8 make 3.6', () => {
    const { a8Ms2, partialMs2 } = vibrationA8([
      { vibrationMs2: 4.6, minutes: 120 },
      { vibrationMs2: 6.0, minutes: 60 },
      { vibrationMs2: 3.6, minutes: 120 },
    ])
    expect(partialMs2.map((part) => Number(part.toFixed(1)))).toEqual([2.3, 2.1, 1.8])
    expect(Math.abs(a8Ms2 - 3.6)).toBeLessThanOrEqual(0.05)
  })

  test('points follow the HSE ready-reckoner: 5 m/s² for 3 h is 150', () => {
    expect(vibrationPoints([{ vibrationMs2: 5, minutes: 180 }])).toBeCloseTo(150, 9)
  })

  test('points add over tools as in the HSE calculator guide, step 5: 75 points, A(8) 2.2', () => {
    const day = vibrationDaily([
      { vibrationMs2: 2, minutes: 15 },
      { vibrationMs2: 6, minutes: 30 },
      { vibrationMs2: 3.5, minutes: 90 },
    ])
    expect(Math.abs(day.points - 75)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(day.a8Ms2 - 2.2)).toBeLessThanOrEqual(0.05)
  })

  test('points an hour are 2·a² (HSE points formula)', () => {
    const anHour = (vibrationMs2: number) => vibrationPoints([{ vibrationMs2, minutes: 60 }])
    expect([2.5, 3, 4, 5, 7, 10].map(anHour)).toEqual([12.5, 18, 32, 50, 98, 200])
  })

  test.each([
    [3, 0.5, 9],
    [3, 6, 110],
    [3, 8, 145],
    [5, 0.25, 13],
    [5, 10, 500],
    [4, 4, 130],
    [4, 8, 255],
    [10, 2, 400],
    [12, 1, 290],
    [2.5, 8, 100],
  ])('points meet the printed HSE cell %d m/s² × %d h = %d within its rounding', (vibrationMs2, hours, printed) => {
    const points = vibrationPoints([{ vibrationMs2, minutes: hours * 60 }])
    expect(Math.abs(points - printed)).toBeLessThanOrEqual(0.6 + 0.025 * printed)
  })

  test('times to action and limit value follow Directive 2002/44/EC, Article 3(1), with ISO 5349-1 eq. 2', () => {
    expect([2.5, 3, 5, 8].map((a) => Number(((minutesTo(2.5, a) ?? 0) / 60).toFixed(4)))).toEqual([
      8, 5.5556, 2, 0.7813,
    ])
    expect([2.5, 3, 5, 8].map((a) => Number(((minutesTo(5, a) ?? 0) / 60).toFixed(4)))).toEqual([32, 22.2222, 8, 3.125])
  })

  test('a tool that does not shake never reaches a value', () => {
    expect(vibrationDaily([{ vibrationMs2: 0, minutes: 60 }])).toMatchObject({
      minutesToAction: [null],
      minutesToLimit: [null],
      points: 0,
    })
  })
})
