/** The first order of pieces, before any search: dates first, then what is begun, then what is worth most an hour. */
import { add, at, atDouble } from '#lib/base'
import type { Aims } from './aims.ts'
import type { LabModel } from './model.ts'

/**
 * Accepted dates by their day, hard before soft; then pieces under way, those nearest their end first; then the others
 * by worth for each hour, opened before sealed. Asked dates are not promised, so they move nothing.
 */
export function firstOrder(model: LabModel, aims: Aims): Int32Array {
  const minutes = medianMinutes(model)
  const keys = new Float64Array(model.pieceIds.length)
  for (let piece = 0; piece < keys.length; piece++) {
    const worth = atDouble(aims.value, piece) / Math.max(60, at(minutes, piece))
    const rank = atDouble(aims.progress, piece) > 0 ? 2 - atDouble(aims.progress, piece) : 3 + at(aims.isUnseen, piece)
    keys[piece] = UNDATED * rank - worth
  }
  // Of several dates of one piece the earliest counts; the list is by date.
  for (const { piece, day, isHard, isAsked } of aims.dates.toReversed()) {
    if (!isAsked) keys[piece] = day + (isHard ? 0 : 0.5)
  }
  return Int32Array.from(
    Array.from(keys, (_, piece) => piece).sort((a, b) => atDouble(keys, a) - atDouble(keys, b) || a - b),
  )
}

/** Beyond any day of a season. */
const UNDATED = 100_000

/** Median minutes of hands left on each piece. */
function medianMinutes(model: LabModel): Int32Array {
  const minutes = new Int32Array(model.pieceIds.length)
  for (let s = 0; s < model.stepPiece.length; s++) {
    add(minutes, at(model.stepPiece, s), Math.ceil(atDouble(model.stepMedian, s)))
  }
  return minutes
}
