// Checks before use: when they are due and overdue, and what goes beside what.
import { describe, expect, test } from 'vitest'
import { type CheckNow, checkState, overdueAt } from '#lib/rules'
import { type Check, kinds, put } from '#lib/words'
import { aLab, aShift, aSmallLab, TODAY } from '../../kit/makers.ts'

// 2026-03-11 is a Wednesday; the lab is shut at weekends.
const week = [1, 2, 3, 4, 5]
const lab = aSmallLab(
  put(
    'lab',
    aLab({
      shifts: [
        aShift({ weekdays: week }),
        aShift({ id: 'afternoon', name: 'Afternoon', start: '13:00', end: '16:00', weekdays: week }),
      ],
    }),
  ),
)
const aCheck = (over: Partial<Check> = {}): Check =>
  kinds.check.parse({
    ...{ id: 'arm', name: 'Arm', what: 'extraction', placeId: 'b1', every: { unit: 'days', count: 1 }, ratedKg: null },
    ...{ since: TODAY, isActive: true, last: null },
    ...over,
  })
const done = (date: string, shiftId: string | null = null, result: 'good' | 'fault' = 'good') =>
  kinds.check.parse({ ...aCheck(), last: { date, shiftId, by: 'ana', at: `${date}T09:00:00Z`, result, note: '' } }).last
const at = (date: string, minute = 540): CheckNow => ({ date, minute })

describe('O a check by days', () => {
  test.each([
    ['2026-03-10', 'good'],
    ['2026-03-11', 'due'],
    ['2026-03-12', 'overdue'],
  ])('O never done and counted from Wednesday, is on %s %s', (date, state) => {
    expect(checkState(lab, aCheck(), at(date))).toBe(state)
  })

  test('O a weekend makes nothing overdue: done on Friday, due on Monday, overdue on Tuesday', () => {
    const friday = aCheck({ last: done('2026-03-13') })
    expect(
      ['2026-03-13', '2026-03-14', '2026-03-16', '2026-03-17'].map((day) => checkState(lab, friday, at(day))),
    ).toEqual(['good', 'good', 'due', 'overdue'])
  })

  test('O a fault stands, however lately it was looked at, until the check is good', () => {
    expect(checkState(lab, aCheck({ last: done(TODAY, null, 'fault') }), at(TODAY))).toBe('fault')
  })
})

describe('O a check by shifts', () => {
  const everyShift = { every: { unit: 'shifts' as const, count: 1 } }
  test('O done in the morning is due for the afternoon and overdue the next morning', () => {
    const check = aCheck({ ...everyShift, last: done(TODAY, 'morning') })
    const states = [at(TODAY, 600), at(TODAY, 725), at(TODAY, 800), at('2026-03-12', 540)]
    expect(states.map((now) => checkState(lab, check, now))).toEqual(['good', 'due', 'due', 'overdue'])
  })

  test('O never done is due in its first shift and overdue in the second', () => {
    const check = aCheck(everyShift)
    expect([at(TODAY, 600), at(TODAY, 800)].map((now) => checkState(lab, check, now))).toEqual(['due', 'overdue'])
  })

  test('O every tenth shift has a week', () => {
    const check = aCheck({ every: { unit: 'shifts', count: 10 }, last: done('2026-03-11', 'afternoon') })
    expect(['2026-03-17', '2026-03-18', '2026-03-19'].map((day) => checkState(lab, check, at(day, 800)))).toEqual([
      'good',
      'due',
      'overdue',
    ])
  })
})

test('O only a place’s own check keeps it out of line-ups, and one that is no longer in use does not', () => {
  const with_ = (check: Check) => overdueAt(aSmallLab(put('check', check)), 'b1', at('2026-03-12'))?.id ?? null
  expect(with_(aCheck())).toBe('arm')
  expect(with_(aCheck({ placeId: null }))).toBeNull()
  expect(with_(aCheck({ isActive: false }))).toBeNull()
  expect(overdueAt(aSmallLab(put('check', aCheck())), 'b2', at('2026-03-12'))).toBeNull()
})
