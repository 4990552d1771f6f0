/** A day on which some steps may have fewer turns than their hours would bear: other days of the week need them. */
import type { Problem } from '../problem.ts'

/** Names a step of a piece in tables. */
export const stepKey = (turn: { readonly piece: string; readonly step: string | null }): string =>
  `${turn.piece}\n${turn.step}`

/**
 * The problem with at most so many turns on each step named by `stepKey`; a step with none left is taken out. What has
 * to be (holds, claims, begun work) is never cut.
 */
export function capTurns(problem: Problem, turnsMax: ReadonlyMap<string, number>): Problem {
  const musts = new Map<string, number>()
  const isOpen = new Set<string>()
  for (const must of [...problem.holds, ...problem.claims, ...problem.begun]) {
    if (must.step === null) isOpen.add(must.piece)
    musts.set(stepKey(must), (musts.get(stepKey(must)) ?? 0) + 1)
  }
  for (const clock of problem.clocks) isOpen.add(clock.piece)
  return {
    ...problem,
    pieces: problem.pieces.map((piece) => {
      if (isOpen.has(piece.id)) return piece
      const steps = piece.steps.flatMap((step) => {
        const key = stepKey({ piece: piece.id, step: step.id })
        const most = Math.max(turnsMax.get(key) ?? step.turnsLeft, musts.get(key) ?? 0)
        return most <= 0 ? [] : [{ ...step, turnsLeft: Math.min(step.turnsLeft, most) }]
      })
      return { ...piece, steps }
    }),
  }
}
