// Hours still to be worked. A step not yet begun is a whole step. One that is begun has taken more than nothing: its
// whole hours are conditional on that, and where the surface still to be exposed was counted again, on that too. What
// somebody thinks is done in percent is not asked for: it sticks at ninety (common practice).
import { normalBelow } from '#lib/base'
import type { RecordOf, Records, Stage, StepFacts } from '#lib/words'
import { type Facts, factsOf, type Group } from './facts.ts'
import { type HoursModel, type LogHours, logHoursOf, type PieceSeen, pieceSeen, usualModel } from './model.ts'
import { type Spread, spreadOf } from './spread.ts'

type Step = RecordOf<'step'>

/** Hours left on one open step. */
interface StepLeft extends Spread {
  /** Share of the variance of log hours that the piece's other steps have too, 0 to 1. */
  readonly linkage: number
}

/** What the lab's past teaches, ready to be asked about many steps. */
export interface HoursOutlook {
  readonly model: HoursModel
  /** Hours left on an open step; null when it is over, or its technique is not the lab's. */
  readonly leftOf: (step: Step) => StepLeft | null
  /** Log hours of the whole step. */
  readonly wholeOf: (step: Step) => LogHours | null
  readonly factsOf: (step: Step) => StepFacts | null
}

/** What is known before a lab has taught anything; made once. */
let usual: HoursModel | null = null

/** The outlook by the board's own model, or by common practice where there is none yet. */
export function hoursOutlook(records: Records): HoursOutlook {
  usual ??= usualModel()
  const model: HoursModel = records.hours.get('hours') ?? usual
  const facts = factsOf(records)
  const done = new Map<string, { readonly facts: Facts; readonly minutes: number }[]>()
  for (const step of records.step.values()) {
    const known = facts.get(step.id)
    if (step.state !== 'done' || step.doneMinutes === 0 || !known) continue
    const list = done.get(step.pieceId)
    if (list) list.push({ facts: known, minutes: step.doneMinutes })
    else done.set(step.pieceId, [{ facts: known, minutes: step.doneMinutes }])
  }
  const seen = new Map<string, PieceSeen>()
  for (const [pieceId, list] of done) seen.set(pieceId, pieceSeen(model, list))
  const hands = new Map((records.hours.get('hours')?.byHands ?? []).map((one) => [one.stepId as string, one]))

  const wholeOf = (step: Step): LogHours | null => {
    const known = facts.get(step.id)
    return known ? logHoursOf(model, known, seen.get(step.pieceId) ?? null, hands.get(step.id) ?? null) : null
  }
  const leftOf = (step: Step): StepLeft | null => {
    if (step.state !== 'waiting' && step.state !== 'begun') return null
    const whole = wholeOf(step)
    const known = facts.get(step.id)
    if (!whole || !known) return null
    const share = countedShare(step, known.group, records.specimen.get(step.pieceId), Math.exp(whole.mean))
    return { ...leftGiven(whole, step.doneMinutes / 60, share), linkage: whole.shared / (whole.shared + whole.own) }
  }
  return { model, leftOf, wholeOf, factsOf: (step) => facts.get(step.id) ?? null }
}

/** Hours left on all open steps of a piece together; null when none is open. */
export function pieceLeft(steps: readonly Step[], { leftOf }: Pick<HoursOutlook, 'leftOf'>): Spread | null {
  const parts = steps.flatMap((step) => leftOf(step) ?? [])
  if (parts.length === 0) return null
  // Means add. Two lognormals whose logarithms have the covariance c have the covariance m₁m₂(e^c − 1).
  const means = parts.map(({ median, logSd }) => median * Math.exp(logSd ** 2 / 2))
  let variance = 0
  parts.forEach((a, i) => {
    parts.forEach((b, j) => {
      const c = i === j ? a.logSd ** 2 : Math.sqrt(a.linkage * b.linkage) * a.logSd * b.logSd
      variance += (means[i] ?? 0) * (means[j] ?? 0) * Math.expm1(c)
    })
  })
  return spreadOf(
    means.reduce((sum, mean) => sum + mean, 0),
    Math.sqrt(variance),
  )
}

const stages: readonly Stage[] = ['sealed', 'opened', 'exposing', 'joining', 'stabilised', 'housed', 'released']
/** The stage with which a group's work is behind a specimen. */
const behindAt: Partial<Record<Group, Stage>> = {
  opening: 'opened',
  exposing: 'joining',
  joining: 'stabilised',
  housing: 'housed',
}
/** What is left of a begun step when the specimen has gone on to the next stage: loose ends. */
const LOOSE_ENDS = 0.1
/** A step that has taken less than this share of its hours was begun at the later stage: the stage says nothing of it. */
const HARDLY_BEGUN = 0.25

/** Share of a begun step still to be done, as far as it was counted; null when it was not. */
function countedShare(
  step: Step,
  group: Group,
  specimen: RecordOf<'specimen'> | undefined,
  wholeH: number,
): number | null {
  if (step.state !== 'begun' || !specimen) return null
  const behind = behindAt[group]
  const isBehind = behind !== undefined && stages.indexOf(specimen.stage) >= stages.indexOf(behind)
  if (isBehind && step.doneMinutes / 60 > HARDLY_BEGUN * wholeH) return LOOSE_ENDS
  const { begunCm2 } = step
  if (group !== 'exposing' || begunCm2 === undefined || begunCm2 === 0) return null
  const share = specimen.ratings.toExposeCm2 / begunCm2
  // As it was when it was begun: nobody has counted since. More than then: what came out makes the whole step longer.
  return share < 1 ? share : null
}

/**
 * How unevenly surface and hours go together: log spread of the whole as told by what is done. It grows gently towards the
 * beginning, so that more surface left never means fewer hours left.
 */
const UNEVEN_LOG_SD = 0.35
/** A step never has less left than this, as a share of what it has taken: somebody still calls it begun. */
const LEAST_SHARE = 0.02

/** Hours left of a whole step, given what was worked and, where it was counted, the share still to be done. */
export function leftGiven(
  whole: Pick<LogHours, 'mean' | 'shared' | 'own'>,
  doneH: number,
  share: number | null,
): Spread {
  const variance = whole.shared + whole.own
  if (doneH <= 0) return { median: Math.exp(whole.mean) * (share ?? 1), logSd: Math.sqrt(variance) }
  if (share === null) return beyond(whole.mean, Math.sqrt(variance), doneH)
  const left = Math.max(LEAST_SHARE, share)
  // So much of the surface took so many hours: a second witness of the whole, the better the more is done.
  const uneven = UNEVEN_LOG_SD ** 2 * left * (1 + left)
  const weight = 1 / variance + 1 / uneven
  const mean = (whole.mean / variance + Math.log(doneH / Math.max(LEAST_SHARE, 1 - left)) / uneven) / weight
  return { median: left * Math.exp(mean), logSd: Math.sqrt(1 / weight + uneven) }
}

/** Below this chance a lognormal's own tail says nothing any more. */
const HARDLY = 1e-12

/**
 * What is left of a lognormal amount of which `done` is gone: T − d given T > d, by its exact mean and variance
 * (E[T^k; T > d] = e^(kμ + k²σ²/2)·Φ(kσ − z), z = (ln d − μ)/σ), as a lognormal again.
 */
function beyond(mean: number, sd: number, done: number): Spread {
  const z = (Math.log(done) - mean) / sd
  const above = normalBelow(-z)
  if (above < HARDLY) return spreadOf(done * 0.1, done * 0.1)
  const first = (Math.exp(mean + sd ** 2 / 2) * normalBelow(sd - z)) / above
  const second = (Math.exp(2 * mean + 2 * sd ** 2) * normalBelow(2 * sd - z)) / above
  const left = Math.max(done * LEAST_SHARE, first - done)
  return spreadOf(left, Math.max(0.3 * left, Math.sqrt(Math.max(0, second - first ** 2))))
}
