// The forecasts that the demo lab would have kept in its year: the logs are gone through day by day, each step is begun
// and ended as they say, and what would have been kept then is kept. Nothing is made up to look good.
import { learn, pastOf, toKeep } from '#lib/forecast'
import { type Change, noRecords, put, type Records, withChanges } from '#lib/words'

/** Ends from one learning to the next; the lab itself learns at each. */
const LEARN_EVERY = 8

/** The forecasts of a lab's whole year, as puts. */
export function demoForecasts(changes: readonly Change[]): readonly Change[] {
  const lab = withChanges(noRecords(), changes)
  const corrected = new Set([...lab.log.values()].map((log) => log.corrects))
  const logs = [...lab.log.values()].filter(({ id }) => !corrected.has(id))
  logs.sort((a, b) => (a.startedAt < b.startedAt ? -1 : 1))
  const left = new Map<string, number>()
  for (const { stepId } of logs) left.set(stepId, (left.get(stepId) ?? 0) + 1)

  // The board as it was before the year: nothing begun, no specimen further than its first stage.
  let now: Records = withChanges(lab, [
    ...[...lab.step.values()].map((step) => put('step', { ...step, state: 'waiting', doneMinutes: 0, by: [] })),
    ...[...lab.specimen.values()].map((one) => put('specimen', { ...one, stage: 'opened' as const })),
  ])
  const kept: Change[] = []
  let ends = 0
  const keep = (at: string, on: string) => {
    const made = toKeep(now, { at, on }).map((one) => put('forecast', one))
    kept.push(...made)
    now = withChanges(now, made)
  }
  for (const log of logs) {
    const [step, written] = [now.step.get(log.stepId), lab.step.get(log.stepId)]
    if (!step || !written) continue
    if (step.state === 'waiting') {
      now = withChanges(now, [put('step', { ...step, state: 'begun' })])
      keep(log.startedAt, log.date)
    }
    const rest = (left.get(log.stepId) ?? 0) - 1
    left.set(log.stepId, rest)
    const isEnd = rest === 0 && written.state === 'done'
    const doneMinutes = (now.step.get(log.stepId)?.doneMinutes ?? 0) + log.minutes
    now = withChanges(now, [put('step', isEnd ? written : { ...written, state: 'begun', doneMinutes })])
    if (!isEnd) continue
    keep(log.finishedAt, log.date)
    if (++ends % LEARN_EVERY !== 0) continue
    now = withChanges(now, [put('hours', { id: 'hours', ...learn(pastOf(now, log.date)).model, byHands: [] })])
  }
  return kept
}
