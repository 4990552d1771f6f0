// The forecast's formulas against printed figures; sources stand beside each figure in the data file.
import { describe, expect, it } from 'vitest'
import { chanceBelow, meanOf, pertPath, pertStep, quantileOf, spreadOf } from '#lib/forecast'
import { normalBelow, normalQuantile } from '../../../lib/forecast/spread.ts'
import figures from '../../data/forecasting.json' with { type: 'json' }

const figure = (id: string) => {
  const found = figures.find((entry) => entry.id === id)
  if (!found) throw new Error(`no figure ${id}`)
  // Each entry has its own inputs and outputs, all numbers or lists of numbers.
  return found as unknown as { inputs: Record<string, never>; expected: Record<string, number>; source: string }
}
const within = (got: number, wanted: number | undefined, by: number) =>
  expect(Math.abs(got - (wanted ?? Number.NaN)), `${got} is ${wanted}`).toBeLessThanOrEqual(by)

describe('PERT', () => {
  it.each([
    ['fc-pert-1', 0.005],
    ['fc-pert-2', 1e-9],
  ])('gives mean and standard deviation of one step, %s', (id, by) => {
    const { inputs, expected } = figure(id)
    const { a, m, b } = inputs as unknown as { a: number; m: number; b: number }
    const { mean, sd } = pertStep({ lowH: a, likelyH: m, highH: b })
    within(mean, expected.E, by)
    within(sd, expected.sigma, by)
  })

  it('adds a path of four independent steps, fc-pert-path', () => {
    const { inputs, expected } = figure('fc-pert-path')
    const { E, sigma } = inputs as unknown as { E: number[]; sigma: number[] }
    const { mean, sd } = pertPath(E.map((value, i) => ({ mean: value, sd: sigma[i] ?? 0 })))
    within(mean, expected.E, 0.006)
    within(sd, expected.sigma, 0.006)
  })

  it('adds deviations plainly when all steps err together', () => {
    expect(
      pertPath(
        [
          { mean: 1, sd: 3 },
          { mean: 1, sd: 4 },
        ],
        1,
      ),
    ).toEqual({ mean: 2, sd: 7 })
    expect(
      pertPath([
        { mean: 1, sd: 3 },
        { mean: 1, sd: 4 },
      ]),
    ).toEqual({ mean: 2, sd: 5 })
    expect(pertPath([])).toEqual({ mean: 0, sd: 0 })
  })
})

describe('lognormal', () => {
  it('has the mean and upper quantiles of a median of 40 h, fc-lognormal', () => {
    const { expected } = figure('fc-lognormal')
    const spread = { median: 40, logSd: 0.6 }
    within(meanOf(spread), expected.mean_h, 0.01)
    within(quantileOf(spread, 0.8), expected.p80_h, 0.01)
    within(quantileOf(spread, 0.9), expected.p90_h, 0.01)
  })

  it('comes back from mean and deviation, and from quantile and chance', () => {
    const spread = spreadOf(20, 9)
    within(meanOf(spread), 20, 1e-9)
    for (const p of [0.01, 0.1, 0.5, 0.77, 0.99]) within(chanceBelow(spread, quantileOf(spread, p)), p, 1e-6)
  })

  it('is a step when nothing is uncertain, and nothing below zero', () => {
    const certain = { median: 5, logSd: 0 }
    expect([chanceBelow(certain, 4.9), chanceBelow(certain, 5)]).toEqual([0, 1])
    expect(chanceBelow({ median: 5, logSd: 1 }, 0)).toBe(0)
    expect(chanceBelow({ median: 5, logSd: 1 }, -3)).toBe(0)
  })

  it('knows the normal table: 1.2816 at 90 in a hundred, 2.3263 at 99', () => {
    within(normalQuantile(0.9), 1.2816, 0.0002)
    within(normalQuantile(0.99), 2.3263, 0.0005)
    within(normalBelow(-1.96), 0.025, 0.0001)
  })
})
