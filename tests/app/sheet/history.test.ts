// The history in words: known acts by their sentence, others by what they changed.
import { expect, it } from 'vitest'
import { put } from '#lib/words'
import { sayItem } from '../../../app/sheet/history.tsx'
import { aSmallLab, aSpecimen, aStep } from '../../kit/makers.ts'

const records = aSmallLab()

it('a kept act is told by its own sentence', () => {
  const op = { id: 'op1', kind: 'shelve', pieceId: 'skull', shelf: 'rack 2', placeId: null }
  expect(sayItem({ kind: 'shelve', op, changes: [] }, records)).toBe('shelved N-skull at rack 2')
})

it('an act on something that is gone names it from its own changes', () => {
  const gone = aStep({ id: 'gone-1', pieceId: 'gone', title: 'Clean the left side' })
  const op = { id: 'op1', kind: 'finishStep', stepId: 'gone-1' }
  expect(sayItem({ kind: 'finishStep', op, changes: [put('step', gone)] }, records)).toBe(
    'finished “Clean the left side”',
  )
})

it('an act one may see only in part, or that is no longer known, is told by what it changed', () => {
  const changes = [put('specimen', aSpecimen()), put('step', aStep())]
  expect(sayItem({ kind: 'mystery', op: null, changes }, records)).toBe('changed the specimen and a step')
  expect(sayItem({ kind: 'mystery', op: { kind: 'mystery' }, changes: [] }, records)).toBe('mystery')
})
