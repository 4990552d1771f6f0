// What a new lab has to enter before a draw-up can seat anybody.
import { expect, it } from 'vitest'
import { unenteredOf } from '#lib/views'
import { put } from '#lib/words'
import { aLab, aPerson, aStep, recordsOf, skilled } from '../../kit/makers.ts'

it('names what nobody has and goes as it is entered; what researchers have seats nobody', () => {
  const pattern = [{ weekday: 1, shiftId: 'am' }] as never
  const idle = aPerson({ id: 'ana', skills: [] })
  const lab = [put('lab', aLab()), put('person', aPerson({ id: 'rex', role: 'researcher', pattern }))]
  expect(unenteredOf(recordsOf(...lab, put('person', idle)))).toEqual(['days', 'skills', 'work'])
  expect(unenteredOf(recordsOf(...lab, put('person', { ...idle, pattern })))).toEqual(['skills', 'work'])
  const able = aPerson({ id: 'ana', pattern, skills: skilled({ needle: 1 }) })
  expect(unenteredOf(recordsOf(...lab, put('person', able), put('step', aStep())))).toEqual([])
  expect(unenteredOf(recordsOf(...lab, put('person', able), put('step', aStep({ state: 'done' }))))).toEqual(['work'])
})
