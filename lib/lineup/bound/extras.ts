/** What is the same at all prices: shares of staying on and of moves, and who could learn. */
import { at } from '#lib/base'
import { type Field, LEARNS } from './field.ts'

export interface Extras {
  /** With more than two shifts: each crew entry's share of staying on. */
  readonly stay: Float64Array
  /** What bringing the piece costs each site; a share of it with more than two shifts. */
  readonly move: Float64Array
  /** Rows of learners that anybody's turn could use: turn × techniques + technique. */
  readonly learnerRows: Int32Array
  /** The same by shift × techniques + technique. */
  readonly learners: readonly (readonly number[])[]
}

export function extrasOf(field: Field): Extras {
  const { model, cells, crewStart, crewTurn, siteStart } = field
  const { shifts: S, techniques: T } = model
  const stay = new Float64Array(crewTurn.length)
  const move = Float64Array.from(field.siteMove)
  const learners: number[][] = Array.from({ length: S * T }, () => [])
  const learnerRows = learnerRowsOf(field)
  for (const row of learnerRows) learners[(Math.floor(row / T) % S) * T + (row % T)]?.push(row)
  if (S <= 2) return { stay, move, learnerRows, learners }
  for (let piece = 0; piece < model.pieces; piece++) {
    const [start, end] = [at(field.pieceStart, piece), at(field.pieceStart, piece + 1)]
    const turns = new Set(crewTurn.subarray(at(crewStart, start), at(crewStart, end)))
    const open = new Set(cells.subarray(start, end).map((cell) => cell % S)).size
    for (let i = at(crewStart, start); i < at(crewStart, end); i++) {
      const turn = at(crewTurn, i)
      const before = turn % S > 0 && turns.has(turn - 1) ? 1 : 0
      const after = turn % S < S - 1 && turns.has(turn + 1) ? 1 : 0
      stay[i] = (model.stayValue / 2) * (before + after)
    }
    for (let i = at(siteStart, start); i < at(siteStart, end); i++) move[i] = at(field.siteMove, i) / Math.max(1, open)
  }
  return { stay, move, learnerRows, learners }
}

function learnerRowsOf(field: Field): Int32Array {
  const { model, cells, crewStart, crewTurn } = field
  const found = new Set<number>()
  for (let c = 0; c < cells.length; c++) {
    const t = at(model.jobTechnique, Math.floor(at(cells, c) / model.shifts))
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      if (at(field.crewKind, i) === LEARNS) found.add(at(crewTurn, i) * model.techniques + t)
    }
  }
  return Int32Array.from(found).sort()
}
