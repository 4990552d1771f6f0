/**
 * "What if I …", asked of the records: somebody holds a tag or a person over a place and has not let go. What the
 * rules say of the wanted turns alone comes first, without any search; then whatIf makes the rest of the day give way.
 */
import { assert } from '#lib/base'
import { assignmentsOn, judgeDay, judgeDisplaced, type Turn, turnId } from '#lib/rules'
import { type Finding, finding, put, type Records, withChanges } from '#lib/words'
import { type BuildOptions, type Built, buildProblem } from './build.ts'
import { judgeProblem } from './judge.ts'
import { changesFrom, type Ids, lawfulTurns, type ProposedChange } from './lawful.ts'
import { meetingOf } from './mend.ts'
import type { Problem } from './problem.ts'
import { verifyRules } from './verify.ts'
import { type WhatIf, type WhatIfOptions, whatIf } from './what-if.ts'

export interface ConsiderOptions extends BuildOptions, WhatIfOptions {
  /** The turns that would be forced: one person's, or those of all hands on a piece. */
  readonly turns: readonly Turn[]
}

/** What would become of the day. */
export interface Considered {
  readonly date: string
  /** False when a rule or a turn that has to stay stands against it; `findings` say which. */
  readonly isPossible: boolean
  readonly findings: readonly Finding[]
  /** All that would differ from the line-up one looks at, the wanted turns among it. */
  readonly changes: readonly ProposedChange[]
  /** Pieces that are worked on now and would wait. */
  readonly waits: readonly string[]
  /** What the day would lose, in thousandths of its marks; below nothing when it would gain. */
  readonly lossPerMille: number
  /** The whole day as it would be, ready to be posted. */
  readonly assignments: readonly Ids[]
}

/** Times that people who shall not sit together are parted before the wish is given up. */
const ROUNDS = 4

/** Looks ahead. Nothing is changed anywhere. */
export function consider(records: Records, date: string, options: ConsiderOptions): Considered {
  const alone = judgeDay(records, date, options.turns)
  // A mentor may still be brought beside a learner; when none can be, that is why.
  const unmentored = alone.filter(({ code }) => code.startsWith('mentor-'))
  if (unmentored.length < alone.length) {
    return impossible(
      date,
      alone.filter((one) => !unmentored.includes(one)),
    )
  }
  const built = buildHeld(records, date, options)
  assert(judgeProblem(built.problem).length === 0, 'a built problem has no loose ends')
  const wanted = options.turns.map(plain)
  const person = wanted[0]?.person ?? ''
  const isWanted = (turn: { readonly person: string; readonly shift: string }): boolean =>
    wanted.some(({ person, shift }) => person === turn.person && shift === turn.shift)
  let { problem } = built
  for (let round = 0; round < ROUNDS; round++) {
    const answer = whatIf(problem, wanted, options)
    if (answer.hindrance !== null) return impossible(date, findingsOf(answer, person, unmentored))
    const { lineUp } = answer.solution
    assert(verifyRules(problem, lineUp).length === 0, 'the solver keeps its own rules')
    // Whoever is not wanted there is the one to move.
    const forbids = lineUp
      .flatMap((turn) => meetingOf(built.apart, turn, lineUp))
      .flatMap((meeting) => partedFrom(meeting, lineUp, isWanted))
    if (forbids.length === 0) return possible(records, date, built.kept, problem, answer)
    problem = { ...problem, forbids: [...problem.forbids, ...forbids] }
  }
  return impossible(date, [finding('O', 'forbidden', { person })])
}

const plain = (turn: Turn) => ({
  person: turn.personId,
  shift: turn.shiftId,
  piece: turn.pieceId,
  step: turn.stepId,
  place: turn.placeId,
})

/** The problem as if the turns were held already, which opens a special place or a short bench; but seated as now. */
function buildHeld(records: Records, date: string, options: ConsiderOptions): Built {
  const holds = options.turns.map(({ shiftId, personId, pieceId, stepId, placeId }) =>
    put('hold', { id: turnId(date, shiftId, personId), date, shiftId, personId, pieceId, stepId, placeId }),
  )
  const built = buildProblem(withChanges(records, holds), date, options)
  const { problem } = built
  const isTheirs = (turn: { readonly person: string; readonly shift: string }) =>
    options.turns.some(({ personId, shiftId }) => personId === turn.person && shiftId === turn.shift)
  const pieces = new Set(problem.pieces.map(({ id }) => id))
  const seated = (options.from ?? assignmentsOn(records, date))
    .map((turn) => ({ ...plain(turn), mentor: null }))
    .filter((turn) => isTheirs(turn) && pieces.has(turn.piece))
  return {
    ...built,
    problem: { ...problem, posted: [...problem.posted.filter((turn) => !isTheirs(turn)), ...seated] },
  }
}

type Meeting = ReturnType<typeof meetingOf>[number]

function partedFrom(
  meeting: Meeting,
  lineUp: WhatIf['solution']['lineUp'],
  isWanted: (turn: { readonly person: string; readonly shift: string }) => boolean,
): readonly Meeting[] {
  if (!isWanted(meeting)) return [meeting]
  return lineUp
    .filter(
      ({ shift, place, person }) => shift === meeting.shift && place === meeting.place && person !== meeting.person,
    )
    .filter((turn) => !isWanted(turn))
    .map(({ person }) => ({ ...meeting, person }))
}

function possible(
  records: Records,
  date: string,
  kept: readonly Turn[],
  problem: Problem,
  { solution, waits, lossPerMille }: WhatIf,
): Considered {
  const { lawful, findings } = lawfulTurns(records, date, kept, solution)
  // Nobody's claim is pushed aside over their head, the wanted person's own included.
  const displaced = judgeDisplaced(records, date, lawful, '')
  if (findings.length + displaced.length > 0) return impossible(date, [...findings, ...displaced])
  const now = lawfulTurns(records, date, kept, { lineUp: problem.posted }).lawful
  return {
    date,
    isPossible: true,
    findings: [],
    changes: changesFrom(records, date, now, lawful),
    waits,
    lossPerMille,
    assignments: lawful,
  }
}

const impossible = (date: string, findings: readonly Finding[]): Considered => ({
  date,
  isPossible: false,
  findings,
  changes: [],
  waits: [],
  lossPerMille: 0,
  assignments: [],
})

/** Why a wish cannot be, in the terms of the rules: the solver's own refusal, or whose turn has to stay. */
function findingsOf({ hindrance }: WhatIf, person: string, unmentored: readonly Finding[]): readonly Finding[] {
  if (hindrance === null) return []
  if (hindrance.code === 'rule' && hindrance.faults.some(({ rule }) => rule === 'forbidden'))
    return [finding('O', 'forbidden', { person })]
  if (hindrance.code === 'rule' || hindrance.musts.length === 0)
    return unmentored.length > 0 ? unmentored : [finding('O', 'no-way-there', {})]
  return hindrance.musts.map(({ kind, turn: { person: whose, piece, shift, place } }) =>
    finding('O', 'stays-there', {
      piece,
      shift,
      ...(whose === '' ? {} : { person: whose }),
      ...(place === null ? {} : { place }),
      why: kind,
    }),
  )
}
