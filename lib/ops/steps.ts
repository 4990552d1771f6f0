// The steps of a piece: planned, changed, dropped, done, taken up again. Hours done come from work alone.
import { pieceOf } from '#lib/rules'
import { type Finding, finding, put, type Records, type Step } from '#lib/words'
import { by, defineOp } from './op.ts'
import { begunWork, formerOf, must, openFrom, patched, unknown, unless } from './parts.ts'
import { judgeNewSteps, judgeStep, stepsOf } from './steps-check.ts'

export const addStep = defineOp<'addStep'>({
  kind: 'addStep',
  roles: by.staff,
  judge: (records, { step }) =>
    pieceOf(records, step.pieceId)
      ? judgeNewSteps(records, step.pieceId, [step], stepsOf(records, step.pieceId))
      : [unknown('piece', step.pieceId)],
  apply: (_records, { step }) => [put('step', step)],
  inverse: (_records, { step }, id) => ({ id, kind: 'dropStep', stepId: step.id }),
})

export const editStep = defineOp<'editStep'>({
  kind: 'editStep',
  roles: by.staff,
  keepsDays: true,
  judge: (records, { stepId, patch }) => {
    const step = records.step.get(stepId)
    if (!step) return [unknown('step', stepId)]
    const isOtherTechnique = patch.techniqueId !== undefined && patch.techniqueId !== step.techniqueId
    return [
      // Hours were logged with the technique as it is; another technique is another step.
      ...unless(!isOtherTechnique || step.state === 'waiting', 'O', 'step-begun', { step: stepId }),
      ...judgeStep(records, patched(step, patch), stepsOf(records, step.pieceId)),
    ]
  },
  apply: (records, { stepId, patch }) => [put('step', patched(must(records.step.get(stepId), 'a step'), patch))],
  inverse: (records, { stepId, patch }, id) => {
    const step = records.step.get(stepId)
    return step ? { id, kind: 'editStep', stepId, patch: formerOf(step, patch) } : null
  },
})

/** A step that is open, and nobody at it just now. */
function judgeClosing(records: Records, stepId: string): readonly Finding[] {
  const step = records.step.get(stepId)
  if (!step) return [unknown('step', stepId)]
  const work = begunWork(records).find((one) => one.stepId === stepId)
  return [
    ...unless(isOpen(step), 'O', `step-${step.state}`, { step: stepId, piece: step.pieceId }),
    ...(work ? [finding('O', 'still-worked', { piece: step.pieceId, step: stepId, person: work.personId })] : []),
  ]
}

const isOpen = (step: Readonly<Step>) => step.state === 'waiting' || step.state === 'begun'

export const dropStep = defineOp<'dropStep'>({
  kind: 'dropStep',
  roles: by.staff,
  judge: (records, { stepId }, _who, when) => {
    const turn = openFrom(records, when.date).find((one) => one.stepId === stepId)
    const ids = turn && { step: stepId, piece: turn.pieceId, person: turn.personId, assignment: turn.id }
    return [...judgeClosing(records, stepId), ...(ids ? [finding('O', 'step-assigned', ids)] : [])]
  },
  apply: (records, { stepId }) => [put('step', { ...must(records.step.get(stepId), 'a step'), state: 'dropped' })],
  inverse: (_records, { stepId }, id) => ({ id, kind: 'reopenStep', stepId }),
})

export const finishStep = defineOp<'finishStep'>({
  kind: 'finishStep',
  roles: by.staff,
  judge: (records, { stepId }) => judgeClosing(records, stepId),
  apply: (records, { stepId }) => [put('step', { ...must(records.step.get(stepId), 'a step'), state: 'done' })],
  inverse: (_records, { stepId }, id) => ({ id, kind: 'reopenStep', stepId }),
})

export const reopenStep = defineOp<'reopenStep'>({
  kind: 'reopenStep',
  roles: by.staff,
  judge: (records, { stepId }) => {
    const step = records.step.get(stepId)
    if (!step) return [unknown('step', stepId)]
    return unless(!isOpen(step), 'O', 'step-open', { step: stepId, piece: step.pieceId })
  },
  apply: (records, { stepId }) => {
    const step = must(records.step.get(stepId), 'a step')
    return [put('step', { ...step, state: step.by.length > 0 ? 'begun' : 'waiting' })]
  },
  inverse: (records, { stepId }, id) =>
    records.step.get(stepId)?.state === 'dropped'
      ? { id, kind: 'dropStep', stepId }
      : { id, kind: 'finishStep', stepId },
})
