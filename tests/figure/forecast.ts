/** Scores of forecasts and the small sums around hours. */
import { z } from 'zod'
import {
  brierScore,
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
  updateHours,
  upliftedEstimate,
} from '#lib/forecast'
import { between, type Figure, figure, list, positive, refuse } from './figure.ts'

const amount = (what: string) => between(-1e9, 1e9, what)
const hours = (what: string) => between(0, 1e7, what)
const someHours = (what: string) => positive(1e7, what)
const logSd = (what: string) => between(0, 10, what)
const share = (what: string) => z.number().gt(0).lt(1).describe(what)

export const forecastFigures: readonly Figure[] = [
  figure({
    name: 'score.crpsNormal',
    says: 'Continuous ranked probability score of a normal forecast; a loss in the unit of the value.',
    formula: 'σ·[z·(2Φ(z) − 1) + 2φ(z) − 1/√π], z = (y − μ)/σ; |y − μ| without spread',
    standard: 'Gneiting & Raftery 2007, JASA 102:359-378, eq. 21',
    input: z.strictObject({
      mean: amount('forecast mean'),
      sd: between(0, 1e9, 'its standard deviation'),
      value: amount('what came'),
    }),
    outputs: { crps: 'unit of the value; 0 is perfect' },
    run: ({ value, ...forecast }) => ({ crps: crpsNormal(forecast, value) }),
  }),
  figure({
    name: 'score.crpsLogNormal',
    says: 'The same of a lognormal forecast.',
    formula: 'y·(2Φ(w) − 1) − 2·e^(μ + σ²/2)·[Φ(w − σ) + Φ(σ/√2) − 1], w = (ln y − μ)/σ, μ = ln median',
    standard: 'Baran & Lerch 2015; Jordan, Krüger & Lerch 2019, J. Stat. Softw. 90(12)',
    input: z.strictObject({
      median: positive(1e9, 'forecast median'),
      logSd: logSd('standard deviation of the logarithm'),
      value: amount('what came'),
    }),
    outputs: { crps: 'unit of the value; 0 is perfect' },
    run: ({ value, ...forecast }) => ({ crps: crpsLogNormal(forecast, value) }),
  }),
  figure({
    name: 'score.pinball',
    says: 'Pinball loss of one stated quantile; single, not doubled as some texts print it.',
    formula: 'τ·(y − q) from q on, (1 − τ)·(q − y) below',
    standard: 'Koenker & Bassett 1978, Econometrica 46:33-50',
    input: z.strictObject({
      quantile: amount('stated quantile'),
      tau: share('its probability'),
      value: amount('what came'),
    }),
    outputs: { loss: 'unit of the value; 0 is perfect' },
    run: ({ value, ...stated }) => ({ loss: pinballLoss(stated, value) }),
  }),
  figure({
    name: 'score.brier',
    says: 'Brier score of one stated chance.',
    formula: '(p − o)², o = 1 when it happened',
    standard: 'Brier 1950, Mon. Weather Rev. 78:1-3',
    input: z.strictObject({
      probability: between(0, 1, 'stated chance'),
      happened: z.union([z.boolean(), z.literal(0), z.literal(1)]).describe('true or false, or 1 or 0'),
    }),
    outputs: { score: '0 is perfect, 1 the worst' },
    run: ({ probability, happened }) => ({ score: brierScore(probability, Boolean(happened)) }),
  }),
  figure({
    name: 'pert.step',
    says: 'Mean and deviation of a step from three estimates.',
    formula: 'mean = (low + 4·likely + high)/6; sd = (high − low)/6',
    standard: 'Malcolm, Roseboom, Clark & Fazar 1959 (PERT)',
    input: z
      .strictObject({ low: hours('h'), likely: hours('h'), high: hours('h') })
      .refine(({ low, likely, high }) => low <= likely && likely <= high, 'low ≤ likely ≤ high'),
    outputs: { mean: 'unit of the estimates', sd: 'the same' },
    run: ({ low, likely, high }) => pertStep({ lowH: low, likelyH: likely, highH: high }),
  }),
  figure({
    name: 'pert.path',
    says: 'Steps one after the other.',
    formula: 'means add; sd = √Σ sd² when independent; linkage 1 adds them plainly, between by share of variance',
    standard: 'Malcolm et al. 1959; independence is assumed there, and is seldom true in one lab',
    input: z.strictObject({
      steps: list(z.strictObject({ mean: hours('h'), sd: hours('h') })),
      linkage: between(0, 1, 'share of their errors that steps have in common').optional(),
    }),
    outputs: { mean: 'unit of the steps', sd: 'the same' },
    run: ({ steps, linkage }) => pertPath(steps, linkage),
  }),
  figure({
    name: 'hours.update',
    says: 'Hours of a class of work after some were seen; known scatter.',
    formula:
      'on ln h: precision-weighted mean of prior and seen; variance 1/(1/s₀² + n/σ²); predictive variance = that + σ²; mean = ' +
      'median·e^(s²/2)',
    standard: 'normal-normal model (Johnson, Ott & Dogucu 2022, Bayes Rules!, ch. 5)',
    input: z.strictObject({
      priorMedianH: someHours('believed median, h'),
      priorLogSd: logSd('its uncertainty, sd of the logarithm'),
      logSd: positive(10, 'scatter of single steps, sd of the logarithm'),
      seenH: list(someHours('h of a finished step')),
    }),
    outputs: {
      medianH: 'h, of the class',
      logSd: 'its uncertainty, sd of the logarithm',
      predictive: 'p10, p50, p90 and mean of the next step, h',
    },
    run: (input) => {
      const prior = { median: input.priorMedianH, logSd: input.priorLogSd }
      const { median, predictive } = updateHours(prior, input.logSd, input.seenH)
      return { medianH: median.median, logSd: median.logSd, predictive }
    },
  }),
  figure({
    name: 'hours.spread',
    says: 'A lognormal amount of hours: mean, likeliest, quantiles.',
    formula: 'mean = m·e^(σ²/2); mode = m·e^(−σ²); quantile = m·e^(zσ)',
    standard: 'lognormal identities; z by AS 241 (Wichura 1988)',
    input: z.strictObject({ medianH: someHours('h'), logSd: logSd('sd of the logarithm') }),
    outputs: { meanH: 'h', modeH: 'h', p10H: 'h', p80H: 'h', p90H: 'h' },
    run: (input) => {
      const spread = { median: input.medianH, logSd: input.logSd }
      const at = (probability: number) => quantileOf(spread, probability)
      return { meanH: meanOf(spread), modeH: modeOf(spread), p10H: at(0.1), p80H: at(0.8), p90H: at(0.9) }
    },
  }),
  figure({
    name: 'estimate.uplift',
    says: 'An estimate lifted by what like jobs took against theirs.',
    formula: 'estimate·quantile(actual/estimate), linear between ranks at (n − 1)·p',
    standard: 'reference-class forecasting, Flyvbjerg 2006, Proj. Manag. J. 37(3):5-15',
    input: z.strictObject({
      estimateH: hours('h'),
      ratios: list(positive(1000, 'actual over estimated'), 1),
      quantile: between(0, 1, 'how sure one wants to be'),
    }),
    outputs: { upliftedH: 'h' },
    run: (input) => ({ upliftedH: upliftedEstimate(input.estimateH, input.ratios, input.quantile) }),
  }),
  figure({
    name: 'learning.curve',
    says: 'Hours of the nth piece of a kind.',
    formula: 'T₁·n^(log₂ rate): each doubling takes `rate` of what it took before',
    standard: 'Wright 1936, J. Aeronaut. Sci. 3:122-128',
    input: z.strictObject({
      firstH: someHours('hours of the first, h'),
      rate: positive(1, 'above 0, at most 1'),
      n: z.int().min(1).max(1_000_000).describe('which one'),
    }),
    outputs: { hours: 'h' },
    run: ({ n, ...curve }) => ({ hours: learningHours(curve, n) }),
  }),
  figure({
    name: 'earned.value',
    says: 'Work done against plan and effort; all four in one unit.',
    formula:
      'cost index = EV/AC; schedule index = EV/PV; at end = BAC/cost index; to go = at end − AC; variance = BAC − at end',
    standard: 'usual project-control definitions (ANSI/EIA-748 and its textbooks)',
    input: z.strictObject({
      planned: hours('worth planned by now (PV)'),
      earned: hours('worth done (EV)'),
      actual: hours('what it took (AC)'),
      budget: hours('worth of the whole (BAC)'),
    }),
    outputs: {
      costIndex: 'above 1 is cheaper than planned',
      scheduleIndex: 'above 1 is ahead',
      costVariance: 'EV − AC',
      scheduleVariance: 'EV − PV',
      estimateAtEnd: 'unit of the budget',
      toGo: 'the same',
      variance: 'the same; below 0 when it will take more',
    },
    run: (input) =>
      earnedValue(input) ??
      refuse('Nothing planned, earned or spent yet: there is no index, and so no estimate at the end.'),
  }),
]
