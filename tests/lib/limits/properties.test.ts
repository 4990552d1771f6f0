// What always holds of exposures, whatever the day: work added never lowers them, order does not matter, and a unit
// never passes for another one.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  airMixture,
  airSilica,
  airTwa,
  fullTimeEquivalent,
  jacketMass,
  minutesTo,
  noiseDaily,
  noiseWeek,
  vibrationDaily,
} from '#lib/limits'
import type { Hours, KgM3, Minutes, Ms2, Ppm, UgM3 } from '../../../lib/limits/units.ts'
import { checkIds, checkValue, expectNear, expectWithin } from '../../kit/check-values.ts'

const within = (most: number) => fc.double({ min: 0, max: most, noNaN: true })
const minutes = within(1440)
const tool = fc.record({ vibrationMs2: within(100), minutes })
const period = fc.record({ levelDba: within(140), minutes })
const sample = fc.record({ ugM3: within(1e6), minutes })
const vapour = fc.record({ ppm: within(1e5), minutes })
const substance = fc.record({ ppm: within(1e5), limitPpm: fc.double({ min: 0.1, max: 1e4, noNaN: true }) })
const rule = fc.constantFrom('eu' as const, 'niosh' as const, 'osha' as const)
const LIMITS = { limitUgM3: 50, actionUgM3: 25 }

/** The figures of a day, as numbers to compare; no noise at all is less than any. */
const level = (value: number | null) => value ?? Number.NEGATIVE_INFINITY
const days = {
  vibration: [
    tool,
    (items: readonly { vibrationMs2: number; minutes: number }[]) => {
      const { a8Ms2, points } = vibrationDaily(items)
      return [a8Ms2, points]
    },
  ],
  silica: [
    sample,
    (items: readonly { ugM3: number; minutes: number }[]) => {
      const { twaUgM3, atOrAboveAction, aboveLimit } = airSilica(items, LIMITS)
      return [twaUgM3, Number(atOrAboveAction), Number(aboveLimit)]
    },
  ],
  vapour: [vapour, (items: readonly { ppm: number; minutes: number }[]) => [airTwa(items, 100).ratio]],
  mixture: [substance, (items: readonly { ppm: number; limitPpm: number }[]) => [airMixture(items).ratio]],
  week: [within(140), (items: readonly number[]) => [level(noiseWeek(items).levelDba), noiseWeek(items).points]],
} as const

const neverLess = (after: readonly number[], before: readonly number[]) =>
  after.forEach((value, i) => {
    const was = before[i] ?? Number.NaN
    expect(value >= was - 1e-9 * Math.abs(was) || value === was, `${value} after ${was}`).toBe(true)
  })
const same = (a: readonly number[], b: readonly number[]) =>
  a.forEach((value, i) => {
    if (value !== b[i]) expectWithin(value, b[i], 1e-9, 1e-12)
  })

describe('exposure', () => {
  for (const [name, [item, figures]] of Object.entries(days)) {
    // Each pair was made of one kind; the union of them is what Object.entries is left with.
    const of = figures as (items: readonly unknown[]) => number[]
    test(`of ${name} never falls when work is added, and does not depend on its order`, () => {
      fc.assert(
        fc.property(
          fc.array(item as fc.Arbitrary<unknown>, { maxLength: 12 }),
          item as fc.Arbitrary<unknown>,
          (items, more) => {
            neverLess(of([...items, more]), of(items))
            same(of(items.toReversed()), of(items))
          },
        ),
      )
    })
  }

  test('of noise never falls when work is added, by any rule, and does not depend on its order', () => {
    fc.assert(
      fc.property(rule, fc.array(period, { maxLength: 12 }), period, (by, periods, more) => {
        const of = (items: readonly { levelDba: number; minutes: number }[]) => {
          const { levelDba, dosePercent, twaDba } = noiseDaily(by, items)
          return [level(levelDba), dosePercent, level(twaDba)]
        }
        neverLess(of([...periods, more]), of(periods))
        same(of(periods.toReversed()), of(periods))
      }),
    )
  })

  test('of a tool reaches a value after just the minutes told', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 100, noNaN: true }), (vibrationMs2) => {
        const at = minutesTo(2.5, vibrationMs2) ?? Number.NaN
        expectWithin(vibrationDaily([{ vibrationMs2, minutes: at }]).a8Ms2, 2.5, 1e-12)
      }),
    )
  })
})

test('units cannot be mixed: what follows does not compile without its marks', () => {
  const [hours, shaking, vapours, dust]: [Hours, Ms2, Ppm, UgM3] = [2, 3, 40, 20]
  const minute: Minutes = 120
  const rock: KgM3 = 2350
  const made = [
    // @ts-expect-error hours are not minutes
    vibrationDaily([{ vibrationMs2: shaking, minutes: hours }]),
    // @ts-expect-error minutes are not m/s²
    vibrationDaily([{ vibrationMs2: minute, minutes: minute }]),
    // @ts-expect-error µg/m³ are not ppm
    airTwa([{ ppm: dust, minutes: minute }], 100),
    // @ts-expect-error ppm are not µg/m³
    airSilica([{ ugM3: vapours, minutes: minute }], LIMITS),
    // @ts-expect-error minutes are not hours
    fullTimeEquivalent(minute, 1),
    // @ts-expect-error hours are not metres
    jacketMass({ lengthM: hours, widthM: 1, heightM: 1 }, { low: rock, high: rock }),
    vibrationDaily([{ vibrationMs2: shaking, minutes: minute }]),
  ]
  expect(made).toHaveLength(7)
})

test('volunteer hours as posts, fc-fte', () => {
  const entry = checkValue('forecasting', 'fc-fte')
  expectNear(entry, fullTimeEquivalent(entry.inputs.hours ?? 0, 1), entry.expected.FTE)
})

test('every published figure is run through a formula or compared with a table', () => {
  // A rule of thumb of one centre: a wide prior at the most, and nothing to compute.
  const left = ['fc-field-to-lab']
  const folder = join(import.meta.dirname, '..')
  const tests = ['vibration', 'noise', 'air', 'lifting', 'mass', 'solutions', 'properties'].map(
    (one) => `limits/${one}`,
  )
  const text = [...tests, 'forecast/figures']
    .map((one) => readFileSync(join(folder, `${one}.test.ts`), 'utf8'))
    .join('\n')
  const topics = ['vibration', 'noise', 'silica-solvent', 'lifting', 'density', 'solutions', 'forecasting'] as const
  const missing = topics
    .flatMap((topic) => checkIds(topic))
    .filter((id) => !left.includes(id) && !text.includes(`'${id}'`))
  expect(missing).toEqual([])
})
