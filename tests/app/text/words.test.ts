// Dates, amounts, chances and the save mark as people read them.
import { describe, expect, it } from 'vitest'
import {
  noPictureOf,
  sayChance,
  sayClock,
  sayCount,
  sayDate,
  sayDay,
  sayDays,
  sayDistance,
  sayFactor,
  sayHours,
  sayHoursSpan,
  sayKg,
  sayList,
  sayMass,
  sayMinutes,
  sayMoment,
  sayPhotoRefusal,
  sayReady,
  saySave,
  saySaveLong,
  sayWhyNoPicture,
  sayWindow,
  tenthsOf,
} from '../../../app/_text/index.ts'

it('says a factor on hours as one says it, both ways', () => {
  const said = [3.2, 2, 1.5, 1.3, 1.2, 1.08, 0.95, 0.85, 0.75, 0.66, 0.5, 0.3].map(sayFactor)
  expect(said).toEqual([
    ...[
      '3 times as long',
      'twice as long',
      'half as long again',
      'a third longer',
      'a fifth longer',
      'a little longer',
    ],
    ...['a little less', 'a sixth less', 'a quarter less', 'a third less', 'half as long', 'less than half as long'],
  ])
})

describe('dates', () => {
  it('says a date in four forms', () => {
    expect(sayDate('2026-03-12')).toBe('Thursday 12 March')
    expect(sayDate('2026-05-02', 'short')).toBe('2 May')
    expect(sayDate('2026-05-02', 'brief')).toBe('Sat 2 May')
    expect(sayDate('2026-05-02', 'full')).toBe('2 May 2026')
  })

  it('says a day as seen from today', () => {
    expect(sayDay('2026-03-12', '2026-03-12')).toBe('today')
    expect(sayDay('2026-03-13', '2026-03-12')).toBe('tomorrow')
    expect(sayDay('2026-03-18', '2026-03-12')).toBe('Wednesday')
    expect(sayDay('2026-03-19', '2026-03-12')).toBe('19 March')
    expect(sayDay('2027-03-19', '2026-03-12')).toBe('19 March 2027')
  })

  it('says how far off and how long', () => {
    expect(sayDistance('2026-03-21', '2026-03-12')).toBe('in 9 days')
    expect(sayDistance('2026-04-05', '2026-03-12')).toBe('in 3 weeks')
    expect(sayDistance('2027-05-12', '2026-03-12')).toBe('in 14 months')
    expect(sayDistance('2026-03-11', '2026-03-12')).toBe('yesterday')
    expect(sayDays(1)).toBe('1 day')
    expect(sayDays(21)).toBe('3 weeks')
  })

  it('says a window as short as it stays clear', () => {
    expect(sayWindow('2026-05-03', '2026-05-17')).toBe('3 to 17 May')
    expect(sayWindow('2026-04-28', '2026-05-09')).toBe('28 April to 9 May')
    expect(sayWindow('2026-12-12', '2027-01-04')).toBe('12 December 2026 to 4 January 2027')
  })

  it('tells the time of the lab, not of the reader', () => {
    expect(sayClock('2026-03-12T09:12:30Z', 'Europe/Berlin')).toBe('10:12')
    expect(sayClock('no time', 'Europe/Berlin')).toBe('')
    expect(sayMoment('2026-03-11T23:30:00Z', 'Europe/Berlin', '2026-03-12')).toBe('00:30')
    expect(sayMoment('2026-03-11T12:00:00Z', 'Europe/Berlin', '2026-03-12')).toBe('yesterday 13:00')
  })
})

describe('amounts', () => {
  it('says hours and minutes', () => {
    expect([0, 50, 60, 110, 180].map(sayMinutes)).toEqual(['0 min', '50 min', '1 h', '1 h 50', '3 h'])
    expect([0.5, 1.3, 9.8, 14.2, 120].map(sayHours)).toEqual(['30 min', '1.5 h', '10 h', '14 h', '120 h'])
    expect(sayHoursSpan(12, 40)).toBe('12 to 40 h')
  })

  it('says masses with their basis', () => {
    expect(sayKg(1400)).toBe('1\u202f400 kg')
    expect(sayKg(0.44)).toBe('0.4 kg')
    expect(sayMass({ lowKg: 30, highKg: 45, weighedKg: null })).toBe('30 to 45 kg, estimated')
    expect(sayMass({ lowKg: 30, highKg: 45, weighedKg: 38 })).toBe('38 kg weighed')
  })

  it('counts and lists', () => {
    expect([0, 1, 4, 13].map((n) => sayCount(n, 'seat'))).toEqual(['no seats', 'one seat', 'four seats', '13 seats'])
    expect(sayList(['Bea', 'Tobi', 'Odile'])).toBe('Bea, Tobi and Odile')
  })
})

describe('chances', () => {
  it('never says certain', () => {
    expect([0, 0.02, 0.04, 0.62, 0.96, 0.98, 1].map(sayChance)).toEqual([
      'hardly',
      'hardly',
      '1 in 10',
      '6 in 10',
      '9 in 10',
      'as good as sure',
      'as good as sure',
    ])
    expect(tenthsOf(2)).toBe(10)
    expect(sayReady(0.6, '2 May')).toBe('6 in 10 to be ready by 2 May.')
  })
})

describe('the save mark', () => {
  const at = Date.parse('2026-03-12T09:42:00Z')
  it('says kept, sending, offline', () => {
    expect(saySave({ state: 'kept', count: 0, at }, 'Europe/Berlin')).toBe('kept 10:42')
    expect(saySave({ state: 'sending', count: 2, at: null }, 'Europe/Berlin')).toBe('sending 2')
    expect(saySave({ state: 'offline', count: 2, at }, 'Europe/Berlin')).toBe('offline, 2 held here')
    expect(saySaveLong({ state: 'offline', count: 2, at }, 'Europe/Berlin')).toBe(
      'Offline. 2 edits are held on this device and will be sent. This is the board as of 10:42.',
    )
  })
})

it('says of a photograph that is not what it was announced as what happened, what is kept and what to do', () => {
  for (const why of ['wrong-hash', 'too-long'] as const) {
    expect(sayPhotoRefusal[why]).toMatch(/not the file that was named.*kept nothing.*on this device.*try again/)
  }
  expect([404, 401, 403, 500, 503, null].map(noPictureOf)).toEqual([
    ...['not there', 'not shown', 'not shown', 'out of reach', 'out of reach', 'out of reach'],
  ])
  expect(sayWhyNoPicture['not there']).toMatch(/never came.*or was not the one.*is kept.*adds it again/)
})
