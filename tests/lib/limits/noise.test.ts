// Daily noise by three rules, against printed tables and worked examples.
import { describe, expect, test } from 'vitest'
import { noiseDaily, noiseDose, noiseLevel, noiseReferenceMinutes, noiseTwa } from '#lib/limits'

describe('noise', () => {
  test('OSHA dose and average follow the published walk-through of 29 CFR 1910.95 Appendix A: 112.5 %, 90.85 dBA', () => {
    const day = noiseDaily('osha', [
      { levelDba: 90, minutes: 240 },
      { levelDba: 95, minutes: 120 },
      { levelDba: 85, minutes: 120 },
    ])
    expect(day.dosePercent).toBeCloseTo(112.5, 2)
    expect(Math.abs((day.twaDba ?? 0) - 90.85)).toBeLessThanOrEqual(0.01)
  })

  test.each([
    [8, 90],
    [4, 95],
    [2, 100],
    [1, 105],
    [0.5, 110],
    [0.25, 115],
  ])('OSHA permits %d h at %d dBA (29 CFR 1910.95 Table G-16)', (hours, levelDba) => {
    expect(noiseReferenceMinutes('osha', levelDba)).toBeCloseTo(hours * 60, 9)
  })

  test.each([
    [82.5, 22.6274],
    [93, 5.278],
    [95.5, 3.7321],
  ])('OSHA reference duration at %d dBA is %d h (Appendix A formula)', (levelDba, hours) => {
    expect(Math.abs(noiseReferenceMinutes('osha', levelDba) / 60 - hours)).toBeLessThanOrEqual(0.001)
  })

  test.each([
    [10, 73.4],
    [25, 80.0],
    [50, 85.0],
    [75, 87.9],
    [100, 90.0],
    [200, 95.0],
    [500, 101.6],
  ])('OSHA dose %d %% is %d dBA (29 CFR 1910.95 Appendix A Table A-1)', (dose, twa) => {
    expect(Math.abs((noiseTwa('osha', dose) ?? 0) - twa)).toBeLessThanOrEqual(0.051)
  })

  test('OSHA does not integrate below 80 dBA (29 CFR 1910.95(d)(2)(i))', () => {
    expect(noiseDose('osha', [{ levelDba: 79.9, minutes: 480 }])).toBe(0)
    expect(noiseDose('osha', [{ levelDba: 80, minutes: 480 }])).toBeCloseTo(25, 9)
  })

  test.each([
    [80, 1524],
    [85, 480],
    [88, 240],
    [91, 120],
    [94, 60],
    [100, 15],
  ])('NIOSH permits %d dBA for %d min (NIOSH 98-126 Table 1-1)', (levelDba, minutes) => {
    expect(Math.round(noiseReferenceMinutes('niosh', levelDba))).toBe(minutes)
  })

  test.each([
    [80, 8],
    [83, 4],
    [86, 2],
    [89, 1],
    [92, 0.5],
  ])('equal energy: %d dB(A) for %d h is 80 dB(A) over 8 h (HSE guidance list)', (levelDba, hours) => {
    expect(Math.abs((noiseLevel([{ levelDba, minutes: hours * 60 }]) ?? 0) - 80)).toBeLessThanOrEqual(0.06)
  })

  test('the task levels of ISO 9612:2009 Annex D add up to 84.3 dB(A)', () => {
    const day = noiseLevel([
      { levelDba: 70, minutes: 90 },
      { levelDba: 80.8, minutes: 300 },
      { levelDba: 90.1, minutes: 90 },
    ])
    expect(Math.abs((day ?? 0) - 84.3)).toBeLessThanOrEqual(0.07)
  })

  test.each([
    [95, 1000],
    [92, 500],
    [90, 315],
    [88, 200],
    [85, 100],
    [82, 50],
  ])('a day at %d dB(A) is %d HSE points (noise ready-reckoner 2020)', (levelDba, points) => {
    const dose = noiseDose('eu', [{ levelDba, minutes: 480 }])
    expect(Math.abs(dose - points)).toBeLessThanOrEqual(0.6 + 0.03 * points)
  })

  test('no noise has no level, which is not zero decibels', () => {
    expect(noiseDaily('niosh', [])).toEqual({ levelDba: null, dosePercent: 0, twaDba: null })
  })
})
