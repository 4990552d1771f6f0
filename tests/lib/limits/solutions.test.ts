// Resins, solvents and acids; the source of each figure stands beside it in the data file.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type Amount,
  acidCapacity,
  blendParts,
  type Convention,
  convertSolution,
  diluteSolution,
  GLASS_TRANSITION_C,
  makeSolution,
  rinseHours,
  SOLVENTS,
  USUAL_STRENGTHS,
} from '#lib/limits'
import { checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

const NONE = { resin: null, solvent: null }
/** Paraloid B-72 and acetone, g/ml, as the data has them. */
const B72 = { resin: 1.15, solvent: 0.786 }

describe('solutions', () => {
  test('w/v of a finished volume, sol-wv, and w/w of weighed solvent, sol-ww', () => {
    const wv = checkValue('solutions', 'sol-wv')
    expect(makeSolution(5, 'wv', { kind: 'volumeMl', volumeMl: 500 }, NONE)).toMatchObject({
      resinG: wv.expected.resin_g,
      solventMl: null,
    })
    const ww = checkValue('solutions', 'sol-ww')
    const found = makeSolution(25, 'ww', { kind: 'solventG', solventG: 75 }, NONE)
    expectNear(ww, 'resinG' in found ? found.resinG : null, ww.expected.resin_g)
  })

  test('one jar in three conventions, sol-wv-ww', () => {
    const entry = checkValue('solutions', 'sol-wv-ww')
    const { wwPct, wvPct, per100mlG } = convertSolution(50, 100, B72.resin, B72.solvent)
    const { ww_pct, wv_true_pct, g_per_100mL_solvent } = entry.expected
    expectNear(entry, [wwPct, wvPct, per100mlG], [ww_pct, wv_true_pct, g_per_100mL_solvent])
  })

  test('made by any convention from any amount, a jar converts back to what was asked for', () => {
    const kinds = ['volumeMl', 'solventG', 'solventMl'] as const
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 60, noNaN: true }),
        fc.constantFrom<Convention>('wv', 'ww', 'per100ml'),
        fc.constantFrom(...kinds),
        fc.double({ min: 1, max: 5000, noNaN: true }),
        (target, convention, kind, size) => {
          const amount = { kind, [kind]: size } as Amount
          const made = makeSolution(target, convention, amount, B72)
          if (!('resinG' in made) || made.solventMl === null || made.volumeMl === null) throw new Error('no recipe')
          const back = convertSolution(made.resinG, made.solventMl, B72.resin, B72.solvent)
          const key = ({ wv: 'wvPct', ww: 'wwPct', per100ml: 'per100mlG' } as const)[convention]
          expectWithin(back[key], target, 1e-9, 1e-9)
          expectWithin(made.volumeMl, made.solventMl + made.resinG / B72.resin, 1e-9, 1e-9)
        },
      ),
    )
  })

  test('what the measures given do not tell is asked for, and what cannot be is refused', () => {
    const volume: Amount = { kind: 'volumeMl', volumeMl: 100 }
    const solvent: Amount = { kind: 'solventMl', solventMl: 100 }
    expect(makeSolution(25, 'ww', solvent, NONE)).toEqual({ needs: 'solvent-density' })
    expect(makeSolution(25, 'wv', solvent, NONE)).toEqual({ needs: 'resin-density' })
    expect(makeSolution(25, 'ww', volume, { ...NONE, resin: 1.15 })).toEqual({ needs: 'solvent-density' })
    expect(makeSolution(100, 'ww', volume, B72)).toEqual({ tooStrong: true })
    expect(makeSolution(115, 'wv', volume, B72)).toEqual({ tooStrong: true })
    expect(makeSolution(116, 'wv', solvent, B72)).toEqual({ tooStrong: true })
  })

  test('thinning, sol-dilute and sol-acid-vv; blending, sol-alligation', () => {
    const thin = checkValue('solutions', 'sol-dilute')
    const { stockMl, solventMl } = diluteSolution(20, 5, 500)
    expectNear(thin, [stockMl, solventMl], [thin.expected.V1_mL, thin.expected.solvent_mL])
    const acid = checkValue('solutions', 'sol-acid-vv')
    const bath = diluteSolution(60, 7, 10_000)
    const { stock_L, water_L } = acid.expected
    expectNear(acid, [bath.stockMl / 1000, bath.solventMl / 1000], [stock_L, water_L])
    const blend = checkValue('solutions', 'sol-alligation')
    const { partsHigh, partsLow } = blendParts(50, 5, 20)
    expectNear(blend, [partsHigh, partsLow], [blend.expected.parts_high, blend.expected.parts_low])
  })

  test('acid: capacity, sol-acid-capacity, and rinse, sol-rinse', () => {
    const entry = checkValue('solutions', 'sol-acid-capacity')
    const { limestoneG, carbonDioxideG } = acidCapacity(100)
    expectNear(entry, [limestoneG, carbonDioxideG], [entry.expected.CaCO3_g, entry.expected.CO2_g])
    expect(rinseHours(24)).toBe(checkValue('solutions', 'sol-rinse').expected.rinse_h)
  })

  test('solvents, sol-solvents', () => {
    const rows = Object.entries(SOLVENTS).map(([name, one]) => [name, ...Object.values(one)])
    expect(rows).toEqual(checkValue('solutions', 'sol-solvents').rows)
  })

  test('resins, sol-tg, and what practice reports, sol-usual', () => {
    const resins = Object.entries(GLASS_TRANSITION_C).map(([name, range]) => [name, ...range])
    expect(resins).toEqual(checkValue('solutions', 'sol-tg').rows.map((row) => row.slice(0, 3)))
    const uses = USUAL_STRENGTHS.map((one) => [one.use, one.material, one.solvent, one.lowPct, one.highPct])
    expect(uses).toEqual(checkValue('solutions', 'sol-usual').rows.map((row) => row.slice(0, 5)))
  })
})
