// The hours model as it is handed about: what a fit has learnt, small enough to lie on the board, with nothing in it
// about any one person. Whoever has it can forecast any step from its facts alone, in the browser as on the server.
import type { HoursLearnt } from '#lib/words'
import { BIAS, biasSd, type Cell, FIRST_YEAR_SD, LEARNING, TRUST, usualScales, usualTrust, YEAR } from './beliefs.ts'
import type { Facts } from './facts.ts'
import { columnsOf, priorSd, usualLogH } from './practice.ts'

/** What the lab's past teaches, field by field as in #lib/words. */
export type HoursModel = Readonly<Omit<HoursLearnt, 'id' | 'byHands'>>

/** The model of a lab that has finished nothing yet: common practice, with all its ignorance. */
export function usualModel(): HoursModel {
  const effects: readonly (readonly [string, number])[] = [
    ...Object.entries(priorSd),
    [LEARNING.key, LEARNING.sd],
    [BIAS, biasSd],
    [TRUST, usualTrust.sd],
    [YEAR, FIRST_YEAR_SD],
  ]
  const { noise, piece, technique, hands, trust } = usualScales
  return {
    keys: effects.map(([key]) => key),
    mean: effects.map(() => 0),
    covariance: effects.flatMap(([, sd], i) => [...effects.slice(0, i).map(() => 0), sd ** 2]),
    ...{ noise: [noise[0], noise[1]], piece, technique, hands, trust },
    ...{ skill: 0, widen: 1, finished: 0, open: 0 },
  }
}

export const techniqueKey = (id: string) => `technique ${id}`
/** The part of a row that comes of the facts alone. */
export function rowOf(facts: Facts): { readonly facts: readonly Cell[]; readonly typed: number | null } {
  return {
    facts: columnsOf(facts).concat({ key: techniqueKey(facts.techniqueId), value: 1 }),
    typed: facts.typedH === null ? null : Math.log(facts.typedH),
  }
}

/** What is known about log hours of one step by a model. */
export interface LogHours {
  readonly mean: number
  /** Variance of what all steps of the piece share: effects not known well, and the piece's own. */
  readonly shared: number
  /** Variance of this step alone. */
  readonly own: number
  /** Of the mean: what the piece's finished steps and the hands it is in have to do with it. */
  readonly piece: number
  readonly hands: number
}

/** Facts with the piece's other steps taken into account: its own deviation, if some of it was seen. */
export interface PieceSeen {
  readonly mean: number
  readonly variance: number
}

/** Log hours of a whole step; `hands` where it is known whose it is in. */
export function logHoursOf(
  model: HoursModel,
  facts: Facts,
  piece: PieceSeen | null = null,
  hands: { readonly shift: number; readonly variance: number } | null = null,
): LogHours {
  const { vector, shift } = vectorOf(model, facts)
  const isTyped = facts.typedH !== null
  let mean = shift
  for (const { index, value } of vector) mean += (model.mean[index] ?? 0) * value
  const isKnown = vector.some(({ key }) => key === techniqueKey(facts.techniqueId))
  const factor = isTyped ? 1 - model.trust : 1
  const stretch = model.widen ** 2
  const shared =
    quadraticOf(model, vector) + (piece?.variance ?? model.piece) + (isKnown ? 0 : factor ** 2 * model.technique)
  const unseen = facts.isUnseen ? (factor * UNSEEN_LOG_SD) ** 2 : 0
  return {
    mean: mean + (piece?.mean ?? 0) + (hands?.shift ?? 0),
    shared: (shared + unseen) * stretch,
    own: ((model.noise[isTyped ? 1 : 0] ?? 0) + (hands?.variance ?? model.hands)) * stretch,
    piece: piece?.mean ?? 0,
    hands: hands?.shift ?? 0,
  }
}

/** Before a piece is opened its ratings are guesses. */
const UNSEEN_LOG_SD = 0.5

interface Placed extends Cell {
  readonly index: number
}

/** The cells of a step in the model's order, and the part of its mean that no effect moves. */
function vectorOf(model: HoursModel, facts: Facts): { readonly vector: readonly Placed[]; readonly shift: number } {
  const usual = usualLogH(facts) + LEARNING.mean * model.skill
  const row = rowOf(facts)
  const vector: Placed[] = []
  const factor = row.typed === null ? 1 : 1 - model.trust
  let differs = (row.typed ?? usual) - usual
  for (const { key, value } of row.facts) {
    const index = model.keys.indexOf(key)
    if (index < 0) continue
    vector.push({ index, key, value: factor * value })
    differs -= (model.mean[index] ?? 0) * value
  }
  const put = (key: string, value: number) => {
    const index = model.keys.indexOf(key)
    if (index >= 0) vector.push({ index, key, value })
  }
  put(YEAR, 1)
  put(LEARNING.key, model.skill)
  if (row.typed === null) return { vector, shift: usual }
  put(BIAS, 1)
  put(TRUST, differs)
  return { vector, shift: model.trust * row.typed + (1 - model.trust) * usual }
}

function quadraticOf({ covariance }: HoursModel, vector: readonly Placed[]): number {
  let sum = 0
  for (const a of vector) {
    for (const b of vector) {
      const [high, low] = a.index > b.index ? [a.index, b.index] : [b.index, a.index]
      sum += a.value * b.value * (covariance[(high * (high + 1)) / 2 + low] ?? 0)
    }
  }
  return sum
}

/** What a piece's finished steps say of it: they took so much longer or shorter than the model thought. */
export function pieceSeen(
  model: HoursModel,
  done: readonly { readonly facts: Facts; readonly minutes: number }[],
): PieceSeen {
  let weight = 1 / model.piece
  let sum = 0
  for (const { facts, minutes } of done) {
    const { mean, own } = logHoursOf(model, facts, { mean: 0, variance: 0 })
    weight += 1 / own
    sum += (Math.log(minutes / 60) - mean) / own
  }
  return { mean: sum / weight, variance: 1 / weight }
}
