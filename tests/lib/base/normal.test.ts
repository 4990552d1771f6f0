// The normal distribution against printed tables and identities.
import { expect, test } from 'vitest'
import { normalBelow, normalDensity, normalQuantile } from '#lib/base'

test.each([
  // Abramowitz & Stegun 1964, Table 26.1, P(x) to 15 places.
  [0, 0.5],
  [0.5, 0.691462461274013],
  [1, 0.841344746068543],
  [1.5, 0.933192798731142],
  [2, 0.977249868051821],
  [3, 0.99865010196837],
])('P(%d) is %d (Abramowitz & Stegun, Table 26.1)', (z, probability) => {
  expect(Math.abs(normalBelow(z) - probability)).toBeLessThan(1e-15)
  expect(Math.abs(normalBelow(-z) - (1 - probability))).toBeLessThan(1e-15)
})

test.each([
  // Wichura 1988, the check values printed with AS 241.
  [0.25, -0.6744897501960817],
  [0.001, -3.090232306167814],
  [1e-20, -9.262340089798409],
])('the quantile of %d is %d (AS 241)', (probability, z) => {
  expect(Math.abs(normalQuantile(probability) / z - 1)).toBeLessThan(1e-15)
})

test('far tails keep their digits: Q(10) is 7.61985302416e-24 (Abramowitz & Stegun, Table 26.2)', () => {
  expect(Math.abs(normalBelow(-10) / 7.61985302416053e-24 - 1)).toBeLessThan(1e-13)
})

test('quantile and distribution undo each other, and the density is the slope', () => {
  for (let z = -8; z <= 5; z += 0.13) {
    expect(Math.abs(normalQuantile(normalBelow(z)) - z)).toBeLessThan(z < 0 ? 1e-12 : 1e-9)
    const slope = (normalBelow(z + 1e-4) - normalBelow(z - 1e-4)) / 2e-4
    expect(Math.abs(slope - normalDensity(z))).toBeLessThan(1e-8)
  }
  expect([normalQuantile(0), normalQuantile(1)]).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY])
  expect([normalBelow(Number.NEGATIVE_INFINITY), normalBelow(Number.POSITIVE_INFINITY)]).toEqual([0, 1])
})
