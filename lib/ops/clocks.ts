// A process that ends at its own time, such as an acid bath: whoever draws up the day has somebody there who may do it.
import { nearestTended, thereFor } from '#lib/rules'
import { type Finding, finding, put, type Records } from '#lib/words'
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
      ...(endsAt === null ? [] : [...judgeDate(endsAt.date, when), ...judgeTended(records, step.techniqueId, endsAt)]),
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

/** Somebody who may see to it is expected when it ends, or it is said why not. */
function judgeTended(
  records: Records,
  techniqueId: string,
  { date, time, despite }: { readonly date: string; readonly time: string; readonly despite?: string | undefined },
): readonly Finding[] {
  if ((despite ?? '').trim() !== '' || thereFor(records, techniqueId, date, time).length > 0) return []
  const nearest = nearestTended(records, techniqueId, date, time)
  return [finding('O', 'clock-untended', { date, time, technique: techniqueId, ...(nearest && { nearest }) })]
}

/** The step without its clock. */
function openStep(records: Records, stepId: string) {
  const { endsAt: _, ...step } = must(records.step.get(stepId), 'a step')
  return step
}
