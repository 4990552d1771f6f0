// One's own calendar, read for when one is busy: repeats, zones and changes right, and nothing but times.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays, instantOf } from '#lib/base'
import { put } from '#lib/words'
import { busyShifts, busyTimes } from '../../../app/crew/days/busy.ts'
import { aLab, aPerson, aSmallLab } from '../../kit/makers.ts'

const ZONE = 'Europe/Berlin'
const span = { zone: ZONE, startMs: Date.parse('2026-03-01T00:00Z'), endMs: Date.parse('2026-04-30T00:00Z') }
const calendar = (...lines: string[]) =>
  ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:x', ...lines, 'END:VCALENDAR', ''].join('\r\n')
const event = (...lines: string[]) => [
  'BEGIN:VEVENT',
  'SUMMARY:PLANT-title',
  'LOCATION:PLANT-place',
  ...lines,
  'END:VEVENT',
]
const starts = (text: string) =>
  busyTimes(text, span).map(({ startMs }) => new Date(startMs).toISOString().slice(0, 16))

// As US rules have been since 2007: second Sunday of March to the first of November.
const newYork = [
  ...['BEGIN:VTIMEZONE', 'TZID:Elsewhere', 'BEGIN:DAYLIGHT', 'DTSTART:20070311T020000', 'TZOFFSETFROM:-0500'],
  ...['TZOFFSETTO:-0400', 'RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU', 'END:DAYLIGHT', 'BEGIN:STANDARD'],
  ...['DTSTART:20071104T020000', 'TZOFFSETFROM:-0400', 'TZOFFSETTO:-0500'],
  ...['RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU', 'END:STANDARD', 'END:VTIMEZONE'],
]

describe('busy times of a calendar', () => {
  test('a weekly meeting elsewhere moves with the clocks of elsewhere, defined in the file or only named', () => {
    const rule = ['DURATION:PT1H', 'RRULE:FREQ=WEEKLY;COUNT=2', 'UID:a']
    const defined = event('DTSTART;TZID=Elsewhere:20260305T090000', ...rule)
    const named = event('DTSTART;TZID=America/New_York:20260305T090000', ...rule)
    const expected = ['2026-03-05T14:00', '2026-03-12T13:00']
    expect(starts(calendar(...newYork, ...defined))).toEqual(expected)
    expect(starts(calendar(...named))).toEqual(expected)
  })

  test('a time without a zone, and a whole day, are the lab’s', () => {
    const floating = event('DTSTART:20260402T090000', 'DTEND:20260402T100000', 'UID:f')
    const day = event('DTSTART;VALUE=DATE:20260403', 'UID:d')
    expect(busyTimes(calendar(...floating, ...day), span)).toEqual([
      { startMs: Date.parse('2026-04-02T07:00Z'), endMs: Date.parse('2026-04-02T08:00Z') },
      { startMs: Date.parse('2026-04-02T22:00Z'), endMs: Date.parse('2026-04-03T22:00Z') },
    ])
  })

  test('repeats that were taken out are gone, one that was moved is where it was moved to', () => {
    const rule = event(
      'DTSTART:20260303T080000Z',
      'DURATION:PT1H',
      'RRULE:FREQ=DAILY;COUNT=4',
      'EXDATE:20260304T080000Z',
      'UID:r',
    )
    const moved = event('DTSTART:20260305T150000Z', 'DURATION:PT1H', 'RECURRENCE-ID:20260305T080000Z', 'UID:r')
    expect(starts(calendar(...rule, ...moved)).sort()).toEqual([
      '2026-03-03T08:00',
      '2026-03-05T15:00',
      '2026-03-06T08:00',
    ])
  })

  test('what is cancelled, shown as free, or the lab’s own does not count; free/busy lines do', () => {
    const when = ['DTSTART:20260310T080000Z', 'DURATION:PT1H']
    const none = [
      ...event(...when, 'UID:a', 'STATUS:CANCELLED'),
      ...event(...when, 'UID:b', 'TRANSP:TRANSPARENT'),
      ...event(...when, 'UID:turn-2026-03-10.morning.ana@talus'),
    ]
    expect(starts(calendar(...none))).toEqual([])
    const lines = ['FREEBUSY:20260311T080000Z/PT1H', 'FREEBUSY;FBTYPE=FREE:20260312T080000Z/PT1H']
    expect(starts(calendar('BEGIN:VFREEBUSY', ...lines, 'END:VFREEBUSY'))).toEqual(['2026-03-11T08:00'])
  })

  test('nothing of it but times comes out', () => {
    const text = calendar(
      ...event('DTSTART:20260310T080000Z', 'DURATION:PT1H', 'UID:PLANT-uid', 'ATTENDEE:mailto:PLANT@x.y'),
    )
    expect(busyTimes(text, span)).toHaveLength(1)
    expect(JSON.stringify(busyTimes(text, span))).not.toContain('PLANT')
  })

  test('what is no calendar, and what repeats without end, is refused', () => {
    expect(() => busyTimes('hello', span)).toThrow()
    expect(() => busyTimes('BEGIN:VCARD\r\nEND:VCARD\r\n', span)).toThrow('not a calendar')
    const endless = event('DTSTART:20200101T000000Z', 'DURATION:PT1S', 'RRULE:FREQ=SECONDLY', 'UID:e')
    expect(() => busyTimes(calendar(...endless), span)).toThrow('too many repeats')
  })

  test('weekly repeats in the lab’s zone are at the same wall time, whatever the clocks do', () => {
    fc.assert(
      fc.property(
        fc.nat(20),
        fc.integer({ min: 4 * 60, max: 22 * 60 }),
        fc.integer({ min: 1, max: 6 }),
        (day, minute, count) => {
          const date = addDays('2026-03-02', day)
          const clock = `${String(Math.floor(minute / 60)).padStart(2, '0')}${String(minute % 60).padStart(2, '0')}00`
          const at = `DTSTART;TZID=${ZONE}:${date.replaceAll('-', '')}T${clock}`
          const found = busyTimes(
            calendar(...event(at, 'DURATION:PT30M', `RRULE:FREQ=WEEKLY;COUNT=${count}`, 'UID:w')),
            span,
          )
          const expected = Array.from({ length: count }, (_, n) => instantOf(ZONE, addDays(date, 7 * n), minute))
          expect(found.map(({ startMs }) => startMs)).toEqual(expected.filter((ms) => ms < span.endMs))
        },
      ),
    )
  })
})

describe('half-days they meet', () => {
  test('are those on which somebody would come, and no others', () => {
    const pattern = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, shiftId: 'morning' }))
    const spells = [{ from: '2026-03-14', to: '2026-03-15', pattern: [] }]
    const person = aPerson({ pattern, spells })
    const lab = aSmallLab(put('lab', aLab({ zone: ZONE, closed: ['2026-03-17'] })), put('person', person))
    // Mornings are 9 to 12: an event that ends as one begins meets none; holiday and closed day are nobody's loss.
    const at = (date: string, from: string, to: string) => ({
      startMs: Date.parse(`${date}T${from}:00+01:00`),
      endMs: Date.parse(`${date}T${to}:00+01:00`),
    })
    const times = [
      ...[at('2026-03-12', '11:59', '15:00'), at('2026-03-13', '08:00', '09:00'), at('2026-03-14', '09:00', '12:00')],
      ...[at('2026-03-16', '12:00', '18:00'), at('2026-03-17', '09:00', '12:00'), at('2026-03-18', '06:00', '23:00')],
    ]
    const found = busyShifts(lab, person, times, { from: '2026-03-12', to: '2026-03-20' })
    expect(found).toEqual(['2026-03-12', '2026-03-18'].map((date) => ({ date, shiftId: 'morning' })))
  })
})
