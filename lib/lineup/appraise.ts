/**
 * What a line-up is worth, part by part, from the plain problem alone: the units are told at PARTS in problem.ts.
 * This is the checker's count. It shares nothing with the search, so that a slip in either shows as a difference.
 */
import type { Assignment, MustRef, Part, Parts, Problem, ProblemPiece } from './problem.ts'

/** The problem's records by id, for code that reads a line-up. */
export interface Lookup {
  readonly person: ReadonlyMap<string, Problem['people'][number]>
  readonly shift: ReadonlyMap<string, Problem['shifts'][number]>
  readonly place: ReadonlyMap<string, Problem['places'][number]>
  readonly piece: ReadonlyMap<string, ProblemPiece>
  /** Shift ids in the order of the day. */
  readonly order: readonly string[]
}

/** Tables a problem by id. */
export function lookupOf(problem: Problem): Lookup {
  const order = [...problem.shifts].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
  return {
    person: new Map(problem.people.map((person) => [person.id, person])),
    shift: new Map(problem.shifts.map((shift) => [shift.id, shift])),
    place: new Map(problem.places.map((place) => [place.id, place])),
    piece: new Map(problem.pieces.map((piece) => [piece.id, piece])),
    order: order.map((shift) => shift.id),
  }
}

/** Minutes somebody is in during a shift. */
export function minutesIn(lookup: Lookup, personId: string, shiftId: string): number {
  const shift = lookup.shift.get(shiftId)
  const presence = lookup.person.get(personId)?.presence.find((entry) => entry.shift === shiftId)
  if (shift === undefined || presence === undefined) return 0
  return Math.max(0, Math.min(presence.to, shift.end) - Math.max(presence.from, shift.start))
}

/** The parts of one turn, without staying on and moves, which belong to the day. */
export function appraiseTurn(problem: Problem, lookup: Lookup, turn: Assignment): Parts {
  const parts = emptyParts()
  const person = lookup.person.get(turn.person)
  const piece = lookup.piece.get(turn.piece)
  const step = piece?.steps.find((entry) => entry.id === turn.step)
  if (person === undefined || piece === undefined || step === undefined) return parts
  const quarters = Math.floor(minutesIn(lookup, turn.person, turn.shift) / 15)
  const merit = (part: Part, percent: number): void => {
    parts[part] = problem.weights[part] * percent * quarters
  }
  const level = person.levels[step.technique] ?? 0
  const handTurns = piece.hands.filter((hand) => hand.person === person.id).reduce((sum, hand) => sum + hand.turns, 0)
  const ladder = piece.steps.flatMap((entry) =>
    entry.force !== null && (entry.force <= piece.ceiling || entry.isEscalated) ? [entry.force] : [],
  )
  const rungs = step.force === null || ladder.length === 0 ? 0 : step.force - Math.min(...ladder)
  merit('urgency', piece.urgencyPercent)
  merit('useful', 100)
  merit('gentleness', Math.max(0, 100 - 12 * rungs))
  merit('sameHands', Math.min(100, 25 * handTurns))
  const isNext = person.learnsNext === step.technique
  merit('learning', isNext ? 150 : ({ 1: 100, 2: 40 }[level] ?? 0))
  merit('loves', person.loves.includes(piece.id) ? 100 : person.loves.includes(step.technique) ? 60 : 0)
  merit('fairness', 50 + Math.floor(((piece.appealPercent - 50) * (50 - person.goodSharePercent)) / 50))
  merit('notLast', step.neglectPercent)
  return parts
}

/** The parts of a whole line-up. */
export function appraise(problem: Problem, lineUp: readonly Assignment[], lookup: Lookup = lookupOf(problem)): Parts {
  const parts = emptyParts()
  const pieceOf = new Map<string, string>()
  const broughtTo = new Map<string, Set<string>>()
  for (const turn of lineUp) {
    const own = appraiseTurn(problem, lookup, turn)
    for (const part of Object.keys(parts) as Part[]) parts[part] += own[part]
    pieceOf.set(`${turn.person}\n${turn.shift}`, turn.piece)
    const piece = lookup.piece.get(turn.piece)
    if (piece !== undefined && piece.at !== null && piece.at !== turn.place) {
      broughtTo.set(piece.id, (broughtTo.get(piece.id) ?? new Set()).add(turn.place))
    }
  }
  for (const person of problem.people) {
    for (let s = 1; s < lookup.order.length; s++) {
      const now = pieceOf.get(`${person.id}\n${lookup.order[s]}`)
      const before = pieceOf.get(`${person.id}\n${lookup.order[s - 1]}`)
      if (now !== undefined && now === before) parts.sameHands += problem.weights.sameHands * 200
    }
  }
  for (const [pieceId, places] of broughtTo) {
    const cost = lookup.piece.get(pieceId)?.moveCostPercent ?? 0
    parts.fewMoves -= problem.weights.fewMoves * 4 * cost * places.size
  }
  return parts
}

/** The sum of the parts. */
export function scoreOf(parts: Parts): number {
  return Object.values(parts).reduce((sum, marks) => sum + marks, 0)
}

/** The musts that a line-up does not keep, in the order begun, holds, claims, clocks. */
export function unmetMusts(
  problem: Problem,
  lineUp: readonly Assignment[],
  lookup: Lookup = lookupOf(problem),
): readonly MustRef[] {
  const unmet: MustRef[] = []
  for (const [kind, list] of [
    ['begun', problem.begun],
    ['hold', problem.holds],
    ['claim', problem.claims],
  ] as const) {
    list.forEach((must, index) => {
      const isKept = lineUp.some(
        (turn) =>
          turn.person === must.person &&
          turn.shift === must.shift &&
          turn.piece === must.piece &&
          (must.step === null || turn.step === must.step) &&
          (must.place === null || turn.place === must.place),
      )
      if (!isKept) unmet.push({ kind, index })
    })
  }
  problem.clocks.forEach((clock, index) => {
    const isKept = lineUp.some((turn) => {
      if (turn.shift !== clock.shift || turn.piece !== clock.piece) return false
      if (clock.step !== null && turn.step !== clock.step) return false
      const shift = lookup.shift.get(turn.shift)
      const person = lookup.person.get(turn.person)
      const presence = person?.presence.find((entry) => entry.shift === turn.shift)
      const step = lookup.piece.get(turn.piece)?.steps.find(({ id }) => id === turn.step)
      if (shift === undefined || person === undefined || presence === undefined || step === undefined) return false
      // A learner beside a mentor is not yet trained for it.
      if (person.levels[step.technique] === 1) return false
      return Math.max(presence.from, shift.start) <= clock.minute && clock.minute <= Math.min(presence.to, shift.end)
    })
    if (!isKept) unmet.push({ kind: 'clock', index })
  })
  return unmet
}

function emptyParts(): Record<Part, number> {
  return {
    urgency: 0,
    useful: 0,
    gentleness: 0,
    sameHands: 0,
    learning: 0,
    loves: 0,
    fairness: 0,
    notLast: 0,
    fewMoves: 0,
  }
}
