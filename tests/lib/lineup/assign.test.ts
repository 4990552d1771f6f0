/** Published assignment instances with proven optima (OR-Library; source in tests/data/gap/README.md). */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { appraiseAssign, parseAssign, solveAssign } from '#lib/lineup'
import { readKnown } from '../../solve/known.ts'

const folder = join(import.meta.dirname, '../../data/gap')
const SMALL = ['c0515_1', 'c0832_1', 'c1060_1', 'b10100']

for (const known of readKnown(join(folder, 'known.csv')).filter((row) => SMALL.includes(row.instance))) {
  test(`${known.instance} reaches its proven optimum ${known.best}`, { timeout: 300_000 }, () => {
    const problem = parseAssign(readFileSync(join(folder, `${known.instance}.txt`), 'utf8'), known.sense)
    const answer = solveAssign(problem, { seed: 1, steps: 1_000_000 })
    expect(answer.objective).toBe(known.best)
    expect(appraiseAssign(problem, answer.machine ?? [])).toBe(known.best)
    if (known.sense === 'min') expect(answer.bound).toBeLessThanOrEqual(known.best)
    else expect(answer.bound).toBeGreaterThanOrEqual(known.best)
  })
}

test('a text that is not an instance is refused with what was expected', () => {
  expect(() => parseAssign('2 2 1 2', 'min')).toThrow('expected 12 numbers')
  expect(() => parseAssign('a b', 'min')).toThrow('whole numbers')
})
