// Batches: what was weighed gives back the strength that was aimed at, and a thinned batch holds what its stock gave.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Convention, convertSolution, makeSolution, strengthAsWeighed, thinSolution } from '#lib/limits'
import { checkValue } from '../../kit/check-values.ts'

const densities = { resin: 1.15, solvent: 0.786 }
const nothing = { resinG: null, solventG: null, solventMl: null, volumeMl: null }
const conventions: readonly Convention[] = ['wv', 'ww', 'per100ml']

test('the published dilution, sol-dilute, by the batch as by the figure', () => {
  const { inputs, expected } = checkValue('solutions', 'sol-dilute')
  const { C1_pct_wv = 0, C2_pct_wv = 0, V2_mL = 0 } = inputs
  expect(thinSolution(C1_pct_wv, C2_pct_wv, 'wv', V2_mL, { resin: null, solvent: null })).toMatchObject({
    stockMl: expected.V1_mL,
    solventMl: expected.solvent_mL,
  })
})

test('one jar as it was weighed is as strong as its conversion says, in each convention', () => {
  // 50 g of resin in 100 ml of acetone, domain figures 38.9 % w/w, 34.9 % w/v, 50 g per 100 ml.
  const jar = { ...nothing, resinG: 50, solventMl: 100 }
  const { wwPct, wvPct, per100mlG } = convertSolution(50, 100, densities.resin, densities.solvent)
  expect(strengthAsWeighed(jar, 'ww', densities)).toBeCloseTo(wwPct, 9)
  expect(strengthAsWeighed(jar, 'wv', densities)).toBeCloseTo(wvPct, 9)
  expect(strengthAsWeighed(jar, 'per100ml', densities)).toBeCloseTo(per100mlG, 9)
  expect(wwPct).toBeCloseTo(38.9, 1)
  // What nobody measured and no density tells is not guessed.
  expect(strengthAsWeighed(jar, 'ww', { resin: 1.15, solvent: null })).toBeNull()
  expect(strengthAsWeighed(jar, 'wv', { resin: null, solvent: 0.786 })).toBeNull()
  expect(strengthAsWeighed({ ...nothing, solventMl: 100 }, 'per100ml', densities)).toBeNull()
})

test('what the recipe weighs has the strength that was asked for', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...conventions),
      fc.constantFrom('volumeMl' as const, 'solventMl' as const, 'solventG' as const),
      fc.double({ min: 0.1, max: 60, noNaN: true }),
      fc.double({ min: 1, max: 5000, noNaN: true }),
      (convention, kind, target, much) => {
        const amount = { kind, [kind]: much } as Parameters<typeof makeSolution>[2]
        const recipe = makeSolution(target, convention, amount, densities)
        if (!('resinG' in recipe)) return
        const { resinG, solventMl, volumeMl } = recipe
        expect(strengthAsWeighed({ ...nothing, resinG, solventMl, volumeMl }, convention, densities)).toBeCloseTo(
          target,
          6,
        )
      },
    ),
  )
})

test('a thinned batch holds the resin of its part of the stock and no other, in its own convention', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...conventions),
      fc.double({ min: 1, max: 60, noNaN: true }),
      fc.double({ min: 0.05, max: 0.95, noNaN: true }),
      fc.double({ min: 10, max: 5000, noNaN: true }),
      (convention, stock, share, wanted) => {
        const target = stock * share
        const { stockMl, stockG, solventMl, solventG } = thinSolution(stock, target, convention, wanted, densities)
        // The resin that comes with the stock, by the definition of the convention.
        const perMl = { wv: stock / 100, ww: 0, per100ml: stock / 100 / (1 + stock / 100 / densities.resin) }
        const perG = { wv: 0, ww: stock / 100, per100ml: stock / 100 / (densities.solvent + stock / 100) }
        const resinG = stockMl === null ? (stockG ?? 0) * perG[convention] : stockMl * perMl[convention]
        if (convention === 'per100ml') expect((stockG ?? 0) * perG.per100ml).toBeCloseTo(resinG, 6)
        const whole = { wv: wanted, ww: (stockG ?? 0) + (solventG ?? 0), per100ml: wanted }[convention]
        expect((100 * resinG) / whole).toBeCloseTo(target, 6)
        expect(solventMl ?? 0).toBeGreaterThan(0)
      },
    ),
  )
})
