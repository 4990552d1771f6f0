/** Redraw: rules hold, holds stay, and the number of changed people is the proven smallest within the allowed loss. */
import { describe, expect, test } from 'vitest'
import { type Problem, redraw, solve, verify } from '#lib/lineup'
import { loadSettle } from '../../../server/solver/settle.ts'
import { aDay } from './days.ts'
import { UPSETS, upsetDay } from './mornings.ts'
import { fewestChanges, solveByPeer } from './peer.ts'

const SIZE = { people: 7, shifts: 2, pieces: 14, places: 5 }
const DAYS = 6

/** A posted day that one of the upsets has met. */
function upset(seed: number, kind = UPSETS[seed % UPSETS.length]): Problem {
  const day = aDay(SIZE, seed)
  const posted = solve(day, { seed, steps: 20_000 })
  return kind === undefined ? day : upsetDay(day, posted, kind, seed)
}

describe('redraw', () => {
  test(`changes the proven fewest people on ${DAYS} upset days`, { timeout: 600_000 }, async () => {
    let proven = 0
    const settle = await loadSettle(20)
    for (let seed = 1; seed <= DAYS; seed++) {
      const problem = upset(seed)
      const redrawn = redraw(problem, { seed, lossPerMille: 10, settle })
      expect(verify(problem, redrawn.solution), `seed ${seed}`).toEqual([])
      const best = await solveByPeer(problem, { seconds: 60 })
      const bestScore = Math.round(best.score ?? 0)
      expect(redrawn.bestScore, `seed ${seed}`).toBeGreaterThanOrEqual(bestScore * 0.999)
      expect(problem.clocks.length - redrawn.solution.unmet.length, `seed ${seed}`).toBe(best.mustsKept)
      const leastScore = bestScore - Math.floor(bestScore * 0.01)
      const fewest = await fewestChanges(problem, { leastScore, mustsKept: best.mustsKept, seconds: 60 })
      expect(redrawn.changedPeople, `seed ${seed}`).toBe(fewest)
      if (redrawn.isFewest) proven++
    }
    // Most small days are also settled by going through every way of changing fewer people.
    expect(proven).toBeGreaterThan(DAYS / 2)
  })

  test('nothing changes when nothing has happened', { timeout: 60_000 }, () => {
    const day = aDay(SIZE, 3)
    const posted = solve(day, { seed: 3, steps: 60_000 })
    const redrawn = redraw({ ...day, posted: [...posted.lineUp] }, { seed: 3 })
    expect(redrawn.changes).toEqual([])
    expect(redrawn.solution.score).toBe(posted.score)
  })

  test('begun turns and holds stay', { timeout: 60_000 }, () => {
    for (let seed = 20; seed < 30; seed++) {
      const problem = upset(seed, UPSETS[0])
      const begun = problem.posted.filter((turn) =>
        problem.people.some((person) => person.id === turn.person && person.presence.length > 0),
      )
      const fixed = begun
        .slice(0, 3)
        .map(({ person, shift, piece, step, place }) => ({ person, shift, piece, step, place }))
      const redrawn = redraw({ ...problem, begun: fixed }, { seed, steps: 10_000 })
      const kept = fixed.filter((turn) => redrawn.solution.lineUp.some((entry) => matches(entry, turn)))
      expect(kept.length + redrawn.solution.unmet.length, `seed ${seed}`).toBe(fixed.length)
      expect(verify({ ...problem, begun: fixed }, redrawn.solution)).toEqual([])
    }
  })
})

type Turn = Pick<Problem['posted'][number], 'person' | 'shift' | 'piece' | 'step' | 'place'>

function matches(a: Turn, b: Turn): boolean {
  return (['person', 'shift', 'piece', 'step', 'place'] as const).every((key) => a[key] === b[key])
}
