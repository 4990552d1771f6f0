// Reasons and left-outs as the manager reads them: every code has a sentence, three at most.
import { expect, test } from 'vitest'
import type { Change, LeftOut, Reason } from '#lib/lineup'
import { put } from '#lib/words'
import { sayLeftOut, sayReason } from '../../../app/floor/lineup/say.ts'
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
    'Next best: OB24-017 at M1.',
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
  expect(next('sk-2').at(-1)).toBe('Needle on it would be nearly as good.')
  expect(next('sk-1').at(-1)).toBe('It need not be carried.')
})

test('what somebody decided is said so', () => {
  expect(sayReason(board, { ...reason, code: 'held' }, about)).toEqual(['Held by hand.'])
  expect(sayReason(board, { ...reason, code: 'claimed' }, about)).toEqual(['Ines claimed it.'])
  expect(sayReason(board, { ...reason, code: 'begun' }, about)).toEqual(['Begun already, so it stays.'])
})

const changes: readonly Change[] = [
  { code: 'seat', place: 'm1', amount: 1 },
  { code: 'airLine', place: 'm1', amount: 1 },
  { code: 'load', place: 'm1', amount: 20 },
  { code: 'open', place: 'm1', shift: 'am' },
  { code: 'air', shift: 'am', amount: 30 },
  { code: 'level', person: 'ines', technique: 'needle', from: 1, to: 2 },
  { code: 'vibration', person: 'ines', amount: 10 },
  { code: 'noise', person: 'ines', amount: 10 },
  { code: 'classMinutes', person: 'ines', techniqueClass: 'air', amount: 10 },
  { code: 'people', piece: 'sk', step: 'sk-1', amount: 1 },
  { code: 'turns', piece: 'sk', step: 'sk-1', amount: 1 },
  { code: 'learners', amount: 1 },
  { code: 'person', id: 'one more', shift: 'am', technique: 'needle', level: 3 },
]

test.each(changes)('what would change it is said for $code', (change) => {
  const left: LeftOut = { kind: 'piece', id: 'sk', shift: null, code: change.code, change, turn: null }
  const said = sayLeftOut(board, left)
  expect(said).toMatch(/^[A-Z].*\. Would change .*\.$/)
  expect(said).not.toMatch(/undefined|NaN|that technique|somebody is/)
})

test('somebody who would have to come is not named', () => {
  const change: Change = { code: 'person', id: 'one more', shift: 'am', technique: 'needle', level: 3 }
  const turn = { person: 'one more', shift: 'am', piece: 'sk', step: 'sk-1', place: 'm1', mentor: null }
  expect(sayLeftOut(board, { kind: 'piece', id: 'sk', shift: null, code: 'person', change, turn })).toBe(
    'Nobody in is free with needle at level 3. Would change if somebody with needle came in the morning.',
  )
})
