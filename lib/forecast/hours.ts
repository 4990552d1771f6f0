// Hours still to be worked. Each step's low, likely and high make a mean and a spread by PERT (Malcolm, Roseboom,
// Clark & Fazar 1959); what the lab's own finished steps took against their estimates corrects both, since stated
// ranges are known to be too narrow. A step longer in work than estimated is not nearly done: its time left is
// conditional on what it has taken already.
import { normalQuantile } from '#lib/base'
import type { RecordOf, Records } from '#lib/words'
import { type Spread, spreadOf } from './spread.ts'

export interface Estimate {
  readonly lowH: number
  readonly likelyH: number
  readonly highH: number
}

export interface Moments {
  readonly mean: number
  readonly sd: number
}

/** PERT: mean (a + 4m + b) / 6, standard deviation (b − a) / 6. */
export function pertStep({ lowH, likelyH, highH }: Estimate): Moments {
  return { mean: (lowH + 4 * likelyH + highH) / 6, sd: Math.abs(highH - lowH) / 6 }
}

/**
 * Means add; standard deviations add in quadrature when the steps are independent (`linkage` 0), and plainly when one
 * misjudgement makes all of them longer (`linkage` 1).
 */
export function pertPath(steps: readonly Moments[], linkage = 0): Moments {
  const mean = steps.reduce((sum, step) => sum + step.mean, 0)
  const apart = steps.reduce((sum, step) => sum + step.sd ** 2, 0)
  const together = steps.reduce((sum, step) => sum + step.sd, 0) ** 2
  return { mean, sd: Math.sqrt(apart + linkage * (together - apart)) }
}

/** How the lab's finished steps compare with their estimates. */
export interface Experience {
  /** Median of actual hours over estimated mean. */
  readonly ratio: number
  /** Spread of that ratio, standard deviation of its logarithm. */
  readonly logSd: number
  /** Finished steps behind it. */
  readonly count: number
}

/** Spread assumed before the lab has its own: wide, as published reference classes are. */
const UNKNOWN_LOG_SD = 0.45
/** Finished steps that weigh as much as that assumption. */
const PRIOR_STEPS = 12

/** What the board's finished steps teach; a lab without any gets a wide spread and no correction. */
export function experienceOf(records: Records): Experience {
  const logs: number[] = []
  for (const step of records.step.values()) {
    const { mean } = pertStep(step.hours)
    if (step.state === 'done' && step.doneMinutes > 0 && mean > 0) logs.push(Math.log(step.doneMinutes / 60 / mean))
  }
  const weight = logs.length + PRIOR_STEPS
  const centre = logs.reduce((sum, value) => sum + value, 0) / weight
  const squares = logs.reduce((sum, value) => sum + (value - centre) ** 2, 0)
  return {
    ratio: Math.exp(centre),
    logSd: Math.sqrt((squares + PRIOR_STEPS * UNKNOWN_LOG_SD ** 2) / weight),
    count: logs.length,
  }
}

/** Share of one step's misjudgement that the other steps of the piece have too: the same rock, the same bone. */
export const LINKAGE = 0.5
/** Before a piece is opened nobody knows what is in it. */
const UNSEEN_FACTOR = 1.6
/** Points of the grid on which a begun step is looked at. */
const GRID = 60

/** Hours left on the open steps of a piece; null when nothing is open, or nothing was ever planned. */
export function hoursLeft(
  steps: readonly RecordOf<'step'>[],
  experience: Experience,
  isUnseen: boolean,
): Spread | null {
  const open = steps.filter((step) => step.state === 'waiting' || step.state === 'begun')
  const moments = open.map((step) => leftOf(step, experience, isUnseen)).filter(({ mean }) => mean > 0)
  if (moments.length === 0) return null
  const { mean, sd } = pertPath(moments, LINKAGE)
  return spreadOf(mean, sd)
}

/** Hours left on one open step; null when nothing was ever planned for it. */
export function stepLeft(step: RecordOf<'step'>, experience: Experience, isUnseen: boolean): Spread | null {
  const { mean, sd } = leftOf(step, experience, isUnseen)
  return mean > 0 ? spreadOf(mean, sd) : null
}

function leftOf(step: RecordOf<'step'>, { ratio, logSd }: Experience, isUnseen: boolean): Moments {
  const pert = pertStep(step.hours)
  if (pert.mean <= 0) return { mean: 0, sd: 0 }
  const stated = spreadOf(pert.mean, pert.sd).logSd
  const spread: Spread = {
    median: pert.mean * ratio,
    logSd: Math.max(stated, logSd) * (isUnseen ? UNSEEN_FACTOR : 1),
  }
  return remainder(spread, step.doneMinutes / 60)
}

/** Mean and spread of what is left of an amount, given that it is more than what is done. */
function remainder(whole: Spread, doneH: number): Moments {
  let sum = 0
  let squares = 0
  let count = 0
  for (let i = 0; i < GRID; i++) {
    const left = whole.median * Math.exp(normalQuantile((i + 0.5) / GRID) * whole.logSd) - doneH
    if (left <= 0) continue
    sum += left
    squares += left ** 2
    count++
  }
  // Beyond all that was thought possible: a tenth of what it has taken so far is a fair guess, as uncertain as that.
  if (count < 3) return { mean: doneH * 0.1, sd: doneH * 0.1 }
  const mean = sum / count
  return { mean, sd: Math.sqrt(Math.max(0, squares / count - mean ** 2)) }
}
