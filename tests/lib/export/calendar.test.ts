// The calendar file, read by ical.js, which shares nothing with its writer.
import fc from 'fast-check'
import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { calendarOf } from '#lib/export'
import { kinds, type PersonId, put } from '#lib/words'
import { aDue, aLab, aPerson, aSpecimen, recordsOf } from '../../kit/makers.ts'

function read(name: string, date = '2026-03-12') {
  const turn = kinds.assignment.parse({
    id: `${date}.morning.ada`,
    date,
    shiftId: 'morning',
    personId: 'ada',
    pieceId: 'skull',
    stepId: 'step1',
    placeId: 'bench1',
    how: 'drawn',
    by: 'ada',
    at: '2026-03-12T08:00:00.000Z',
  })
  const records = recordsOf(
    put('lab', aLab({ zone: 'Europe/Berlin' })),
    put('specimen', aSpecimen({ name })),
    put('due', aDue({ state: 'accepted' })),
    put('assignment', turn),
  )
  const person = (id: string) => calendarOf(records, id as PersonId, '2026-01-01', '2026-03-12T08:00:00.000Z')
  const file = person('ada')
  return { file, others: person('ben'), calendar: new ICAL.Component(ICAL.parse(file)) }
}

const startOf = (calendar: ICAL.Component): string =>
  String(calendar.getFirstSubcomponent('vevent')?.getFirstPropertyValue('dtstart'))

test('a turn is at its own moment before and after the clocks change, the date a task and a day', () => {
  expect(startOf(read('Skull').calendar)).toBe('2026-03-12T08:00:00Z')
  const { calendar, others } = read('Skull', '2026-03-30')
  expect(startOf(calendar)).toBe('2026-03-30T07:00:00Z')
  expect(String(calendar.getFirstSubcomponent('vtodo')?.getFirstPropertyValue('due'))).toBe('2026-05-01')
  const days = calendar.getAllSubcomponents('vevent').map((one) => String(one.getFirstPropertyValue('dtstart')))
  expect(days).toContain('2026-05-01')
  expect(others).not.toContain('BEGIN:VEVENT')
})

test('dates are those of pieces one sits at or follows, and all of them for a manager', () => {
  const watch = kinds.watch.parse({ id: 'skull.ben', pieceId: 'skull', personId: 'ben' })
  const records = recordsOf(
    put('lab', aLab()),
    put('specimen', aSpecimen()),
    put('due', aDue({ state: 'accepted', isHard: true })),
    put('due', aDue({ id: 'due2', state: 'asked' })),
    put('watch', watch),
    ...['ada', 'ben', 'cleo'].map((id) =>
      put('person', aPerson({ id, role: id === 'cleo' ? 'manager' : 'volunteer' })),
    ),
  )
  const dates = ['ada', 'ben', 'cleo'].map((id) => {
    const file = calendarOf(records, id as PersonId, '2026-01-01', '2026-03-12T08:00:00.000Z')
    return new ICAL.Component(ICAL.parse(file))
      .getAllSubcomponents('vtodo')
      .map((one) => one.getFirstPropertyValue('priority'))
  })
  expect(dates).toEqual([[], [1], [1]])
})

test('whatever a piece is called comes back letter by letter, in lines of 75 octets at most', () => {
  const names = fc.string({ unit: fc.constantFrom(...'ab ;,\\:"ß骨🦴n'), maxLength: 110 }).map((rest) => `x${rest}x`)
  fc.assert(
    fc.property(names, (name) => {
      const { file, calendar } = read(name)
      const summary = calendar.getFirstSubcomponent('vevent')?.getFirstPropertyValue('summary')
      expect(summary).toBe(`Morning: N-skull ${name}`)
      for (const line of file.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
    }),
    { numRuns: 300, seed: 5 },
  )
})
