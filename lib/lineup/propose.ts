/**
 * A line-up as the manager is shown it: assignments with their reasons, what is left out and what would change that,
 * and what differs from the posted day. It is built from the records, drawn up or redrawn, checked twice (by the
 * solver's own checker and by the rules that the gate will ask), and never shown when a check fails.
 */
import { assert } from '#lib/base'
import { assignmentsOn, type Turn, turnId } from '#lib/rules'
import type { Finding, RecordOf, Records } from '#lib/words'
import { type BuildOptions, type Built, buildProblem } from './build.ts'
import { type Explanation, explain, type Reason } from './explain.ts'
import { judgeProblem } from './judge.ts'
import { changesFrom, type Ids, idOf, lawfulTurns, type ProposedChange } from './lawful.ts'
import type { LeftOut } from './left-out.ts'
import { solveMended } from './mend.ts'
import { gapPctOf, type Parts, type Problem, type Solution } from './problem.ts'
import { redraw } from './redraw.ts'
import { DEFAULT_SEED, type Settle, solve } from './solve/index.ts'
import { type ProposedClash, toldClashes } from './told-clashes.ts'
import { verify } from './verify.ts'

export interface ProposeOptions extends BuildOptions {
  /** Durable position of the records, told with the answer: a proposal is of one moment. */
  readonly seq: number
  readonly seed?: number
  readonly steps?: number
  /** True to change as little as possible from the posted day (or from `from`). */
  readonly isRedraw?: boolean
  /** Told better line-ups as they are found, without reasons. */
  readonly onBetter?: (proposal: Proposal) => void
  /** Asked before one is made for `onBetter`; false skips it. */
  readonly isWanted?: () => boolean
  readonly isCancelled?: () => boolean
  /** Asked in the end about a small day, so that nothing better exists and the manager is told so. */
  readonly settle?: Settle
  /** False leaves out the reasons, which take as long again as a short search. */
  readonly isExplained?: boolean
}

/** One turn of the proposal; its first fields are those of the op `post`. */
export interface ProposedTurn extends Ids {
  readonly how: RecordOf<'assignment'>['how']
  /** Work on it has begun, or its shift is over: it stays. */
  readonly isKept: boolean
  /** Who mentors a learner. */
  readonly mentorId: string | null
  /** The date that presses; null for an undated piece. */
  readonly dueId: string | null
  /** Half-days this person has had on the piece. */
  readonly handTurns: number
  /** This person's level in the step's technique. */
  readonly level: number
}

export interface Proposal {
  readonly date: string
  readonly seq: number
  readonly seed: number
  readonly isRedraw: boolean
  readonly assignments: readonly ProposedTurn[]
  /** Why each turn is as it is; none in answers that are still getting better, nor for turns that stay. */
  readonly reasons: readonly Reason[]
  readonly changes: readonly ProposedChange[]
  /** Turns that are the same as posted. */
  readonly stay: number
  readonly leftOut: readonly LeftOut[]
  /** Holds, claims and begun work that cannot be as they are; forbids that could not be kept. */
  readonly findings: readonly Finding[]
  /** Holds, claims and begun turns that no line-up keeps together, smallest sets; none in answers on the way. */
  readonly clashes: readonly ProposedClash[]
  readonly score: number
  readonly parts: Parts
  /**
   * No line-up of this day scores more (one that keeps as many holds, claims and begun turns), and by how many per
   * cent one could be better at most, rounded up; null while not known. `isProven`: nothing better exists.
   */
  readonly bound: number | null
  readonly gapPct: number | null
  readonly isProven: boolean
}

/** Draws a day up, or draws it again. */
export function propose(records: Records, date: string, options: ProposeOptions): Proposal {
  const built = buildProblem(records, date, options)
  const wrong = judgeProblem(built.problem)
  assert(wrong.length === 0, `a built problem has no loose ends: ${JSON.stringify(wrong[0])}`)
  const seed = options.seed ?? DEFAULT_SEED
  const present = (solution: Solution, explanation: Explanation | null, told: Told | null = null) =>
    proposalOf(records, date, { ...options, seed }, built, solution, explanation, told)
  const onBetter = (better: Solution) => {
    if (options.onBetter && options.isWanted?.() !== false) options.onBetter(present(better, null))
  }
  // What is to be mended is not shown before it is.
  const isPlain = built.apart.length === 0
  const { problem, solution } = solveMended(built, (problem) =>
    solveOnce(problem, { ...options, seed }, isPlain ? onBetter : () => {}),
  )
  const faults = verify(problem, solution)
  assert(faults.length === 0, `the solver keeps its own rules: ${JSON.stringify(faults[0])}`)
  // On a closed day nobody is missed and nothing is left out.
  const isExplained = options.isExplained !== false && problem.shifts.length > 0
  return present(
    solution,
    isExplained ? explain(problem, solution, options.isCancelled) : null,
    toldClashes(problem, date, solution),
  )
}

type Told = ReturnType<typeof toldClashes>

function solveOnce(
  problem: Problem,
  { seed, steps, isRedraw, isCancelled, settle }: ProposeOptions & { readonly seed: number },
  onBetter: (solution: Solution) => void,
): Solution {
  const common = {
    seed,
    ...(steps === undefined ? {} : { steps }),
    ...(isCancelled ? { isCancelled } : {}),
    ...(settle ? { settle } : {}),
  }
  if (isRedraw && problem.posted.length > 0) return redraw(problem, common).solution
  return solve(problem, { ...common, onBetter })
}

function proposalOf(
  records: Records,
  date: string,
  options: ProposeOptions & { readonly seed: number },
  built: Built,
  solution: Solution,
  explanation: Explanation | null,
  told: Told | null,
): Proposal {
  const keptIds = new Set(built.kept.map((turn) => idOf(date, turn)))
  const { lawful, findings } = lawfulTurns(records, date, built.kept, solution)
  const mentors = new Map(solution.lineUp.map((turn) => [turnId(date, turn.shift, turn.person), turn.mentor]))
  const assignments = lawful.map((turn): ProposedTurn => {
    const id = idOf(date, turn)
    const base = { ...turn, how: howOf(records, id, turn), isKept: keptIds.has(id), mentorId: mentors.get(id) ?? null }
    return { ...base, ...factsOf(records, built.problem, turn) }
  })
  const shown = new Set(lawful.map((turn) => idOf(date, turn)).filter((id) => !keptIds.has(id)))
  const posted = assignmentsOn(records, date)
  const changes = changesFrom(records, date, posted, assignments)
  return {
    date,
    seq: options.seq,
    seed: options.seed,
    isRedraw: options.isRedraw ?? false,
    assignments,
    reasons: (explanation?.reasons ?? []).filter(({ shift, person }) => shown.has(turnId(date, shift, person))),
    changes,
    stay: posted.length - changes.filter(({ before }) => before !== null).length,
    leftOut: explanation?.leftOut ?? [],
    findings: [...built.findings, ...(told?.findings ?? []), ...findings],
    clashes: told?.clashes ?? [],
    score: solution.score,
    parts: solution.parts,
    bound: solution.bound,
    gapPct: solution.bound === null ? null : gapPctOf(solution.score, solution.bound),
    // What the rules took out was part of the score that was proven.
    isProven: solution.isProven && findings.length === 0,
  }
}

function howOf(records: Records, id: string, turn: Ids): ProposedTurn['how'] {
  const isSame = (other: Turn) =>
    other.pieceId === turn.pieceId && other.stepId === turn.stepId && other.placeId === turn.placeId
  const hold = records.hold.get(id)
  if (hold && isSame(hold)) return 'held'
  const posted = records.assignment.get(id)
  return posted && isSame(posted) ? posted.how : 'drawn'
}

/** What a sentence about the turn wants to know besides the solver's reasons. */
function factsOf(records: Records, problem: Problem, turn: Ids) {
  const piece = problem.pieces.find(({ id }) => id === turn.pieceId)
  const person = problem.people.find(({ id }) => id === turn.personId)
  const dues = [...records.due.values()].filter((due) => due.pieceId === turn.pieceId && due.state === 'accepted')
  const nearest = dues.toSorted((a, b) => (a.date < b.date ? -1 : 1))[0]
  return {
    dueId: nearest?.id ?? null,
    handTurns: piece?.hands.find((hand) => hand.person === turn.personId)?.turns ?? 0,
    level: person?.levels[records.step.get(turn.stepId)?.techniqueId ?? ''] ?? 0,
  }
}
