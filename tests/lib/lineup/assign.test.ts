/** Published assignment instances with best known values (OR-Library; source in tests/data/gap/README.md). */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { seededRandom } from '#lib/base'
import { appraiseAssign, parseAssign, solveAssign } from '#lib/lineup'
import { readKnown } from '../../solve/known.ts'

const folder = join(import.meta.dirname, '../../data/gap')
const STEPS = 4_000_000
/** How far from the best known value each may be after so few steps, %; what is not here must reach it. */
const FLOOR_PCT: Readonly<Record<string, number>> = {
  c10100: 0.3,
  c20100: 0.5,
  d10100: 0.8,
  d10200: 0.5,
  d20100: 1.6,
  e10100: 0.5,
}

for (const known of readKnown(join(folder, 'known.csv'))) {
  const floor = FLOOR_PCT[known.instance] ?? 0
  test(`${known.instance} comes within ${floor} % of ${known.best} in ${STEPS} steps`, { timeout: 300_000 }, () => {
    const problem = parseAssign(readFileSync(join(folder, `${known.instance}.txt`), 'utf8'), known.sense)
    const answer = solveAssign(problem, { seed: 1, steps: STEPS, rounds: 60 })
    const off = Math.abs((answer.objective ?? Number.NaN) - known.best) / known.best
    expect(100 * off, `got ${answer.objective}`).toBeLessThanOrEqual(floor)
    expect(appraiseAssign(problem, answer.machine ?? [])).toBe(answer.objective)
    if (known.sense === 'min') expect(answer.bound).toBeLessThanOrEqual(known.best)
    else expect(answer.bound).toBeGreaterThanOrEqual(known.best)
  })
}

test('equal seeds and steps give equal answers, and a cancelled search keeps what it has', () => {
  const problem = parseAssign(readFileSync(join(folder, 'e10100.txt'), 'utf8'), 'min')
  const options = { seed: 5, steps: 300_000, rounds: 10 }
  expect(solveAssign(problem, options)).toEqual(solveAssign(problem, options))
  let looks = 0
  const cut = solveAssign(problem, { ...options, isCancelled: () => ++looks > 5 })
  expect(looks).toBe(6)
  expect(cut.objective).toBe(appraiseAssign(problem, cut.machine ?? []))
})

test('small instances are solved to the optimum that trying everything finds, or shown to have no answer', () => {
  const random = seededRandom(20261126)
  const found = { solved: 0, none: 0 }
  for (let round = 0; round < 120; round++) {
    const [machines, jobs] = [1 + random.below(3), 1 + random.below(6)]
    const table = (length: number, least: number, span: number) =>
      Int32Array.from({ length }, () => least + random.below(span))
    const problem = {
      sense: random.below(2) === 0 ? ('min' as const) : ('max' as const),
      machines,
      jobs,
      cost: table(machines * jobs, -5, 30),
      use: table(machines * jobs, 1, 9),
      capacity: table(machines, 4, 14),
    }
    const values = allAssignments(machines, jobs).flatMap((machine) => appraiseAssign(problem, machine) ?? [])
    const optimum = values.length === 0 ? null : problem.sense === 'min' ? Math.min(...values) : Math.max(...values)
    const answer = solveAssign(problem, { seed: round, steps: 300_000, rounds: 30 })
    expect(answer.objective, JSON.stringify(problem)).toBe(optimum)
    if (optimum === null) found.none++
    else {
      found.solved++
      expect(problem.sense === 'min' ? answer.bound <= optimum : answer.bound >= optimum).toBe(true)
    }
  }
  expect(Math.min(found.solved, found.none)).toBeGreaterThan(10)
})

function allAssignments(machines: number, jobs: number): number[][] {
  return Array.from({ length: machines ** jobs }, (_, code) =>
    Array.from({ length: jobs }, (_, j) => Math.floor(code / machines ** j) % machines),
  )
}

test('a text that is not an instance is refused with what was expected', () => {
  expect(() => parseAssign('2 2 1 2', 'min')).toThrow('expected 12 numbers')
  expect(() => parseAssign('a b', 'min')).toThrow('whole numbers')
})
