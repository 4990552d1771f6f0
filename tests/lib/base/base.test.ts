// Small tools: identifiers, dates and seeded chance.
import { describe, expect, test } from 'vitest'
import {
  addDays,
  assert,
  daysBetween,
  instantOf,
  isZone,
  localAt,
  makeId,
  minuteOf,
  seededRandom,
  timeOfId,
  timeOfMinute,
  weekdayOf,
} from '#lib/base'
import { PieceId } from '#lib/words'

describe('ids', () => {
  test('O ids sort by time, carry it and pass the door', () => {
    const random = seededRandom(1)
    const make = (ms: number) => makeId(ms, () => random.below(32))
    const early = make(Date.parse('2026-03-11T10:00:00Z'))
    const late = make(Date.parse('2026-03-11T10:00:00.001Z'))
    expect(early < late).toBe(true)
    expect(timeOfId(late) - timeOfId(early)).toBe(1)
    expect(early).toHaveLength(26)
    expect(PieceId.safeParse(early).success).toBe(true)
  })
})

describe('dates', () => {
  test('O days are counted over months and leap years', () => {
    expect(addDays('2024-02-28', 2)).toBe('2024-03-01')
    expect(addDays('2026-01-01', -1)).toBe('2025-12-31')
    expect(daysBetween('2026-03-11', '2027-03-11')).toBe(365)
    expect(weekdayOf('2026-03-11')).toBe(3)
    expect(weekdayOf('2026-03-15')).toBe(7)
    expect(weekdayOf('1969-12-28')).toBe(7)
  })

  test('O the lab’s local time follows its zone over the change of clocks', () => {
    const zone = 'Europe/Berlin'
    expect(localAt(zone, Date.parse('2026-03-29T00:30:00Z'))).toEqual({ date: '2026-03-29', minute: 90 })
    expect(localAt(zone, Date.parse('2026-03-29T01:30:00Z'))).toEqual({ date: '2026-03-29', minute: 210 })
    expect(new Date(instantOf(zone, '2026-07-01', 540)).toISOString()).toBe('2026-07-01T07:00:00.000Z')
    expect(new Date(instantOf(zone, '2026-12-01', 540)).toISOString()).toBe('2026-12-01T08:00:00.000Z')
    expect(localAt(zone, instantOf(zone, '2026-10-25', 600))).toEqual({ date: '2026-10-25', minute: 600 })
  })

  test('O times of day are minutes and back', () => {
    expect(minuteOf('09:30')).toBe(570)
    expect(timeOfMinute(570)).toBe('09:30')
    expect(isZone('Europe/Berlin')).toBe(true)
    expect(isZone('Middle/Earth')).toBe(false)
  })
})

describe('chance', () => {
  test('O the same seed draws the same numbers, another seed others', () => {
    const draw = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).word)
    expect(draw(7)).toEqual(draw(7))
    expect(draw(7)).not.toEqual(draw(8))
    expect(draw(-1)).not.toEqual(draw(2 ** 32 - 1 + 2 ** 33))
  })

  test('O numbers stay below their bound', () => {
    const random = seededRandom(3)
    for (let i = 0; i < 1000; i++) expect(random.below(7)).toBeLessThan(7)
  })
})

test('O a wrong belief ends at once and says what was believed', () => {
  expect(() => assert(false, 'the sky is up')).toThrow('Believed: the sky is up')
})
