/**
 * What the search knows before it starts: whose turns have options, which of them are worth most when what they use
 * is priced, and on what scale they differ.
 */
import { at, atDouble } from '#lib/base'
import type { Hand } from './journal.ts'
import type { Model } from './model.ts'

/** What the search knows before it starts: turns with options, options by value, jobs for several, the scale. */
export interface Guide {
  readonly turns: Int32Array
  /** Options of each turn, best first, as slices like the model's. */
  readonly ranked: Int32Array
  readonly groupJobs: Int32Array
  readonly spread: number
  readonly hasMentors: boolean
}

/** Ranks every turn's options and measures the scale of the temperature. */
export function guideOf(model: Model, reduced: Float64Array | undefined): Guide {
  const ranked = Int32Array.from(model.options)
  const turns: number[] = []
  const worth = new Float64Array(model.jobs)
  let spreadSum = 0
  for (let turn = 0; turn < model.persons * model.shifts; turn++) {
    const [start, end] = [at(model.optionsStart, turn), at(model.optionsStart, turn + 1)]
    if (end === start) continue
    turns.push(turn)
    const slice = ranked.subarray(start, end)
    slice.forEach((job, i) => {
      worth[job] = reduced === undefined ? at(model.value, turn * model.jobs + job) : atDouble(reduced, start + i)
    })
    slice.sort((a, b) => atDouble(worth, b) - atDouble(worth, a) || a - b)
    spreadSum += atDouble(worth, at(slice, 0)) - atDouble(worth, at(slice, Math.min(8, slice.length - 1)))
  }
  const groupJobs: number[] = []
  for (let j = 0; j < model.jobs; j++) if (at(model.jobMax, j) > 1) groupJobs.push(j)
  return {
    turns: Int32Array.from(turns),
    ranked,
    groupJobs: Int32Array.from(groupJobs),
    spread: turns.length === 0 ? 1 : Math.max(100, spreadSum / turns.length),
    hasMentors: model.learner.includes(1),
  }
}

/** How far down the ranking of a turn's options most draws go. */
const DEPTH = 16

/** An option of a turn, better ones likelier: the best of two drawn from the ranked list. */
export function pickOption(hand: Hand, guide: Guide, turn: number): number {
  const { model } = hand.state
  const start = at(model.optionsStart, turn)
  const count = at(model.optionsStart, turn + 1) - start
  // Mostly among the first few, now and then anywhere: the deep end is needed, but rarely.
  const depth = hand.random.below(8) === 0 ? count : Math.min(count, DEPTH)
  const draw = Math.min(hand.random.below(depth), hand.random.below(depth))
  return at(guide.ranked, start + draw)
}

/** Whether the person may do the job at all. */
export function isOption(model: Model, turn: number, job: number): boolean {
  return at(model.value, turn * model.jobs + job) >= 0
}
