/**
 * Every line-up of the solver keeps every rule: a thousand random tight days, each checked by the checker that
 * shares no code with the search. The seed of a day is in the message.
 */
import { expect, test } from 'vitest'
import { seededRandom } from '#lib/base'
import { judgeProblem, solve, verify } from '#lib/lineup'
import { aTightDay } from './days.ts'

const DAYS = 1000
const FIRST_SEED = 20_261_125

test(`R1 R2 R3 R4 R5 hold on ${DAYS} random days from seed ${FIRST_SEED}`, { timeout: 300_000 }, () => {
  for (let seed = FIRST_SEED; seed < FIRST_SEED + DAYS; seed++) {
    const random = seededRandom(seed)
    const size = {
      people: 1 + random.below(9),
      shifts: 1 + random.below(3),
      pieces: 1 + random.below(14),
      places: 1 + random.below(7),
    }
    const problem = aTightDay(size, seed)
    expect(judgeProblem(problem), `seed ${seed}`).toEqual([])
    const solution = solve(problem, { seed, steps: 2_000 })
    expect(verify(problem, solution), `seed ${seed}`).toEqual([])
  }
})
