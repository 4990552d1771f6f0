// What the cases of single ops are made of: the turn, and states of the small lab laid over it.
import type { Op } from '#lib/ops'
import { type Change, put, type RecordOf } from '#lib/words'
import { aDue, aSpecimen, aStep, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'

export type Body = { readonly kind: Op['kind']; readonly [field: string]: unknown }

export type Case = {
  /** Somebody who may, by name; the other roles that may are tried too unless the act is one's own. */
  readonly who: string
  readonly good: Omit<Body, 'kind'>
  readonly lab?: readonly Change[]
  /** The act is on what is one's own: only `who` can do this very one. */
  readonly isOwn?: true
  /** What refuses it: other fields or another lab, and the code. */
  readonly bad: readonly [code: string, over: Omit<Body, 'kind'>, lab?: readonly Change[]][]
}

export const oneTurn = { shiftId: 'morning', pieceId: 'skull', stepId: 'skull-1', placeId: 'b1' }
export const turn = { date: TODAY, ...oneTurn }
export const assignmentId = aTurn().id
export const posted = put('day', { id: TODAY, postedAt: NOW, postedBy: aTurn().by, times: 1, note: '' })
export const seated = put('assignment', aTurn())
export const claimed = put('assignment', aTurn({ how: 'claimed' }))
export const reseated = (personId = 'ana') => {
  const { id, date, shiftId, personId: whose, by } = aTurn({ personId })
  return put('reseat', { id, date, shiftId, personId: whose, was: null, by, at: NOW })
}
export const working = put('work', aWork())
export const paused = put('work', aWork({ state: 'paused' }))
export const finished = put('work', aWork({ state: 'finished' }))
export const lying = put('specimen', aSpecimen({ placeId: 'b1' }))
export const tied = put('specimen', aSpecimen({ placeId: 'b1', isTied: true }))
export const due = put('due', aDue())
export const doneStep = put('step', aStep({ state: 'done' }))
export const asked = put('signOffAsk', {
  id: 'ana.needle',
  personId: aTurn().personId,
  techniqueId: aStep().techniqueId,
  at: NOW,
  note: '',
})
export const question = (isAnswered: boolean) =>
  put('question', {
    id: 'q1',
    pieceId: aTurn().pieceId,
    by: aTurn().personId,
    at: NOW,
    text: 'which side?',
    answer: isAnswered ? { by: aTurn().by, at: NOW, text: 'left' } : null,
  })
export const watching = put('watch', { id: 'skull.ana', pieceId: aTurn().pieceId, personId: aTurn().personId })
export const restingOld: RecordOf<'resting'> = {
  id: aSpecimen({ id: 'old' }).id,
  jacket: null,
  specimen: aSpecimen({ id: 'old' }),
  steps: [aStep({ id: 'old-1', pieceId: 'old' })],
  dues: [],
  escalations: [],
  questions: [],
  watches: [],
  since: '2026-01-01',
}
export const atRest = put('resting', restingOld)
