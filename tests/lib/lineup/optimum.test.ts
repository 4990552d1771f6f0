/**
 * Against something outside: fifty small days, each also written out as equations and solved to proven optimality
 * by a general MIP solver. Our score is never above it (a rule would be missing on our side) and reaches it.
 */
import { expect, test } from 'vitest'
import { type Problem, solve, verify, verifyRules } from '#lib/lineup'
import { loadSettle } from '../../../server/solver/settle.ts'
import { aDay, aTightDay } from './days.ts'
import { solveByPeer } from './peer.ts'

const SIZES = [
  { people: 5, shifts: 2, pieces: 10, places: 4 },
  { people: 6, shifts: 1, pieces: 12, places: 5 },
  { people: 4, shifts: 3, pieces: 8, places: 4 },
  { people: 8, shifts: 2, pieces: 16, places: 6 },
  { people: 7, shifts: 2, pieces: 9, places: 3 },
]
const DAYS = 50

test(`fifty small days come within 2 % of the proven optimum and never above`, { timeout: 900_000 }, async () => {
  let equal = 0
  let proven = 0
  const settle = await loadSettle(20)
  for (let seed = 1; seed <= DAYS; seed++) {
    const size = SIZES[seed % SIZES.length] ?? SIZES[0]
    if (size === undefined) continue
    const problem: Problem = seed % 2 === 0 ? aDay(size, seed) : aTightDay(size, seed)
    const ours = solve(problem, { seed, steps: 80_000, settle })
    const peer = await solveByPeer(problem, { seconds: 60 })
    const musts = problem.holds.length + problem.claims.length + problem.begun.length + problem.clocks.length
    const said = `seed ${seed}: ours ${ours.score}, peer ${peer.score}${peer.isProven ? '' : ' (not proven)'}`
    expect(peer.isProven, said).toBe(true)
    expect(verify(problem, ours), said).toEqual([])
    expect(verifyRules(problem, peer.lineUp), said).toEqual([])
    expect(musts - ours.unmet.length, said).toBe(peer.mustsKept)
    const best = Math.round(peer.score ?? 0)
    expect(ours.score, said).toBeLessThanOrEqual(best)
    expect(ours.score, said).toBeGreaterThanOrEqual(best * 0.98)
    if (ours.isProven) {
      proven++
      expect(ours.score, said).toBe(best)
    }
    if (ours.score === best) equal++
    else console.info(said)
  }
  console.info(`${equal} of ${DAYS} days equal to the optimum, ${proven} proven`)
  // Where a must cannot be kept, nothing is said of better line-ups.
  expect(proven).toBeGreaterThan(DAYS / 2)
})
