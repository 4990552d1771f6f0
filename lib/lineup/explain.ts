/**
 * Why the line-up is as it is, as data: for each turn the parts that decided and the runner-up, for each person
 * without work and each dated piece not worked on the rule that binds and the smallest change that would let it in.
 * A promised change is true of the line-up as it stands: make it, add the named turn, and no rule is broken.
 */
import { appraise, appraiseTurn, minutesIn, scoreOf } from './appraise.ts'
import { applyChange, type Change, sizeOf } from './change.ts'
import { type Room, roomOf, stepOf, type Way, wayTo } from './obstacles.ts'
import { type Assignment, PARTS, type Part, type Problem, type ProblemPiece, type Solution } from './problem.ts'
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

export interface LeftOut {
  readonly kind: 'person' | 'piece'
  readonly id: string
  /** The shift in which a person is idle; null for a piece, which is left out all day. */
  readonly shift: string | null
  /**
   * What binds: the code of the smallest change; `fits` when it would fit but costs more than it earns; `nothing`
   * when no single small change helps.
   */
  readonly code: Change['code'] | 'fits' | 'nothing'
  readonly change: Change | null
  /** The turn that the change makes possible. */
  readonly turn: Assignment | null
}

export interface Explanation {
  readonly reasons: readonly Reason[]
  readonly leftOut: readonly LeftOut[]
}

/** Explains a whole line-up. */
export function explain(problem: Problem, solution: Solution): Explanation {
  return {
    reasons: solution.lineUp.map((turn) => reasonFor(problem, solution, turn)),
    leftOut: [...idlePeople(problem, solution), ...idlePieces(problem, solution)],
  }
}

/** Why one turn is as it is. */
function reasonFor(problem: Problem, solution: Solution, turn: Assignment): Reason {
  const others = solution.lineUp.filter((entry) => entry !== turn)
  const room = roomOf(problem, others)
  const mine = appraiseTurn(problem, room.lookup, turn)
  const before = scoreOf(appraise(problem, others))
  const alternatives: { readonly turn: Assignment; readonly marks: number }[] = []
  const sums: Partial<Record<Part, number>> = {}
  for (const way of waysOf(room, turn.person, turn.shift)) {
    if (way.changes.length > 0) continue
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
    .filter((entry) => isFree || verifyRules(problem, [...others, entry.turn]).length === 0)
    .map((entry) => ({ turn: entry.turn, gain: scoreOf(appraise(problem, [...others, entry.turn])) - before }))
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

function idlePeople(problem: Problem, solution: Solution): readonly LeftOut[] {
  const room = roomOf(problem, solution.lineUp)
  const busy = new Set(solution.lineUp.map((turn) => `${turn.person}\n${turn.shift}`))
  const left: LeftOut[] = []
  for (const shift of room.lookup.order) {
    for (const person of problem.people) {
      if (busy.has(`${person.id}\n${shift}`) || minutesIn(room.lookup, person.id, shift) < 15) continue
      left.push(binding(room, 'person', person.id, shift, waysOf(room, person.id, shift)))
    }
  }
  return left
}

function idlePieces(problem: Problem, solution: Solution): readonly LeftOut[] {
  const room = roomOf(problem, solution.lineUp)
  const worked = new Set(solution.lineUp.map((turn) => turn.piece))
  const busy = new Set(solution.lineUp.map((turn) => `${turn.person}\n${turn.shift}`))
  const left: LeftOut[] = []
  for (const piece of problem.pieces) {
    if (piece.urgencyPercent === 0 || worked.has(piece.id) || piece.steps.length === 0) continue
    const ways: Way[] = []
    for (const shift of room.lookup.order) {
      for (const person of problem.people) {
        if (busy.has(`${person.id}\n${shift}`) || minutesIn(room.lookup, person.id, shift) < 15) continue
        ways.push(...waysToPiece(room, person.id, shift, piece))
      }
    }
    const fromOutside = ways.some((way) => way.changes.length <= 1) ? [] : newcomers(room, piece)
    left.push(binding(room, 'piece', piece.id, null, [...ways, ...fromOutside]))
  }
  return left
}

/** One more person, as a last resort: with everybody busy, it is hands that are missing. */
function newcomers(room: Room, piece: ProblemPiece): readonly Way[] {
  const ways: Way[] = []
  for (const shift of room.lookup.order) {
    for (const step of piece.steps) {
      const level = Math.max(step.level, piece.isDelicate ? 3 : 2)
      const change: Change = { code: 'person', id: 'one more', shift, technique: step.technique, level }
      const wider = roomOf(applyChange(room.problem, change), room.lineUp)
      for (const way of waysToPiece(wider, change.id, shift, piece)) {
        if (way.turn.step === step.id) ways.push({ turn: way.turn, changes: [change, ...way.changes] })
      }
    }
  }
  return ways
}

function waysOf(room: Room, person: string, shift: string): readonly Way[] {
  return room.problem.pieces.flatMap((piece) => waysToPiece(room, person, shift, piece))
}

function waysToPiece(room: Room, person: string, shift: string, piece: ProblemPiece): readonly Way[] {
  const ways: Way[] = []
  for (const step of piece.steps) {
    let least: Way | null = null
    for (const place of room.problem.places) {
      const way = wayTo(room, person, shift, piece, step, place)
      if (way === null) continue
      if (least === null || weightOf(way) < weightOf(least)) least = way
    }
    if (least !== null) ways.push(least)
  }
  return ways
}

function weightOf(way: Way): number {
  return way.changes.reduce((sum, change) => sum + sizeOf(change), 0)
}

function binding(
  room: Room,
  kind: 'person' | 'piece',
  id: string,
  shift: string | null,
  ways: readonly Way[],
): LeftOut {
  const worth = (way: Way): number => scoreOf(appraiseTurn(room.problem, room.lookup, way.turn))
  const single = ways
    .filter((way) => way.changes.length <= 1)
    .sort((a, b) => weightOf(a) - weightOf(b) || worth(b) - worth(a) || (a.turn.piece < b.turn.piece ? -1 : 1))[0]
  if (single === undefined) return { kind, id, shift, code: 'nothing', change: null, turn: null }
  const change = single.changes[0] ?? null
  return { kind, id, shift, code: change?.code ?? 'fits', change, turn: single.turn }
}
