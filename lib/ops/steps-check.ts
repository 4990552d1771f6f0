// What must be true of steps wherever they come in: with a new piece, one by one, or edited.
import { techniqueOf } from '#lib/rules'
import { type Finding, finding, type Records, type Step } from '#lib/words'
import { unless } from './parts.ts'
import { STEPS_MAX } from './shapes/pieces.ts'

/** Findings against new steps of a piece that has `present` already. Hours done come from work alone. */
export function judgeNewSteps(
  records: Records,
  pieceId: string,
  steps: readonly Readonly<Step>[],
  present: readonly Readonly<Step>[],
): readonly Finding[] {
  const all = [...present, ...steps]
  const isTwice = new Set(all.map((step) => step.id)).size < all.length
  return [
    ...unless(all.length <= STEPS_MAX, 'O', 'too-many', { piece: pieceId }, { most: STEPS_MAX }),
    ...unless(!isTwice, 'O', 'id-taken', { piece: pieceId }),
    ...steps.flatMap((step) => [
      ...unless(!records.step.has(step.id), 'O', 'id-taken', { step: step.id }),
      ...unless(step.pieceId === pieceId, 'O', 'step-of-other', { step: step.id, piece: step.pieceId }),
      ...unless(step.state === 'waiting' && step.doneMinutes === 0 && step.by.length === 0, 'O', 'step-not-new', {
        step: step.id,
      }),
      ...judgeStep(records, step, all),
    ]),
  ]
}

/** Findings against one step as it would be, among all steps of its piece. */
export function judgeStep(records: Records, step: Readonly<Step>, all: readonly Readonly<Step>[]): readonly Finding[] {
  const { lowH, likelyH, highH } = step.hours
  const strange = step.after.find((id) => !all.some((other) => other.id === id))
  return [
    ...unless(techniqueOf(records, step.techniqueId), 'O', 'unknown-technique', { technique: step.techniqueId }),
    ...unless(lowH <= likelyH && likelyH <= highH, 'O', 'hours-order', { step: step.id }, { lowH, likelyH, highH }),
    ...unless(step.peopleMin <= step.peopleMax, 'O', 'people-order', { step: step.id }),
    ...(strange === undefined ? [] : [finding('O', 'unknown-step', { step: strange })]),
    ...unless(!isInCircle(step, all), 'O', 'steps-circle', { step: step.id }),
  ]
}

/** True when a step would wait for itself. */
function isInCircle(step: Readonly<Step>, all: readonly Readonly<Step>[]): boolean {
  const byId = new Map<string, Readonly<Step>>(all.map((one) => [one.id, one]))
  byId.set(step.id, step)
  const seen = new Set<string>()
  const ahead: string[] = [...step.after]
  // Bounded by the number of steps: each is looked at once.
  for (let id = ahead.pop(); id !== undefined; id = ahead.pop()) {
    if (id === step.id) return true
    if (seen.has(id)) continue
    seen.add(id)
    ahead.push(...(byId.get(id)?.after ?? []))
  }
  return false
}

/** All steps of a piece. */
export function stepsOf(records: Records, pieceId: string): readonly Readonly<Step>[] {
  return [...records.step.values()].filter((step) => step.pieceId === pieceId)
}
