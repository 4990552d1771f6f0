/**
 * Why the line-up is as it is, as data: for each turn the parts that decided and the runner-up; what is left out, and
 * what would change that, is left-out.ts's.
 */
import { appraise, appraiseTurn, type Lookup, lookupOf, scoreOf } from './appraise.ts'
import { type LeftOut, leftOutOf } from './left-out.ts'
import { roomOf, stepOf, waysOf } from './obstacles.ts'
import { type Assignment, PARTS, type Part, type Problem, type Solution } from './problem.ts'
import { verifyRules } from './verify.ts'

export interface Reason {
  readonly person: string
  readonly shift: string
  readonly piece: string
  readonly step: string
  readonly place: string
  /** Who decided: a must, or the score. */
  readonly code: 'begun' | 'held' | 'claimed' | 'chosen'
  /** The parts in which this turn beats the person's other possible turns most, in marks above their mean. */
  readonly deciding: readonly { readonly part: Part; readonly marks: number }[]
  /** The best other turn for this person with everybody else as they are, and what it would cost the day. */
  readonly runnerUp: { readonly turn: Assignment; readonly lossMarks: number; readonly lossPerMille: number } | null
}

export interface Explanation {
  readonly reasons: readonly Reason[]
  readonly leftOut: readonly LeftOut[]
}

/** Explains a whole line-up; once cancelled, what changes would cost is no longer tried. */
export function explain(problem: Problem, solution: Solution, isCancelled?: () => boolean): Explanation {
  const lookup = lookupOf(problem)
  return {
    reasons: solution.lineUp.map((turn) => reasonFor(problem, lookup, solution, turn)),
    leftOut: leftOutOf(problem, solution, isCancelled),
  }
}

/** Why one turn is as it is. */
function reasonFor(problem: Problem, lookup: Lookup, solution: Solution, turn: Assignment): Reason {
  const others = solution.lineUp.filter((entry) => entry !== turn)
  const room = roomOf(problem, others, lookup)
  const mine = appraiseTurn(problem, room.lookup, turn)
  const before = scoreOf(appraise(problem, others, lookup))
  const alternatives: { readonly turn: Assignment; readonly marks: number }[] = []
  const sums: Partial<Record<Part, number>> = {}
  for (const way of waysOf(room, turn.person, turn.shift, 0)) {
    if (way.turn.piece === turn.piece && way.turn.step === turn.step) continue
    const parts = appraiseTurn(problem, room.lookup, way.turn)
    alternatives.push({ turn: way.turn, marks: scoreOf(parts) })
    for (const part of PARTS) sums[part] = (sums[part] ?? 0) + parts[part]
  }
  const mean = (part: Part): number => (alternatives.length === 0 ? 0 : (sums[part] ?? 0) / alternatives.length)
  const deciding = PARTS.map((part) => ({ part, marks: Math.round(mine[part] - mean(part)) }))
    .filter(({ marks }) => marks > 0)
    .sort((a, b) => b.marks - a.marks)
    .slice(0, 3)
  // The few best are counted with staying on and moves; the rest cannot be the runner-up by marks alone.
  const isAlone = solution.lineUp.every((entry) => entry.mentor !== turn.person || entry.shift !== turn.shift)
  const isFree = isAlone && (stepOf(room.lookup, turn)?.people.min ?? 1) <= 1
  const runners = alternatives
    .sort((a, b) => b.marks - a.marks)
    .slice(0, 6)
    // Who mentors, or lifts with others, cannot leave without them.
    .filter((entry) => isFree || verifyRules(problem, [...others, entry.turn], lookup).length === 0)
    .map((entry) => ({ turn: entry.turn, gain: scoreOf(appraise(problem, [...others, entry.turn], lookup)) - before }))
    .sort((a, b) => b.gain - a.gain)
  const best = runners[0]
  const lossMarks = best === undefined ? 0 : solution.score - before - best.gain
  const { person, shift, piece, step, place } = turn
  return {
    person,
    shift,
    piece,
    step,
    place,
    code: decidedBy(problem, turn),
    deciding: deciding.length > 0 ? deciding : largest(mine),
    runnerUp:
      best === undefined
        ? null
        : {
            turn: best.turn,
            lossMarks,
            lossPerMille: solution.score > 0 ? Math.round((1000 * lossMarks) / solution.score) : 0,
          },
  }
}

function decidedBy(problem: Problem, turn: Assignment): Reason['code'] {
  const isOf = (list: Problem['holds']): boolean =>
    list.some((must) => must.person === turn.person && must.shift === turn.shift && must.piece === turn.piece)
  return isOf(problem.begun) ? 'begun' : isOf(problem.holds) ? 'held' : isOf(problem.claims) ? 'claimed' : 'chosen'
}

function largest(parts: Readonly<Record<Part, number>>): readonly { readonly part: Part; readonly marks: number }[] {
  return PARTS.map((part) => ({ part, marks: parts[part] }))
    .filter(({ marks }) => marks > 0)
    .sort((a, b) => b.marks - a.marks)
    .slice(0, 2)
}
