// What cannot be kept as the manager reads it: the turns, each rule, what to do; every rule has its words.
import { expect, test } from 'vitest'
import type { ProposedClash, RuleCode } from '#lib/lineup'
import { put } from '#lib/words'
import { sayClash } from '../../../app/floor/lineup/say-clash.ts'
import { person, place, records, specimen } from '../../lib/views/floor-kit.ts'

const board = records(
  put('person', person('ines', { name: 'Ines' })),
  put('person', person('wilf', { name: 'Wilf' })),
  put('place', place()),
  put('specimen', specimen('sk', { number: 'OB24-017' })),
)
const turn = (personId: string): ProposedClash['turns'][number] => ({
  kind: 'hold',
  id: `day.am.${personId}`,
  personId,
  shiftId: 'am',
  pieceId: 'sk',
  placeId: 'm1',
})

test('two holds at one seat: both, the rule, what to do', () => {
  const seats = { rule: 'seats', ids: ['m1', 'am'], found: 2, allowed: 1 } as const
  expect(sayClash(board, { turns: [turn('ines'), turn('wilf')], rules: [seats] })).toBe(
    'Not all of these can be in the morning: Ines on OB24-017 at M1 and Wilf on OB24-017 at M1. M1 has one seat. Let one of them go.',
  )
})

const rules: readonly [RuleCode, readonly string[]][] = [
  ['onePlace', ['ines', 'am']],
  ['presence', ['ines', 'am']],
  ['seats', ['m1', 'am']],
  ['exclusive', ['m1', 'am']],
  ['mixing', ['m1', 'am']],
  ['onePieceOnePlace', ['sk', 'am']],
  ['level', ['ines', 'sk', 'sk-1']],
  ['mentor', ['ines', 'am', '']],
  ['mentorLimit', ['ines', 'am']],
  ['force', ['sk', 'sk-1']],
  ['air', ['am']],
  ['airLines', ['m1', 'am']],
  ['vibration', ['ines']],
  ['noise', ['ines']],
  ['classMinutes', ['ines']],
  ['load', ['m1', 'am']],
  ['length', ['sk', 'm1']],
  ['tied', ['sk', 'm1']],
  ['closed', ['m1', 'am']],
  ['features', ['m1', 'sk-1', 'scope']],
  ['helpers', ['sk', 'am']],
  ['turns', ['sk', 'sk-1']],
  ['forbidden', ['ines', 'am', 'sk', 'sk-1', 'm1']],
]

test.each(rules)('%s is said at its spot, and where it is not one spot', (rule, ids) => {
  for (const spot of [ids, []]) {
    const said = sayClash(board, { turns: [turn('ines')], rules: [{ rule, ids: spot, found: 1, allowed: 2 }] })
    expect(said).toMatch(/^Ines on OB24-017 at M1 cannot be in the morning\. [A-Z\d].*\. Let the hold go, or/)
    expect(said).not.toMatch(/undefined|NaN|that p|somebody|no longer/)
  }
})
