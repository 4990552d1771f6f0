/** How long a step takes in a future. */
import { at, atDouble } from '#lib/base'
import { mix, NORMAL_SHIFT, normals } from './chance.ts'
import type { LabModel } from './model.ts'

/**
 * Minutes of hands left on a step in the future of a key: median · e^(σ·(shared · the piece's draw + own · its own)). At
 * least one.
 */
export function minutesOf(m: LabModel, key: number, step: number): number {
  const common = m.shared * atDouble(normals, mix(key ^ at(m.pieceSalt, at(m.stepPiece, step))) >>> NORMAL_SHIFT)
  const own = m.own * atDouble(normals, mix(key ^ at(m.stepSalt, step)) >>> NORMAL_SHIFT)
  const factor = Math.exp(atDouble(m.stepLogSd, step) * (common + own))
  return Math.max(1, Math.ceil(atDouble(m.stepMedian, step) * factor))
}

/** The same when everything takes its median time. */
export const medianMinutesOf = (m: LabModel, step: number): number =>
  Math.max(1, Math.ceil(atDouble(m.stepMedian, step)))
