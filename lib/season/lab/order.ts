/**
 * The order in which pieces are given what is scarce, as tables: each sort of work has a row of bits, one for each of
 * its steps, the most urgent lowest; a step's bit is set while it is ready to be worked on.
 */
import { add, at } from '#lib/base'
import { addBit } from './masks.ts'
import type { LabModel } from './model.ts'

export interface Order {
  /** Pieces, first come first served. */
  readonly pieces: Int32Array
  /** Place of each step in the order of all steps. */
  readonly stepRank: Int32Array
  /** First word of each sort's row, and one entry more. */
  readonly sortWord: Int32Array
  /** Bit of each step over all rows, and the step of each bit (-1 for none). */
  readonly stepBit: Int32Array
  readonly bitStep: Int32Array
  /** Bits of the steps that wait for nothing. */
  readonly readyAtFirst: Int32Array
}

/** The tables of an order of pieces; `pieces` names each piece once. Steps of a piece keep the order of its Sheet. */
export function orderOf(model: LabModel, pieces: Int32Array): Order {
  const steps = model.stepPiece.length
  const firstStep = firstSteps(model)
  const inOrder = new Int32Array(steps)
  const stepRank = new Int32Array(steps)
  let rank = 0
  for (let i = 0; i < pieces.length; i++) {
    const piece = at(pieces, i)
    for (let s = at(firstStep, piece); s < at(firstStep, piece + 1); s++) {
      inOrder[rank] = s
      stepRank[s] = rank++
    }
  }
  const sortWord = rowStarts(model)
  const next = sortWord.map((word) => word * 32)
  const words = at(sortWord, model.sorts.length)
  const stepBit = new Int32Array(steps)
  const bitStep = new Int32Array(words * 32).fill(-1)
  const readyAtFirst = new Int32Array(words)
  for (let i = 0; i < steps; i++) {
    const s = at(inOrder, i)
    const sort = at(model.stepSort, s)
    const bit = at(next, sort)
    add(next, sort, 1)
    stepBit[s] = bit
    bitStep[bit] = s
    if (at(model.stepWaits, s) === 0 && at(model.stepStuck, s) === 0) addBit(readyAtFirst, 0, bit)
  }
  return { pieces, stepRank, sortWord, stepBit, bitStep, readyAtFirst }
}

/** First step of each piece, and one entry more: the steps of a piece lie side by side. */
export function firstSteps({ pieceSteps }: LabModel): Int32Array {
  const first = new Int32Array(pieceSteps.length + 1)
  for (let piece = 0; piece < pieceSteps.length; piece++) first[piece + 1] = at(first, piece) + at(pieceSteps, piece)
  return first
}

function rowStarts({ sorts, stepSort }: LabModel): Int32Array {
  const count = new Int32Array(sorts.length)
  for (let s = 0; s < stepSort.length; s++) add(count, at(stepSort, s), 1)
  const start = new Int32Array(sorts.length + 1)
  for (let sort = 0; sort < sorts.length; sort++) start[sort + 1] = at(start, sort) + ((at(count, sort) + 31) >> 5)
  return start
}
