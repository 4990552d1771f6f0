// What happens in one history: a list of acts, each with a seed of its own, so that a failed history can be played again
// with some of them left out.
import { seededRandom } from '#lib/base'

export const actKinds = {
  /** Somebody does something on their screen. */
  edit: 46,
  /** A client that does not ask itself first sends an op of any kind. */
  raw: 10,
  /** The server's own acts. */
  system: 2,
  undo: 3,
  sheet: 3,
  cut: 5,
  mend: 5,
  partition: 3,
  reload: 4,
  lead: 2,
  kill: 4,
  power: 2,
  full: 2,
  io: 2,
  second: 3,
  sleep: 1,
  jump: 1,
  skew: 1,
  move: 1,
} as const

export type ActKind = keyof typeof actKinds

export interface Act {
  readonly kind: ActKind
  readonly seed: number
}

const ACTS = 45

/** The acts of a seed. */
export function planOf(seed: number): readonly Act[] {
  const dice = seededRandom(seed)
  const kinds = Object.entries(actKinds).flatMap(([kind, weight]) => Array<ActKind>(weight).fill(kind as ActKind))
  return Array.from({ length: ACTS }, () => ({ kind: kinds[dice.below(kinds.length)] ?? 'edit', seed: dice.word() }))
}
