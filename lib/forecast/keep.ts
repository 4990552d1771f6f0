// Forecasts are kept when they are made: as a step is begun, when what is known of it changes while it is in work, and
// with what became of it at the end. The board is compared with what was kept last, so that nothing is missed when the
// server was down, and nothing kept twice.
import type { RecordOf, Records, StepFacts } from '#lib/words'
import type { Past } from './learn.ts'
import { hoursOutlook } from './left.ts'
import { pertStep } from './pert.ts'
import { type Spread, spreadOf } from './spread.ts'

type Kept = RecordOf<'forecast'>
type Step = RecordOf<'step'>

/** At most so many at once, the bound of the act that keeps them; the rest comes with the next look. */
const KEPT_AT_ONCE = 200

/** What is kept of each step already, oldest first. */
export function keptByStep(records: Records): ReadonlyMap<string, readonly Kept[]> {
  const lists = new Map<string, Kept[]>()
  for (const one of records.forecast.values()) {
    const list = lists.get(one.stepId)
    if (list) list.push(one)
    else lists.set(one.stepId, [one])
  }
  for (const list of lists.values()) list.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1))
  return lists
}

/** What is to be kept now: forecasts by the board's own outlook, and ends. `at` is the instant, `on` the lab's date. */
export function toKeep(records: Records, { at, on }: { readonly at: string; readonly on: string }): readonly Kept[] {
  const outlook = hoursOutlook(records)
  const kept = keptByStep(records)
  let plain: ReturnType<typeof plainWays> | null = null
  const found: Kept[] = []
  for (const step of records.step.values()) {
    const last = kept.get(step.id)?.at(-1)
    const facts = outlook.factsOf(step)
    if (!facts) continue
    const why = whyKept(records, step, last, facts)
    if (why === null) continue
    plain ??= plainWays(kept)
    const left = outlook.leftOf(step)
    found.push({
      id: `${step.id}.${why}.${at.toLowerCase().replace(/[^0-9a-z]/g, '')}`,
      stepId: step.id,
      pieceId: step.pieceId,
      at,
      on,
      why,
      doneMinutes: step.doneMinutes,
      by: step.by,
      facts,
      left: left && rounded(left),
      beside: why === 'begun' && step.doneMinutes === 0 ? plain(step) : null,
    })
    if (found.length >= KEPT_AT_ONCE) break
  }
  return found
}

/** Why something is to be kept of a step now; null when all that is known of it is kept. */
function whyKept(records: Records, step: Step, last: Kept | undefined, facts: StepFacts): Kept['why'] | null {
  const isRunning = last?.why === 'begun' || last?.why === 'changed'
  switch (step.state) {
    case 'waiting':
      return null
    case 'begun': {
      if (!last || !isRunning) return 'begun'
      const assessed = records.specimen.get(step.pieceId)?.ratings.on ?? ''
      return assessed > last.on || !isSame(facts, last.facts) ? 'changed' : null
    }
    case 'done':
      // Hours corrected after the end are kept as another end; the last one counts.
      if (step.doneMinutes === 0 || (last?.why === 'finished' && last.doneMinutes === step.doneMinutes)) return null
      return 'finished'
    case 'dropped':
      return step.doneMinutes > 0 && last?.why !== 'dropped' ? 'dropped' : null
  }
}

const isSame = (a: StepFacts, b: StepFacts): boolean =>
  Object.entries(a).every(([key, value]) => Reflect.get(b, key) === value)

/** Four digits are more than anybody knows of hours. */
const rounded = ({ median, logSd }: Spread): Spread => ({
  median: Math.max(1e-3, Number(median.toPrecision(4))),
  logSd: Number(Math.min(20, logSd).toPrecision(4)),
})

/** What a lab without any finished steps takes for a step, and how many steps that belief weighs as much as. */
const USUAL_LOG_H = Math.log(10)
const USUAL_LOG_SD = 1.2
const USUAL_WEIGHT = 2

/** The plainer ways that a forecast is kept beside: all finished steps alike, those of the technique, what was typed. */
function plainWays(kept: ReadonlyMap<string, readonly Kept[]>): (step: Step) => NonNullable<Kept['beside']> {
  const all: number[] = []
  const byTechnique = new Map<string, number[]>()
  for (const list of kept.values()) {
    const last = list.at(-1)
    if (last?.why !== 'finished') continue
    const log = Math.log(last.doneMinutes / 60)
    all.push(log)
    byTechnique.set(last.facts.techniqueId, [...(byTechnique.get(last.facts.techniqueId) ?? []), log])
  }
  const lab = alike(all, USUAL_LOG_H, USUAL_LOG_SD)
  return ({ techniqueId, hours }) => {
    const { mean, sd } = pertStep(hours)
    return {
      lab: rounded(lab),
      like: rounded(alike(byTechnique.get(techniqueId) ?? [], Math.log(lab.median), lab.logSd)),
      typed: mean > 0 ? rounded(spreadOf(mean, sd)) : null,
    }
  }
}

/** Steps taken for alike: mean and spread of their log hours, drawn towards what was believed before. */
function alike(logs: readonly number[], usual: number, usualSd: number): Spread {
  const weight = logs.length + USUAL_WEIGHT
  const mean = (logs.reduce((sum, log) => sum + log, 0) + USUAL_WEIGHT * usual) / weight
  const squares =
    logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) + USUAL_WEIGHT * (usualSd ** 2 + (usual - mean) ** 2)
  return { median: Math.exp(mean), logSd: Math.sqrt(squares / weight) }
}

/**
 * The lab's past as it was kept, oldest end first, each step once: finished, or not finished with what it has taken so
 * far. Facts are those of its beginning, as a forecast has them.
 */
export function pastOf(records: Records, today: string): readonly Past[] {
  const past: (Past & { readonly at: string })[] = []
  for (const [stepId, list] of keptByStep(records)) {
    const first = list.find(({ why }) => why === 'begun') ?? list[0]
    const last = list.at(-1)
    if (!first || !last) continue
    const { facts, pieceId } = first
    const isOver = last.why === 'finished' || last.why === 'dropped'
    // Still in work: the board knows what it has taken by now. At rest in the archive: what was known last.
    const step = isOver ? undefined : records.step.get(stepId)
    const minutes = step?.doneMinutes ?? last.doneMinutes
    if (minutes === 0) continue
    const by = step?.by ?? last.by
    const on = step ? today : last.on
    past.push({ facts, pieceId, minutes, isOpen: last.why !== 'finished', on, by, at: step ? today : last.at })
  }
  return past.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0))
}
