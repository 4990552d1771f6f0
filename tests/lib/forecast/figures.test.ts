// The forecast's formulas against printed figures; the source of each stands beside it in the data file.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  brierScore,
  chanceBelow,
  crpsLogNormal,
  crpsNormal,
  earnedValue,
  learningHours,
  meanOf,
  modeOf,
  pertPath,
  pertStep,
  pinballLoss,
  quantileOf,
  spreadOf,
  updateHours,
  upliftedEstimate,
} from '#lib/forecast'
import { checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

describe('PERT', () => {
  it.each(['fc-pert-1', 'fc-pert-2'])('gives mean and standard deviation of one step, %s', (id) => {
    const entry = checkValue<{ a: number; m: number; b: number }>('forecasting', id)
    const { a, m, b } = entry.inputs
    const { mean, sd } = pertStep({ lowH: a, likelyH: m, highH: b })
    expectNear(entry, [mean, sd], [entry.expected.E, entry.expected.sigma])
  })

  it('adds a path of four independent steps, fc-pert-path', () => {
    const entry = checkValue<{ E: number[]; sigma: number[] }>('forecasting', 'fc-pert-path')
    const { E, sigma } = entry.inputs
    const { mean, sd } = pertPath(E.map((value, i) => ({ mean: value, sd: sigma[i] ?? 0 })))
    expectNear(entry, [mean, sd], [entry.expected.E, entry.expected.sigma])
  })

  it('adds deviations plainly when all steps err together', () => {
    const steps = [
      { mean: 1, sd: 3 },
      { mean: 1, sd: 4 },
    ]
    expect(pertPath(steps, 1)).toEqual({ mean: 2, sd: 7 })
    expect(pertPath(steps)).toEqual({ mean: 2, sd: 5 })
    expect(pertPath([])).toEqual({ mean: 0, sd: 0 })
  })
})

describe('lognormal', () => {
  it('has the mean, mode and upper quantiles of a median of 40 h, fc-lognormal', () => {
    const entry = checkValue('forecasting', 'fc-lognormal')
    const spread = { median: 40, logSd: 0.6 }
    const { mean_h, mode_h, p80_h, p90_h } = entry.expected
    const got = [meanOf(spread), modeOf(spread), quantileOf(spread, 0.8), quantileOf(spread, 0.9)]
    expectNear(entry, got, [mean_h, mode_h, p80_h, p90_h])
  })

  it('comes back from mean and deviation, and from quantile and chance', () => {
    expectWithin(meanOf(spreadOf(20, 9)), 20, 1e-9)
    const spread = spreadOf(20, 9)
    for (const p of [0.01, 0.1, 0.5, 0.77, 0.99]) expectWithin(chanceBelow(spread, quantileOf(spread, p)), p, 1e-12)
  })

  it('is a step when nothing is uncertain, and nothing below zero', () => {
    const certain = { median: 5, logSd: 0 }
    expect([chanceBelow(certain, 4.9), chanceBelow(certain, 5)]).toEqual([0, 1])
    expect(chanceBelow({ median: 5, logSd: 1 }, 0)).toBe(0)
    expect(chanceBelow({ median: 5, logSd: 1 }, -3)).toBe(0)
  })
})

describe('scores', () => {
  it('CRPS of a normal forecast meets the printed cases, fc-crps-normal and fc-crps-std', () => {
    const entry = checkValue<{ cases: [number, number, number][] }, { CRPS: number[] }>('forecasting', 'fc-crps-normal')
    const got = entry.inputs.cases.map(([value, mean, sd]) => crpsNormal({ mean, sd }, value))
    expectNear(entry, got, entry.expected.CRPS)
    const standard = checkValue('forecasting', 'fc-crps-std')
    expectNear(standard, crpsNormal({ mean: 0, sd: 1 }, 0), standard.expected.CRPS)
    expectWithin(crpsNormal({ mean: 0, sd: 1 }, 0), (Math.SQRT2 - 1) / Math.sqrt(Math.PI), 1e-15)
  })

  it('CRPS of a lognormal forecast meets the value found by integration, fc-crps-lognormal', () => {
    const entry = checkValue('forecasting', 'fc-crps-lognormal')
    expectNear(entry, crpsLogNormal({ median: 40, logSd: 0.6 }, 60), entry.expected.CRPS)
  })

  it('CRPS is what its definition says, ∫(F(x) − 1{x ≥ y})² dx, wherever the value lies', () => {
    const spread = { median: 12, logSd: 0.8 }
    for (const value of [-3, 0, 0.5, 12, 40, 300]) {
      // Midpoints over a span beyond which nothing is left.
      const [low, high, count] = [-5, 2000, 400_000]
      const wide = (high - low) / count
      let sum = 0
      for (let i = 0; i < count; i++) {
        const x = low + (i + 0.5) * wide
        sum += (chanceBelow(spread, x) - Number(x >= value)) ** 2 * wide
      }
      expectWithin(crpsLogNormal(spread, value), sum, 0.005, 0, `at ${value}`)
    }
  })

  it('a forecast without spread is scored by its distance', () => {
    expect(crpsNormal({ mean: 5, sd: 0 }, 8)).toBe(3)
    expect(crpsLogNormal({ median: 5, logSd: 0 }, 3)).toBe(2)
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 500, noNaN: true }), (value) => {
        expectWithin(crpsNormal({ mean: 50, sd: 1e-9 }, value), Math.abs(value - 50), 1e-8)
        expectWithin(crpsLogNormal({ median: 50, logSd: 1e-9 }, value), Math.abs(value - 50), 1e-6)
      }),
    )
  })

  it('pinball loss is single, not doubled, fc-pinball', () => {
    const entry = checkValue<{ y_q_tau: [number, number, number][] }, { loss: number[] }>('forecasting', 'fc-pinball')
    const got = entry.inputs.y_q_tau.map(([value, quantile, tau]) => pinballLoss({ quantile, tau }, value))
    expectNear(entry, got, entry.expected.loss)
  })

  it('CRPS is twice the pinball loss meant over all quantiles (Gneiting & Ranjan 2011)', () => {
    const spread = { median: 40, logSd: 0.6 }
    const count = 20_000
    let sum = 0
    for (let i = 0; i < count; i++) {
      const tau = (i + 0.5) / count
      sum += (2 * pinballLoss({ quantile: quantileOf(spread, tau), tau }, 60)) / count
    }
    expectWithin(crpsLogNormal(spread, 60), sum, 0.01)
  })

  it('Brier score, fc-brier', () => {
    const entry = checkValue<{ p_o: [number, number][] }, { BS: number[] }>('forecasting', 'fc-brier')
    const got = entry.inputs.p_o.map(([probability, happened]) => brierScore(probability, happened === 1))
    expectNear(entry, got, entry.expected.BS)
  })
})

describe('hours', () => {
  it('are updated as in the printed example of known scatter, fc-normal-normal', () => {
    const entry = checkValue('forecasting', 'fc-normal-normal')
    const { prior_mean = 0, prior_sd = 0, sigma = 0, n = 0, ybar = 0 } = entry.inputs
    const seen = Array.from({ length: n }, () => Math.exp(ybar))
    const { median } = updateHours({ median: Math.exp(prior_mean), logSd: prior_sd }, sigma, seen)
    const got = [Math.log(median.median), median.logSd ** 2, median.logSd]
    expectNear(entry, got, [entry.expected.post_mean, entry.expected.post_var, entry.expected.post_sd])
  })

  it('predict the next step with both uncertainties, fc-loghours', () => {
    const entry = checkValue('forecasting', 'fc-loghours')
    const { median, predictive } = updateHours({ median: 40, logSd: 0.8 }, 0.6, [60, 90])
    const got = [Math.log(median.median), median.logSd, ...Object.values(predictive)]
    const { post_mean_ln, post_sd_ln, predictive_p10_h, predictive_p90_h, predictive_mean_h } = entry.expected
    const p50 = entry.expected.predictive_median_h
    expectNear(entry, got, [post_mean_ln, post_sd_ln, predictive_p10_h, p50, predictive_p90_h, predictive_mean_h])
  })

  it('stand as believed when nothing was seen', () => {
    const { median } = updateHours({ median: 40, logSd: 0.8 }, 0.6, [])
    expectWithin([median.median, median.logSd], [40, 0.8], 1e-12)
  })

  it('fall with practice by Wright’s curve, fc-learning', () => {
    const entry = checkValue<{ n: number[] }, { T_h: number[] }>('forecasting', 'fc-learning')
    const got = entry.inputs.n.map((n) => learningHours({ firstH: 10, rate: 0.8 }, n))
    expectNear(entry, got, entry.expected.T_h)
  })

  it('are lifted by what like jobs took, fc-refclass', () => {
    type Inputs = { ratios_sorted: number[]; estimate_h: number; quantiles: number[] }
    const entry = checkValue<Inputs, { uplifted_h: number[] }>('forecasting', 'fc-refclass')
    const { ratios_sorted, estimate_h, quantiles } = entry.inputs
    const ratios = ratios_sorted.toReversed()
    expectNear(
      entry,
      quantiles.map((p) => upliftedEstimate(estimate_h, ratios, p)),
      entry.expected.uplifted_h,
    )
    expect([upliftedEstimate(10, [2, 1], 0), upliftedEstimate(10, [2, 1], 1)]).toEqual([10, 20])
  })

  it('have the usual earned-value figures, fc-evm-fence; none without a start', () => {
    const entry = checkValue('forecasting', 'fc-evm-fence')
    const got = earnedValue({ planned: 3000, earned: 2500, actual: 2800, budget: 4000 })
    const keys = {
      CV: 'costVariance',
      SV: 'scheduleVariance',
      CPI: 'costIndex',
      SPI: 'scheduleIndex',
      EAC: 'estimateAtEnd',
      ETC: 'toGo',
      VAC: 'variance',
    } as const
    for (const [name, key] of Object.entries(keys)) expectNear(entry, got?.[key], entry.expected[name], name)
    expect(earnedValue({ planned: 10, earned: 0, actual: 5, budget: 100 })).toBeNull()
  })
})
