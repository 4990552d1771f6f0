/** Explanations are true: what a change promises is tried by making it, and on tiny days by trying all line-ups. */
import { describe, expect, test } from 'vitest'
import { applyChanges, appraise, exampleProblem, explain, scoreOf, solve, verifyRules } from '#lib/lineup'
import { aDay, aTightDay } from './days.ts'
import { type Exact, exactBest } from './exact.ts'

const SIZE = { people: 8, shifts: 2, pieces: 12, places: 5 }
const TINY = { people: 3, shifts: 2, pieces: 4, places: 3 }
const BRANCHES = 20_000
/** `TALUS_DAYS=10000` tries as many, `TALUS_FIRST=5001` begins there. */
const TINY_DAYS = Number(process.env.TALUS_DAYS ?? 200)
const FIRST = Number(process.env.TALUS_FIRST ?? 1)
/** Days on which something was once called included and was not. */
const FOUND = [571, 4237, 9593]

const isBetter = (a: Exact | null, b: Exact | null): boolean =>
  (a?.musts ?? -1) > (b?.musts ?? -1) || (a?.musts === b?.musts && (a?.score ?? 0) > (b?.score ?? 0))

describe('explanations', () => {
  test('every promised change lets the named turns in, on 60 days', { timeout: 300_000 }, () => {
    const told = new Map<string, number>()
    for (let seed = 1; seed <= 60; seed++) {
      const problem = seed % 2 === 0 ? aDay(SIZE, seed) : aTightDay(SIZE, seed)
      const solution = solve(problem, { seed, steps: 4_000 })
      for (const left of explain(problem, solution).leftOut) {
        const code = left.changes.length > 1 ? `${left.changes.length} changes` : left.code
        told.set(code, (told.get(code) ?? 0) + 1)
        const changed = applyChanges(problem, left.changes)
        const faults = verifyRules(changed, [...solution.lineUp, ...left.turns])
        expect(faults, `seed ${seed}, ${left.kind} ${left.id}, ${JSON.stringify(left.changes)}`).toEqual([])
      }
    }
    console.info('left out by code', [...told])
    expect(told.get('2 changes')).toBeGreaterThan(10)
    expect(told.get('mentor')).toBeGreaterThan(5)
  })

  test('who is called included with a change is in a best line-up of the changed day, by trying all', {
    timeout: 300_000 + 300 * TINY_DAYS,
  }, () => {
    const told = { included: 0, loses: 0, untried: 0, wrong: 0, gains: 0 }
    for (const seed of [...FOUND, ...Array.from({ length: TINY_DAYS }, (_, i) => FIRST + i)]) {
      const problem = seed % 2 === 0 ? aDay(TINY, seed) : aTightDay(TINY, seed)
      const solution = solve(problem, { seed, steps: 2_000 })
      for (const { kind, id, shift, changes, isIncluded, lossPerMille } of explain(problem, solution).leftOut) {
        if (lossPerMille === null) {
          told.untried++
          continue
        }
        const changed = applyChanges(problem, changes)
        let inside: Exact | null
        let outside: Exact | null
        try {
          const within = kind === 'piece' ? { piece: id } : { person: { id, shift: shift ?? '' } }
          inside = exactBest(changed, { ...within, branchesMax: BRANCHES })
          const without = kind === 'piece' ? { piece: id } : { person: id, shift }
          outside = exactBest(changed, { forbids: [without], branchesMax: BRANCHES })
        } catch {
          continue
        }
        const isWrong = isIncluded ? isBetter(outside, inside) : !isBetter(outside, inside)
        if (isWrong)
          console.info(
            `seed ${seed}`,
            kind,
            id,
            shift,
            JSON.stringify(changes),
            isIncluded,
            lossPerMille,
            inside?.musts,
            inside?.score,
            outside?.musts,
            outside?.score,
          )
        if (isIncluded && isWrong) told.wrong++
        else if (isIncluded) told.included++
        else if (isWrong) told.gains++
        else told.loses++
      }
    }
    console.info('included, by trying all', told)
    expect(told.wrong).toBe(0)
  })

  test('every runner-up is legal and costs the day what it says', { timeout: 300_000 }, () => {
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
