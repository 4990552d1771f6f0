// The fit's equations against regressions whose answers are certified. NIST StRD, linear least squares: Norris (lower
// level of difficulty) and Longley (higher; columns that nearly repeat each other). Data and certified values are written
// down from memory; that they belong together is itself checked, since wrong data would not give certified digits.
import { describe, expect, it } from 'vitest'
import { factor, inverse, solve } from '../../../lib/forecast/cholesky.ts'
import { Equations } from '../../../lib/forecast/equations.ts'

interface Set {
  readonly x: readonly (readonly number[])[]
  readonly y: readonly number[]
  readonly estimates: readonly number[]
  readonly deviations: readonly number[]
  readonly residual: number
}

const norris: Set = {
  x: [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5,
    11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1,
    448.9, 0.5,
  ].map((x) => [x]),
  y: [
    0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
    557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2,
    0.2,
  ],
  estimates: [-0.262323073774029, 1.00211681802045],
  deviations: [0.232818234301152, 0.429796848199937e-3],
  residual: 0.884796396144373,
}

const longley: Set = {
  x: [
    [83.0, 234289, 2356, 1590, 107608, 1947],
    [88.5, 259426, 2325, 1456, 108632, 1948],
    [88.2, 258054, 3682, 1616, 109773, 1949],
    [89.5, 284599, 3351, 1650, 110929, 1950],
    [96.2, 328975, 2099, 3099, 112075, 1951],
    [98.1, 346999, 1932, 3594, 113270, 1952],
    [99.0, 365385, 1870, 3547, 115094, 1953],
    [100.0, 363112, 3578, 3350, 116219, 1954],
    [101.2, 397469, 2904, 3048, 117388, 1955],
    [104.6, 419180, 2822, 2857, 118734, 1956],
    [108.4, 442769, 2936, 2798, 120445, 1957],
    [110.8, 444546, 4681, 2637, 121950, 1958],
    [112.6, 482704, 3813, 2552, 123366, 1959],
    [114.2, 502601, 3931, 2514, 125368, 1960],
    [115.7, 518173, 4806, 2572, 127852, 1961],
    [116.9, 554894, 4007, 2827, 130081, 1962],
  ],
  y: [60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551],
  estimates: [
    -3482258.63459582, 15.0618722713733, -0.35819179292591e-1, -2.02022980381683, -1.03322686717359,
    -0.511041056535807e-1, 1829.15146461355,
  ],
  deviations: [
    890420.383607373, 84.9149257747669, 0.334910077722432e-1, 0.488399681651699, 0.214274163161675, 0.22607320006937,
    455.478499142212,
  ],
  residual: 304.854073561965,
}

/** Least squares by the fit's own equations: columns about their mean and of unit length, as the model's nearly are. */
function regress({ x, y }: Set) {
  const n = y.length
  const k = x[0]?.length ?? 0
  const middle = Array.from({ length: k }, (_, j) => x.reduce((sum, row) => sum + (row[j] ?? 0), 0) / n)
  const length = middle.map((m, j) => Math.sqrt(x.reduce((sum, row) => sum + ((row[j] ?? 0) - m) ** 2, 0)))
  const p = k + 1
  const value = Float64Array.from(
    x.flatMap((row) => [1, ...row.map((v, j) => (v - (middle[j] ?? 0)) / (length[j] ?? 1))]),
  )
  const from = Int32Array.from({ length: n + 1 }, (_, i) => i * p)
  const column = Int32Array.from({ length: n * p }, (_, i) => i % p)
  const equations = new Equations({ n, p, from, column, piece: Int32Array.from([0, n]) })
  const a = new Float64Array(p * p)
  const beta = new Float64Array(p)
  const working = { value, weight: new Float64Array(n).fill(1), target: Float64Array.from(y) }
  // An intercept of the piece that may not move at all.
  equations.gather(0, working, 1e18, a, beta)
  expect(factor(a, p)).toBe(true)
  solve(a, p, beta)
  const s = inverse(a, p)
  const residuals = y.map((target, i) => {
    let fitted = 0
    for (let j = 0; j < p; j++) fitted += (value[i * p + j] ?? 0) * (beta[j] ?? 0)
    return target - fitted
  })
  const residual = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / (n - p))
  const slopes = middle.map((_, j) => (beta[j + 1] ?? 0) / (length[j] ?? 1))
  const first = (beta[0] ?? 0) - slopes.reduce((sum, slope, j) => sum + slope * (middle[j] ?? 0), 0)
  // The intercept's deviation goes through all columns: what is added to it is −Σ mean·slope.
  const back = [1, ...middle.map((m, j) => -m / (length[j] ?? 1))]
  let variance = 0
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) variance += (back[i] ?? 0) * (back[j] ?? 0) * (s[i * p + j] ?? 0)
  const deviations = [
    residual * Math.sqrt(variance),
    ...slopes.map((_, j) => (residual * Math.sqrt(s[(j + 1) * p + j + 1] ?? 0)) / (length[j] ?? 1)),
  ]
  return { estimates: [first, ...slopes], deviations, residual }
}

describe('regression', () => {
  it.each([
    ['Norris', norris],
    ['Longley', longley],
  ])('gives nine certified digits of %s', (_, set) => {
    const got = regress(set)
    const pairs = [
      ...set.estimates.map((wanted, i) => [got.estimates[i] ?? 0, wanted] as const),
      ...set.deviations.map((wanted, i) => [got.deviations[i] ?? 0, wanted] as const),
      [got.residual, set.residual] as const,
    ]
    for (const [value, wanted] of pairs)
      expect(Math.abs(value / wanted - 1), `${value} is ${wanted}`).toBeLessThan(1e-9)
  })

  it('says of a matrix that is not positive definite that it is none', () => {
    expect(factor(Float64Array.from([1, 0, 2, 4]), 2)).toBe(false)
    expect(factor(Float64Array.from([0]), 1)).toBe(false)
  })
})
