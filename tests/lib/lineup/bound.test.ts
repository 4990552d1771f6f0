/**
 * The bound against a witness that tries everything: on thousands of tiny tight days, with every rule and must, no
 * line-up is ever worth more than the bound says, and what is called proven is the best there is.
 */
import { expect, test } from 'vitest'
import { boundOf, type Problem, solve, verify } from '#lib/lineup'
import { equationsOf } from '../../../lib/lineup/bound/equations.ts'
import { closeIn, proveRest } from '../../../lib/lineup/bound/proof.ts'
import { rowsOf } from '../../../lib/lineup/bound/rows.ts'
import { compile } from '../../../lib/lineup/solve/compile.ts'
import { loadSettle } from '../../../server/solver/settle.ts'
import { aDay, aTightDay } from './days.ts'
import { exactBest } from './exact.ts'

const SIZES = [
  { people: 3, shifts: 2, pieces: 4, places: 3 },
  { people: 4, shifts: 1, pieces: 5, places: 3 },
  { people: 2, shifts: 3, pieces: 4, places: 2 },
  { people: 3, shifts: 2, pieces: 3, places: 2 },
]
const DAYS = 1000
const SEED = Number(process.env.TALUS_SEED ?? 1)

const settle = await loadSettle(20)

test(`nothing is above the bound on ${DAYS} tiny days, from seed ${SEED}`, { timeout: 300_000 }, () => {
  let proven = 0
  for (let seed = SEED; seed < SEED + DAYS; seed++) {
    const size = SIZES[seed % SIZES.length]
    if (size === undefined) continue
    const problem: Problem = seed % 5 === 0 ? aDay(size, seed) : aTightDay(size, seed)
    const best = exactBest(problem)
    if (best === null) throw new Error('a day without requirements has a best line-up')
    const musts = problem.holds.length + problem.claims.length + problem.begun.length + problem.clocks.length
    const said = `seed ${seed}: best ${best.score}, musts ${best.musts} of ${musts}`
    const rounds = seed % 3 === 0 ? 3 : 100
    expect(boundOf(problem, { target: 0, keepsMusts: best.musts === musts, rounds }), said).toBeGreaterThanOrEqual(
      best.score,
    )
    // Who knows of a line-up that is a mark below the best must never be told that it is the best.
    const model = compile(problem)
    const rest = closeIn(model, { score: best.score - 1, keepsMusts: best.musts === musts })
    expect(proveRest(model, rest, { parts: 40 }), said).toBeGreaterThanOrEqual(best.score)
    // Nor may the equations of the rest, which know more than the prices: the best is among what they allow.
    if (seed % 10 === 0 && best.musts === musts) {
      const field = rest.field
      if (field === null) throw new Error(`${said}: the best was left out`)
      expect(Math.round(settle(equationsOf(field, rowsOf(model), best.score))?.best ?? 0), said).toBe(best.score)
    }
    if (seed % 4 !== 0) continue
    const ours = solve(problem, { seed, steps: 3000, settle })
    expect(verify(problem, ours), said).toEqual([])
    if (!ours.isProven) continue
    proven++
    expect(ours.unmet, said).toEqual([])
    expect(ours.score, said).toBe(best.score)
  }
  expect(proven).toBeGreaterThan(DAYS / 25)
})
