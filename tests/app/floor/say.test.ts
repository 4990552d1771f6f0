// Reasons as the manager reads them: three sentences at most, the cost last.
import { expect, test } from 'vitest'
import type { Reason } from '#lib/lineup'
import { put } from '#lib/words'
import { sayReason } from '../../../app/floor/lineup/say.ts'
import { person, place, records, specimen, step } from '../../lib/views/floor-kit.ts'

const board = records(
  put('person', person('ines', { name: 'Ines' })),
  put('place', place()),
  put('specimen', specimen('sk', { number: 'OB24-017' })),
  put('step', step('sk-1', 'sk', 'needle')),
)
const reason: Reason = {
  person: 'ines',
  shift: 'am',
  piece: 'sk',
  step: 'sk-1',
  place: 'm1',
  code: 'chosen',
  deciding: [
    { part: 'sameHands', marks: 3 },
    { part: 'loves', marks: 2 },
    { part: 'fewMoves', marks: 1 },
  ],
  runnerUp: null,
}
const about = { tag: null, mentor: null, level: 2, handTurns: 4 }

test('at most three sentences, the cost last', () => {
  const turn = { person: 'ines', shift: 'am', piece: 'sk', step: 'sk-1', place: 'm1', mentor: null }
  const elsewhere = { ...reason, place: 'a1', runnerUp: { turn, lossMarks: 50, lossPerMille: 40 } }
  const said = sayReason(board, elsewhere, about)
  expect(said).toEqual([
    'Ines has had four half-days on it in four weeks.',
    'Ines asked for needle.',
    'Next best: OB24-017 at M1, 4 % worse for the day.',
  ])
})

test('next best at the same seat is another step, never the same', () => {
  const turn = { person: 'ines', shift: 'am', piece: 'sk', step: 'sk-2', place: 'm1', mentor: null }
  const more = records(
    put('person', person('ines', { name: 'Ines' })),
    put('specimen', specimen('sk', { number: 'OB24-017' })),
    put('step', step('sk-2', 'sk', 'needle')),
  )
  const next = (stepId: string) =>
    sayReason(more, { ...reason, runnerUp: { turn: { ...turn, step: stepId }, lossMarks: 1, lossPerMille: 1 } }, about)
  expect(next('sk-2').at(-1)).toBe('Next best: needle on it, 0.1 % worse for the day.')
  expect(next('sk-1').at(-1)).toBe('It need not be carried.')
})

test('what somebody decided is said so', () => {
  expect(sayReason(board, { ...reason, code: 'held' }, about)).toEqual(['Held by hand.'])
  expect(sayReason(board, { ...reason, code: 'claimed' }, about)).toEqual(['Ines claimed it.'])
  expect(sayReason(board, { ...reason, code: 'begun' }, about)).toEqual(['Begun already, so it stays.'])
})
