/**
 * "What if I …": what is promised before letting go is what the day then is. Beside it stands the plain way to the
 * same answer: the general MIP solver on the same day with the turn held.
 */
import { describe, expect, test } from 'vitest'
import { seededRandom } from '#lib/base'
import { type Problem, solve, verify, whatIf } from '#lib/lineup'
import { aDay, aTightDay } from './days.ts'

const SIZE = { people: 8, shifts: 2, pieces: 16, places: 6 }

/** A drawn-up day, and turns that one might drag: people of it to other places and pieces. */
function looked(seed: number, isTight: boolean) {
  const day = (isTight ? aTightDay : aDay)(SIZE, seed)
  const drawn = solve(day, { seed, steps: 8000 })
  const problem: Problem = { ...day, posted: [...drawn.lineUp] }
  const random = seededRandom(seed)
  const wishes = drawn.lineUp.slice(0, 6).flatMap((turn) => {
    const place = problem.places[random.below(problem.places.length)]
    const { mentor: _, ...own } = turn
    return place ? [{ ...own, place: place.id }] : []
  })
  return { problem, drawn, wishes }
}
const key = (turn: object) => Object.values({ ...turn, mentor: null }).join(' ')

describe('what if', () => {
  test('breaks no rule, keeps the wanted turn and every must, and counts the loss truly', { timeout: 120_000 }, () => {
    let possible = 0
    for (let seed = 1; seed <= 16; seed++) {
      const { problem, drawn, wishes } = looked(seed, seed % 2 === 0)
      for (const wish of wishes) {
        const answer = whatIf(problem, [wish], { seed, steps: 4000 })
        const title = `seed ${seed} ${key(wish)}`
        expect(answer.solution.lineUp.length > 0, title).toBe(drawn.lineUp.length > 0)
        if (answer.hindrance !== null) {
          expect(answer.changes, title).toEqual([])
          continue
        }
        possible++
        expect(answer.solution.lineUp.map(key), title).toContain(key({ ...wish, mentor: null }))
        const free = { ...problem, holds: [], claims: [], posted: [] }
        expect(
          verify({ ...free, clocks: [], begun: [] }, { ...answer.solution, unmet: [], bound: null }),
          title,
        ).toEqual([])
        expect(answer.lossMarks, title).toBe(drawn.score - answer.solution.score)
      }
    }
    expect(possible).toBeGreaterThan(20)
  })

  test('moves nobody who is held, and names whoever would have to make way', { timeout: 60_000 }, () => {
    let named = 0
    for (let seed = 1; seed <= 12; seed++) {
      const { problem, wishes } = looked(seed, false)
      for (const wish of wishes) {
        const free = whatIf(problem, [wish], { seed, steps: 4000 })
        const others = free.changes.filter(({ person, isPresent }) => isPresent && person !== wish.person)
        if (free.hindrance !== null || others.length === 0) continue
        const holds = problem.posted
          .filter(({ person }) => person !== wish.person)
          .map(({ mentor: _, ...turn }) => turn)
        const answer = whatIf({ ...problem, holds }, [wish], { seed, steps: 4000 })
        const title = `seed ${seed} ${key(wish)}`
        if (answer.hindrance === null) {
          expect(new Set(answer.changes.map(({ person }) => person)), title).toEqual(new Set([wish.person]))
          continue
        }
        if (answer.hindrance.code !== 'must') throw new Error(`${title}: no rule stands against it`)
        const { musts } = answer.hindrance
        expect(musts.length, title).toBeGreaterThan(0)
        for (const { kind, turn } of musts) {
          named++
          expect(kind).toBe('hold')
          expect(holds, title).toContainEqual(turn)
        }
      }
    }
    expect(named).toBeGreaterThan(5)
  })
})
