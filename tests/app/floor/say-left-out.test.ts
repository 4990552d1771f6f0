// What is left out as the manager reads it: what binds, what would change it, and whether that pays.
import { expect, test } from 'vitest'
import type { Change, LeftOut } from '#lib/lineup'
import { put } from '#lib/words'
import { sayLeftOut } from '../../../app/floor/lineup/say-left-out.ts'
import { person, place, records, specimen, step } from '../../lib/views/floor-kit.ts'

const board = records(
  put('person', person('ines', { name: 'Ines' })),
  put('place', place()),
  put('specimen', specimen('sk', { number: 'OB24-017' })),
  put('step', step('sk-1', 'sk', 'needle')),
)
const turn = { person: 'ines', shift: 'am', piece: 'sk', step: 'sk-1', place: 'm1', mentor: null }
const base: LeftOut = {
  kind: 'person',
  id: 'ines',
  shift: 'am',
  code: 'fits',
  changes: [],
  turns: [turn],
  isIncluded: true,
  lossPerMille: 0,
}

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
  { code: 'escalate', piece: 'sk', step: 'sk-1' },
  { code: 'untie', piece: 'sk' },
  { code: 'length', place: 'm1', amount: 12 },
  { code: 'fitting', place: 'm1', features: ['microscope'] },
  { code: 'allow', turn },
  { code: 'place', like: 'm1', id: 'm1 once more' },
  { code: 'mentor', id: 'one more', shift: 'am', technique: 'needle', level: 4 },
  { code: 'person', id: 'one more', shift: 'am', technique: 'needle', level: 3 },
]

test.each(changes)('what would change it is said for $code', (change) => {
  const said = sayLeftOut(board, { ...base, code: change.code, changes: [change] })
  expect(said).toMatch(/^[A-Z].*\. Would change with .*: OB24-017 at .*M1\.$/)
  expect(said).not.toMatch(/undefined|NaN|that technique|that place|somebody is/)
})

test('a seat and a mentor together, and what it would cost when it does not pay', () => {
  const seat: Change = { code: 'seat', place: 'm1', amount: 1 }
  const mentor: Change = { code: 'mentor', id: 'one more', shift: 'am', technique: 'needle', level: 4 }
  const both = { ...base, code: seat.code, changes: [seat, mentor] }
  expect(sayLeftOut(board, both)).toBe(
    'M1 is full. Nobody who mentors needle has a seat near. Would change with one more seat at M1 and a mentor for needle in the morning: OB24-017 at M1.',
  )
  expect(sayLeftOut(board, { ...both, changes: [seat], isIncluded: false, lossPerMille: 31 })).toBe(
    'M1 is full. With one more seat at M1 it would fit: OB24-017 at M1. But others would make more of it: the day would lose 3.1 %.',
  )
  expect(sayLeftOut(board, { ...base, isIncluded: false, lossPerMille: 4 })).toBe(
    'It would fit: OB24-017 at M1. The day would lose 0.4 % by it.',
  )
})

test('somebody who would have to come is not named', () => {
  const change: Change = { code: 'person', id: 'one more', shift: 'am', technique: 'needle', level: 3 }
  const left: LeftOut = { ...base, kind: 'piece', id: 'sk', shift: null, code: 'person', changes: [change] }
  expect(sayLeftOut(board, { ...left, turns: [{ ...turn, person: 'one more' }] })).toBe(
    'Nobody in is free with needle at level 3. Would change with somebody more for needle in the morning: they could take it at M1.',
  )
})
