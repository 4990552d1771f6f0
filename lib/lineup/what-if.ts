/**
 * "What if I …": some turns are forced upon a line-up, and the rest makes way for them with as few changed people as
 * the allowed loss permits. Before anything is searched the hard rules are asked about the wanted turns alone; and
 * when nobody else has to move for them, nothing is searched at all.
 *
 * Holds, claims and begun work of others outweigh nothing here, and are outweighed by nothing: a wish that could only
 * be had by breaking one of them is answered with its name.
 */
import { type Difference, diff } from './diff.ts'
import type { Assignment, FixedTurn, MustRef, Problem, Solution } from './problem.ts'
import { redraw } from './redraw.ts'
import { compile } from './solve/compile.ts'
import { toSolution } from './solve/solution.ts'
import { startOf } from './solve/start.ts'
import { type Fault, verifyRules } from './verify.ts'

/** A turn that somebody would like to see: nothing of it is left open. */
export type WantedTurn = Omit<Assignment, 'mentor'>

export interface WhatIfOptions {
  readonly seed?: number
  readonly steps?: number
  /** Marks that may be lost for the sake of fewer changed people, in thousandths of the score. */
  readonly lossPerMille?: number
  readonly isCancelled?: () => boolean
}

/** What stands against a wish: rules that it breaks by itself, or turns that have to stay. */
type Hindrance =
  | { readonly code: 'rule'; readonly faults: readonly Fault[] }
  | { readonly code: 'must'; readonly musts: readonly { readonly kind: MustRef['kind']; readonly turn: FixedTurn }[] }

export interface WhatIf {
  /** Null when it can be. */
  readonly hindrance: Hindrance | null
  /** The day with the wanted turns in it; the day as it is when it cannot be. */
  readonly solution: Solution
  /** Everything that would differ, the wanted turns among it; without changes of mentor alone. */
  readonly changes: readonly Difference[]
  /** Pieces on which somebody works now and nobody would. */
  readonly waits: readonly string[]
  /** Marks that the day would lose; below nothing when it would gain. */
  readonly lossMarks: number
  /** The same in thousandths of the day as it is. */
  readonly lossPerMille: number
}

const LOSS_PER_MILLE = 10

/** Rules that other people's turns can still see to. */
const HELPED = new Set<Fault['rule']>(['mentor', 'mentorLimit', 'helpers'])

/**
 * What would become of `problem.posted` if these turns were in it.
 *
 * @param problem free of findings (see judgeProblem); its `posted` is the line-up that one looks at
 * @param wanted at most one turn of each person in a shift
 */
export function whatIf(problem: Problem, wanted: readonly WantedTurn[], options: WhatIfOptions = {}): WhatIf {
  const model = compile(problem)
  const present = toSolution(model, startOf(model, problem.posted))
  const not = (hindrance: Hindrance): WhatIf => ({
    hindrance,
    solution: present,
    changes: [],
    waits: [],
    lossMarks: 0,
    lossPerMille: 0,
  })
  const faults = verifyRules(
    problem,
    wanted.map((turn) => ({ ...turn, mentor: null })),
  ).filter(({ rule }) => !HELPED.has(rule))
  if (faults.length > 0) return not({ code: 'rule', faults })
  const begun = problem.begun.filter((turn) => wanted.some((other) => isSeat(turn, other) && !agrees(turn, other)))
  if (begun.length > 0) return not({ code: 'must', musts: begun.map((turn) => ({ kind: 'begun', turn })) })

  const asked = withWanted(problem, wanted)
  const solution = nobodyElse(asked, wanted, present, options) ?? redrawn(asked, options)
  if (!hasAll(solution, wanted)) return not({ code: 'must', musts: inTheWay(asked, wanted, options) })
  const lost = solution.unmet.filter((must) => !(must.kind === 'hold' && isAmong(mustOf(asked, must), wanted)))
  const before = new Set(present.unmet.map((must) => turnKey(mustOf(problem, must))))
  const newlyLost = lost.filter((must) => !before.has(turnKey(mustOf(asked, must))))
  if (newlyLost.length > 0) {
    return not({ code: 'must', musts: newlyLost.map((must) => ({ kind: must.kind, turn: mustOf(asked, must) })) })
  }
  const lossMarks = present.score - solution.score
  const worked = new Set(solution.lineUp.map(({ piece }) => piece))
  return {
    hindrance: null,
    solution,
    changes: diff(problem, present.lineUp, solution.lineUp).filter(({ code }) => code !== 'mentor'),
    waits: [...new Set(present.lineUp.map(({ piece }) => piece))].filter((piece) => !worked.has(piece)),
    lossMarks,
    lossPerMille: Math.round((1000 * lossMarks) / Math.max(1, present.score)),
  }
}

/** The day with only the wanted turns changed; null when somebody has to make way, or when that costs too much. */
function nobodyElse(
  asked: Problem,
  wanted: readonly WantedTurn[],
  present: Solution,
  options: WhatIfOptions,
): Solution | null {
  const others = present.lineUp.filter((turn) => !wanted.some((other) => isSeat(turn, other)))
  const model = compile(asked)
  const solution = toSolution(model, startOf(model, [...wanted.map((turn) => ({ ...turn, mentor: null })), ...others]))
  const isWhole = [...wanted, ...others].every((turn) => solution.lineUp.some((other) => isSame(turn, other)))
  const allowed = (present.score * (options.lossPerMille ?? LOSS_PER_MILLE)) / 1000
  return isWhole && present.score - solution.score <= allowed ? solution : null
}

function redrawn(asked: Problem, options: WhatIfOptions): Solution {
  const { seed, steps, isCancelled } = options
  return redraw(asked, {
    lossPerMille: options.lossPerMille ?? LOSS_PER_MILLE,
    ...(seed === undefined ? {} : { seed }),
    ...(steps === undefined ? {} : { steps }),
    ...(isCancelled === undefined ? {} : { isCancelled }),
  }).solution
}

/** Holds and claims that would have to go: those that a day without them does not happen to keep; none: no way at all. */
function inTheWay(asked: Problem, wanted: readonly WantedTurn[], options: WhatIfOptions) {
  const free = { ...asked, holds: asked.holds.filter((turn) => isAmong(turn, wanted)), claims: [] }
  const solution = redrawn(free, options)
  if (!hasAll(solution, wanted)) return []
  return (['hold', 'claim'] as const).flatMap((kind) =>
    (kind === 'hold' ? asked.holds : asked.claims)
      .filter((turn) => !isAmong(turn, wanted))
      .filter((turn) => !solution.lineUp.some((other) => isSeat(turn, other) && agrees(turn, other)))
      .map((turn) => ({ kind, turn })),
  )
}

const hasAll = (solution: Solution, wanted: readonly WantedTurn[]): boolean =>
  wanted.every((turn) => solution.lineUp.some((other) => isSame(turn, other)))

/** The wanted turns as holds, one more of each than there are other musts: none of them is given up for another. */
function withWanted(problem: Problem, wanted: readonly WantedTurn[]): Problem {
  const isFree = (turn: FixedTurn): boolean => !wanted.some((other) => isSeat(turn, other))
  const holds = problem.holds.filter(isFree)
  const claims = problem.claims.filter(isFree)
  const times = 1 + holds.length + claims.length + problem.begun.length + problem.clocks.length
  return {
    ...problem,
    holds: [...holds, ...wanted.flatMap((turn) => Array.from({ length: times }, () => ({ ...turn })))],
    claims,
  }
}

const isSeat = (a: Pick<FixedTurn, 'person' | 'shift'>, b: Pick<FixedTurn, 'person' | 'shift'>): boolean =>
  a.person === b.person && a.shift === b.shift

const agrees = (must: FixedTurn, turn: WantedTurn): boolean =>
  must.piece === turn.piece &&
  (must.step === null || must.step === turn.step) &&
  (must.place === null || must.place === turn.place)

const isSame = (a: WantedTurn, b: WantedTurn): boolean => isSeat(a, b) && agrees(a, b)

function mustOf(problem: Problem, { kind, index }: MustRef): FixedTurn {
  const clock = kind === 'clock' ? problem.clocks[index] : undefined
  const lists = { hold: problem.holds, claim: problem.claims, begun: problem.begun, clock: [] }
  return (
    lists[kind][index] ?? {
      person: '',
      shift: clock?.shift ?? '',
      piece: clock?.piece ?? '',
      step: clock?.step ?? null,
      place: null,
    }
  )
}

const turnKey = (turn: FixedTurn): string => `${turn.person}\n${turn.shift}\n${turn.piece}\n${turn.step}\n${turn.place}`

const isAmong = (must: FixedTurn, wanted: readonly WantedTurn[]): boolean =>
  wanted.some((other) => isSeat(must, other) && agrees(must, other))
