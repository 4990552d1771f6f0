import { expect, test } from 'vitest'
import { find, findIndex } from '#lib/views'
import { put } from '#lib/words'
import { person, place, records, specimen } from './floor-kit.ts'

const index = findIndex(
  records(
    put('person', person('ines', { name: 'Inés', familyName: 'Marsh' })),
    put('place', place()),
    put('specimen', specimen('s1', { number: 'OB24-017', name: 'Skull in block', locality: 'Ostrel Bluff' })),
    put('specimen', specimen('s2', { number: 'OB24-0171', name: 'Rib' })),
  ),
)
const ids = (typed: string) => find(index, typed).map((item) => item.id)

test('a number is found with and without its dash, the exact one first', () => {
  expect(ids('OB24-017')).toEqual(['s1', 's2'])
  expect(ids('ob24017')).toEqual(['s1', 's2'])
})
test('marks on letters and the order of words do not matter', () => {
  expect(ids('ines')).toEqual(['ines'])
  expect(ids('block skull')).toEqual(['s1'])
  expect(ids('bluff')).toEqual(['s1'])
})
test('a place is found by its code and its kind', () => {
  expect(ids('m1')).toEqual(['m1'])
  expect(ids('microsc')).toEqual(['m1'])
})
test('nothing typed finds nothing', () => {
  expect(ids('  ')).toEqual([])
})
