// Masses and volumes; the source of each figure stands beside it in the data file.
import { expect, test } from 'vitest'
import { ellipsoidArea, jacketMass, plasterDrying, plasterWater, porousDensity, ROCK_DENSITY } from '#lib/limits'
import { checkValue, expectNear } from '../../kit/check-values.ts'

const SIZE = { lengthM: 1, widthM: 0.6, heightM: 0.4 }
const BALL = { lengthM: 0.6, widthM: 0.6, heightM: 0.6 }

test('ellipsoid and box bracket a jacket, dens-ellipsoid; a range of densities widens it, dens-range-propagation', () => {
  const entry = checkValue('density', 'dens-ellipsoid')
  const one = jacketMass(SIZE, { low: 2350, high: 2350 })
  expectNear(entry, one.lowKg, entry.expected.mass_ellipsoid_kg, 'mass_ellipsoid_kg')
  expectNear(entry, one.highKg, entry.expected.mass_box_kg, 'mass_box_kg')
  expectNear(entry, one.lowKg / 2350, entry.expected.V_ellipsoid_m3, 'V_ellipsoid_m3')
  expectNear(entry, one.highKg / 2350, entry.expected.V_box_m3, 'V_box_m3')
  expect(one.shellKg).toBe(0)
  const range = checkValue('density', 'dens-range-propagation')
  const { lowKgM3, highKgM3 } = ROCK_DENSITY.sandstone
  const [low, high] = [lowKgM3, highKgM3].map((ρ) => jacketMass(SIZE, { low: ρ, high: ρ }).lowKg)
  expectNear(range, [low, high], [range.expected.mass_min_kg, range.expected.mass_max_kg])
})

test('the shell: area of a sphere, dens-ellipsoid-area, and its plaster, dens-shell', () => {
  const area = checkValue('density', 'dens-ellipsoid-area')
  expectNear(area, ellipsoidArea(BALL), area.expected.S_m2)
  const shell = checkValue('density', 'dens-shell')
  expectNear(shell, jacketMass(BALL, undefined, 15).shellKg, shell.expected.mass_kg)
})

test('rock: Telford’s table, dens-telford, and pores, dens-porosity', () => {
  const rows = Object.entries(ROCK_DENSITY).map(([name, { lowKgM3, highKgM3, meanKgM3 }]) => [
    name,
    lowKgM3 / 1000,
    highKgM3 / 1000,
    meanKgM3 / 1000,
  ])
  expect(rows).toEqual(checkValue('density', 'dens-telford').rows)
  const entry = checkValue('density', 'dens-porosity')
  const got = [0, 1000].map((fluid) => porousDensity(0.2, 2650, fluid) / 1000)
  expectNear(entry, got, [entry.expected.dry, entry.expected.saturated])
})

test('what jackets are made of lies between the other published ranges, dens-range and dens-san-diego', () => {
  const { sandstone, shale } = ROCK_DENSITY
  const weak = checkValue('density', 'dens-san-diego').expected
  expect(sandstone.lowKgM3).toBeLessThanOrEqual((weak.min ?? 0) * 1000)
  expect(sandstone.highKgM3).toBeGreaterThanOrEqual((weak.max ?? 0) * 1000)
  const ranges = new Map(
    checkValue('density', 'dens-range').rows.map(([name, low, high]) => [String(name), { low, high }]),
  )
  for (const [name, rock] of Object.entries({ sandstone, shale })) {
    const printed = ranges.get(name)
    expect(rock.meanKgM3).toBeGreaterThanOrEqual((printed?.low ?? 0) * 1000)
    expect(rock.meanKgM3).toBeLessThanOrEqual((printed?.high ?? 0) * 1000)
  }
})

test('plaster: wet and dry, dens-plaster; water, dens-plaster-mix; drying, dens-plaster-drying', () => {
  const density = checkValue('density', 'dens-plaster')
  const litre = plasterDrying(1)
  expectNear(
    density,
    [litre.wetKg * 1000, litre.dryKg * 1000],
    [density.expected.wet_kg_m3, density.expected.dry_kg_m3],
  )
  const mix = checkValue('density', 'dens-plaster-mix')
  expectNear(mix, plasterWater(5, 70), mix.expected.water_lb)
  const drying = checkValue('density', 'dens-plaster-drying')
  const { wetKg, dryKg, lossKg } = plasterDrying(10)
  const { wet_kg, dry_kg, loss_kg } = drying.expected
  expectNear(drying, [wetKg, dryKg, lossKg], [wet_kg, dry_kg, loss_kg])
})
