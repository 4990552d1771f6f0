/**
 * Chance by counter instead of by stream: each draw is a hash of the seed, the future's number and what is drawn for
 * (a step, a piece, a person on a day). So any worker can run any future and get the same one, and the same future of
 * a changed season keeps the same rock, the same illnesses: common random numbers (Law, Simulation Modeling and
 * Analysis, on comparing alternatives). The mixer is the 32-bit finalizer of MurmurHash3 (Appleby, public domain).
 */
import { normalQuantile } from '#lib/base'

/** A whole 32-bit number whose every bit hangs on every bit of `word`. */
export function mix(word: number): number {
  let h = word
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}

/** A 32-bit number for an id, the same in every season that has it. */
export function saltOf(id: string): number {
  let h = 0x811c9dc5
  for (let i = 0; i < id.length; i++) h = Math.imul(h ^ id.charCodeAt(i), 0x01000193)
  return mix(h)
}

/** The key of one future; all its draws are mixed from it. */
export const keyOf = (seed: number, future: number): number => mix(mix(seed | 0) ^ Math.imul(future + 1, 0x9e3779b9))

/** Steps of the normal table: 4 096 equal shares, the middle of each, so draws reach 3.5 deviations. */
const NORMAL_BITS = 12

/** Standard normal values for the upper twelve bits of a draw: `normals[draw >>> NORMAL_SHIFT]`. */
export const normals: Float64Array = Float64Array.from({ length: 1 << NORMAL_BITS }, (_, i) =>
  normalQuantile((i + 0.5) / (1 << NORMAL_BITS)),
)
export const NORMAL_SHIFT = 32 - NORMAL_BITS
