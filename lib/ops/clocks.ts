// A process that ends at its own time, such as an acid bath: whoever draws up the day has somebody there who may do it.
import { type Finding, put, type Records } from '#lib/words'
import { by, defineOp } from './op.ts'
import { must, unknown, unless } from './parts.ts'
import { judgeDate } from './wishes.ts'

export const setClock = defineOp<'setClock'>({
  kind: 'setClock',
  roles: by.staff,
  judge: (records, { stepId, endsAt }, _who, when): readonly Finding[] => {
    const step = records.step.get(stepId)
    if (!step) return [unknown('step', stepId)]
    return [
      ...unless(step.state === 'waiting' || step.state === 'begun', 'O', 'clock-closed', {
        step: stepId,
        piece: step.pieceId,
      }),
      ...(endsAt === null ? [] : judgeDate(endsAt.date, when)),
    ]
  },
  apply: (records, { stepId, endsAt }) => [put('step', { ...openStep(records, stepId), ...(endsAt && { endsAt }) })],
  inverse: (records, { stepId }, id) => ({
    id,
    kind: 'setClock',
    stepId,
    endsAt: records.step.get(stepId)?.endsAt ?? null,
  }),
})

/** The step without its clock. */
function openStep(records: Records, stepId: string) {
  const { endsAt: _, ...step } = must(records.step.get(stepId), 'a step')
  return step
}
