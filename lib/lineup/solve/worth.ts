/** What a turn is worth to the search: the units of PARTS, summed with their weights per quarter of an hour. */
import type { Problem, ProblemPerson, ProblemPiece, ProblemStep } from '../problem.ts'

/** Marks per quarter-hour of one person's turn on one step. */
export function turnValue(
  problem: Problem,
  person: ProblemPerson,
  piece: ProblemPiece,
  step: ProblemStep,
  level: number,
): number {
  const { weights } = problem
  const gentlest = gentlestForce(piece)
  const rungs = step.force === null || gentlest === null ? 0 : step.force - gentlest
  const turns = piece.hands.reduce((sum, hand) => (hand.person === person.id ? sum + hand.turns : sum), 0)
  const loves = person.loves.includes(piece.id) ? 100 : person.loves.includes(step.technique) ? 60 : 0
  const learning = person.learnsNext === step.technique ? 150 : level === 1 ? 100 : level === 2 ? 40 : 0
  return (
    weights.urgency * piece.urgencyPercent +
    weights.useful * 100 +
    weights.gentleness * Math.max(0, 100 - 12 * rungs) +
    weights.sameHands * Math.min(100, 25 * turns) +
    weights.learning * learning +
    weights.loves * loves +
    weights.fairness * (50 + Math.floor(((piece.appealPercent - 50) * (50 - person.goodSharePercent)) / 50)) +
    weights.notLast * step.neglectPercent
  )
}

/** Marks for staying on a piece in the very next shift. */
export function standingValue(problem: Problem): number {
  return problem.weights.sameHands * 200
}

function gentlestForce(piece: ProblemPiece): number | null {
  let least: number | null = null
  for (const step of piece.steps) {
    if (step.force === null || (step.force > piece.ceiling && !step.isEscalated)) continue
    if (least === null || step.force < least) least = step.force
  }
  return least
}
