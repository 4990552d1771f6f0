// Whom a draw-up does not know yet: who would come and lacks a required item, and nobody else.
import { expect, test } from 'vitest'
import { notInductedOn } from '#lib/views'
import { put } from '#lib/words'
import { aLab, aPerson, aSmallLab, TODAY } from '../../kit/makers.ts'

const everyDay = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, shiftId: 'morning' }))
const induction = [
  { id: 'exits', name: 'Fire exits', isRequired: true, from: TODAY },
  { id: 'tea', name: 'Tea kitchen', isRequired: false, from: TODAY },
]
const told = (over: object, from = TODAY) =>
  notInductedOn(
    aSmallLab(
      put('lab', aLab({ induction: induction.map((item) => ({ ...item, from })) })),
      put('person', aPerson({ id: 'newt', name: 'Newt', pattern: everyDay, ...over })),
    ),
    TODAY,
  ).find(({ person }) => person.id === 'newt')?.items

test('O who comes without a required item is told with its name', () => {
  expect(told({})).toEqual(['Fire exits'])
  expect(told({ inducted: [{ itemId: 'exits', on: TODAY, by: 'mira' }] })).toBeUndefined()
  expect(told({ pattern: [] })).toBeUndefined()
  expect(told({ isActive: false })).toBeUndefined()
  expect(told({ role: 'researcher' })).toBeUndefined()
  expect(told({}, '2099-01-01')).toBeUndefined()
  expect(told({ exceptions: [{ date: TODAY, shiftId: 'morning', kind: 'away' }] })).toBeUndefined()
})
