/**
 * What the plain problem cannot say in one go is mended after solving, and solved again: two people who shall not sit
 * together are parted, a learner at work whose mentor was drawn elsewhere gets another, and work that is begun keeps
 * its seat even when no mentor can be had.
 */
import { assert } from '#lib/base'
import type { Apart, Built } from './build.ts'
import { boundsOf } from './kept-turns.ts'
import type { Assignment, FixedTurn, Problem, Solution } from './problem.ts'

/** Rounds in which a solution is mended and solved again. */
const ROUNDS = 12

/** Solves and mends. Every round is one call of `solve`. */
export function solveMended(
  built: Built,
  solve: (problem: Problem) => Solution,
): { readonly problem: Problem; readonly solution: Solution } {
  let { problem } = built
  let solution = solve(problem)
  const first = solution
  let isParted = true
  for (let round = 0; round < ROUNDS; round++) {
    const forbids = solution.lineUp.flatMap((turn) => meetingOf(built.apart, turn, solution.lineUp))
    const lost = lostLearner(problem, solution)
    if (forbids.length > 0) {
      problem = { ...problem, forbids: [...problem.forbids, ...forbids] }
      solution = solve(problem)
    } else if (lost) {
      isParted = false
      const mentored = withMentor(problem, lost, round)
      const tried = mentored && solve(mentored)
      if (mentored && tried && tried.unmet.length < solution.unmet.length) [problem, solution] = [mentored, tried]
      else if (!mentored) {
        problem = excuse(problem, lost)
        solution = solve(problem)
      }
    } else break
  }
  if (problem === built.problem) return { problem, solution }
  return { problem, solution: { ...solution, ...(isParted ? boundOfParted(first, solution) : UNBOUNDED) } }
}

const UNBOUNDED = { bound: null, isProven: false } as const

/** Whoever is parted could have been parted otherwise: only the bound from before the forbids holds for all ways. */
function boundOfParted(first: Solution, { score, unmet }: Solution): Pick<Solution, 'bound' | 'isProven'> {
  if (unmet.length > first.unmet.length) return UNBOUNDED
  return { bound: first.bound, isProven: unmet.length === 0 && score === first.bound }
}

/** A begun turn that was not kept although its person may learn: there was no mentor beside it. */
function lostLearner(problem: Problem, solution: Solution): FixedTurn | null {
  for (const { kind, index } of solution.unmet) {
    const turn = kind === 'begun' ? problem.begun[index] : undefined
    const step = turn && stepOf(problem, turn)
    const learner = problem.people.find(({ id }) => id === turn?.person)
    if (turn && step && learner?.levels[step.technique] === 1) return turn
  }
  return null
}

const stepOf = (problem: Problem, turn: FixedTurn) =>
  problem.pieces.find(({ id }) => id === turn.piece)?.steps.find(({ id }) => id === turn.step)

/** The problem with the round's next mentor held to the learner's own step; null when there is none left to try. */
function withMentor(problem: Problem, turn: FixedTurn, round: number): Problem | null {
  const step = stepOf(problem, turn)
  const place = problem.places.find(({ id }) => id === turn.place)
  assert(step && place, 'a begun turn has its step and place in the problem')
  const lines = step.airLpm > 0 ? place.airLines : Number.POSITIVE_INFINITY
  if (Math.min(step.people.max, place.seats, lines) < 2) return null
  const isFixed = (person: string) =>
    [...problem.begun, ...problem.claims, ...problem.holds].some(
      (other) => other.person === person && other.shift === turn.shift,
    )
  const mentors = problem.people.filter(
    ({ id, levels, presence }) =>
      (levels[step.technique] ?? 0) >= 4 && presence.some(({ shift }) => shift === turn.shift) && !isFixed(id),
  )
  const mentor = mentors[round]
  return mentor ? { ...problem, holds: [...problem.holds, { ...turn, person: mentor.id }] } : null
}

/** The problem in which the turn needs no mentor: it has its seat, and whoever reads the proposal is told. */
function excuse(problem: Problem, turn: FixedTurn): Problem {
  const step = stepOf(problem, turn)
  assert(step && turn.step !== null, 'a begun turn has its step in the problem')
  const bounds = boundsOf(
    [{ personId: turn.person, shiftId: turn.shift, stepId: turn.step, techniqueId: step.technique, level: 2 }],
    problem.pieces,
    problem.shifts.map(({ id }) => id),
  )
  return {
    ...problem,
    people: problem.people.map((person) =>
      person.id === turn.person ? { ...person, levels: { ...person.levels, [step.technique]: 2 } } : person,
    ),
    forbids: [...problem.forbids, ...bounds],
  }
}

/** Where a turn sits beside somebody it shall not sit beside; the one who is not fixed there moves. */
export function meetingOf(apart: readonly Apart[], turn: Assignment, lineUp: readonly Assignment[]) {
  return apart.flatMap((wish) => {
    if (wish.personId !== turn.person) return []
    const other = lineUp.find(
      ({ person, shift, place }) => person === wish.withPersonId && shift === turn.shift && place === turn.place,
    )
    const isMeant =
      (wish.pieceId === null || wish.pieceId === turn.piece || wish.pieceId === other?.piece) &&
      (wish.placeId === null || wish.placeId === turn.place)
    const { person, shift, place } = turn
    return other && isMeant ? [{ person, shift, place, piece: null, step: null }] : []
  })
}
