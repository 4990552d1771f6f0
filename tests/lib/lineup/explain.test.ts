/** Explanations are true: make the promised change, add the named turn, and no rule is broken; runners-up are legal. */
import { describe, expect, test } from 'vitest'
import { applyChange, appraise, exampleProblem, explain, scoreOf, solve, verifyRules } from '#lib/lineup'
import { aDay, aTightDay } from './days.ts'

const SIZE = { people: 8, shifts: 2, pieces: 12, places: 5 }

describe('explanations', () => {
  test('every promised change lets the named turn in, on 60 days', { timeout: 300_000 }, () => {
    let promised = 0
    for (let seed = 1; seed <= 60; seed++) {
      const problem = seed % 2 === 0 ? aDay(SIZE, seed) : aTightDay(SIZE, seed)
      const solution = solve(problem, { seed, steps: 4_000 })
      for (const left of explain(problem, solution).leftOut) {
        if (left.turn === null) continue
        const changed = left.change === null ? problem : applyChange(problem, left.change)
        const faults = verifyRules(changed, [...solution.lineUp, left.turn])
        expect(faults, `seed ${seed}, ${left.kind} ${left.id}, ${left.code}`).toEqual([])
        if (left.change !== null) promised++
      }
    }
    expect(promised).toBeGreaterThan(40)
  })

  test('every runner-up is legal and costs the day what it says', { timeout: 60_000 }, () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = aTightDay(SIZE, seed)
      const solution = solve(problem, { seed, steps: 4_000 })
      for (const reason of explain(problem, solution).reasons) {
        if (reason.runnerUp === null) continue
        const { turn, lossMarks } = reason.runnerUp
        const others = solution.lineUp.filter((entry) => entry.person !== turn.person || entry.shift !== turn.shift)
        expect(verifyRules(problem, [...others, turn]), `seed ${seed}`).toEqual([])
        expect(scoreOf(appraise(problem, [...others, turn]))).toBe(solution.score - lossMarks)
      }
    }
  })

  test('the skull of the example goes to the hands that know it', { timeout: 60_000 }, () => {
    const problem = exampleProblem()
    const { reasons } = explain(problem, solve(problem, { steps: 20_000 }))
    const skull = reasons.find((reason) => reason.person === 'pia' && reason.piece === 'skull')
    expect(skull?.deciding.map(({ part }) => part)).toContain('urgency')
    expect(reasons.find((reason) => reason.person === 'ines' && reason.shift === 'morning')?.code).toBe('held')
  })
})
