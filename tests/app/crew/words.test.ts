// Crew's own sentences.
import { expect, it } from 'vitest'
import { type Presence, skillsOf, techniqueColumns, weekOf } from '#lib/views'
import { put } from '#lib/words'
import { sayAllIn, sayAsks, sayExpiry, saySignOff, saySkills, sayWeek, sayWhoIsIn } from '../../../app/crew/words.ts'
import { aPerson, aSmallLab, skilled, TODAY } from '../../kit/makers.ts'

const crew = (...states: Presence['state'][]): readonly Presence[] =>
  states.map((state, index) => {
    const { id, name } = aPerson({ id: ['ana', 'ben', 'leo', 'tobi'][index] ?? 'pia' })
    return { personId: id, name, state, dueAt: null }
  })

it('the title counts who is in and names who is missed', () => {
  expect(sayWhoIsIn('Thursday', crew('in', 'in', 'late', 'away'))).toBe('Thursday: two in, leo late, tobi away')
  expect(sayWhoIsIn('Thursday', crew('expected', 'expected'))).toBe('Thursday: two expected')
  expect(sayWhoIsIn('Thursday', crew('in', 'expected', 'left'))).toBe('Thursday: one in, one expected, leo away')
  expect(sayWhoIsIn('Thursday', [])).toBe('Thursday: nobody is expected')
})

it('a week is read as days with their shifts', () => {
  const person = aPerson({
    pattern: [
      { weekday: 3, shiftId: 'morning' },
      { weekday: 3, shiftId: 'afternoon' },
    ],
    exceptions: [{ date: TODAY, shiftId: 'afternoon', kind: 'away' }],
  })
  const records = aSmallLab(put('person', person))
  expect(sayWeek(weekOf(records, person, TODAY))).toBe('Wednesday morning and afternoon (away)')
  expect(sayWeek(weekOf(records, aPerson(), TODAY))).toBe('no shifts this week')
})

it('a skill says who signed it off and when it runs out', () => {
  const person = aPerson({ skills: skilled({ needle: 3 }, '2026-03-10') })
  const records = aSmallLab(put('person', person))
  const views = skillsOf(records, person, techniqueColumns(records.lab.get('lab')).ladder, TODAY)
  const needle = views.find((view) => view.technique.id === 'needle')
  expect(needle && [saySignOff(needle, () => 'Vigdis'), sayExpiry(needle)]).toEqual([
    'known from before, 1 January 2025',
    'ran out 10 March 2026',
  ])
  expect(saySkills(views)).toBe('no skills signed off yet')
})

it('counts are said as words', () => {
  expect([sayAllIn(1), sayAllIn(9), sayAsks(1), sayAsks(2)]).toEqual([
    'The one expected is in',
    'All nine expected are in',
    'One asks for a sign-off',
    'Two ask for a sign-off',
  ])
})
