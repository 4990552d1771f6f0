import { describe, expect, test } from 'vitest'
import type { Headcount } from '#lib/views'
import { kinds } from '#lib/words'
import { rackOf } from '../../../app/floor/shapes.ts'
import { changesHeading, changeWords, firstHeading, morningSentence, names, tagDate } from '../../../app/floor/words.ts'

const nobody: Headcount = { inCount: 0, late: [], away: [], seatless: [], freeSeats: 0, held: [], seated: 0 }
const today = { isPosted: true, isToday: true, isPast: false }

describe('the morning in one sentence', () => {
  test('all well', () => {
    expect(morningSentence({ ...nobody, inCount: 13, freeSeats: 5 }, today)).toBe(
      'Thirteen in. Everyone in has a seat; five seats are free.',
    )
  })
  test('late, away, seatless and held are named', () => {
    const of = {
      ...nobody,
      inCount: 13,
      late: ['Tobi'],
      away: ['Cato'],
      seatless: ['Juno'],
      freeSeats: 1,
      held: ['Ines', 'Wilf'],
    }
    expect(morningSentence(of, today)).toBe(
      'Thirteen in, Tobi late, Cato away. Juno has no seat; one seat is free. Held: Ines and Wilf.',
    )
  })
  test('a past day is told as past', () => {
    const past = { isPosted: true, isToday: false, isPast: true }
    expect(morningSentence({ ...nobody, inCount: 9, seatless: ['Emeka'], freeSeats: 2 }, past)).toBe(
      'Nine were in. Emeka had no seat; two seats were free.',
    )
  })
  test('before a line-up nothing is said of seats', () => {
    expect(morningSentence({ ...nobody, inCount: 2, seatless: ['Ines', 'Odile'] }, { ...today, isPosted: false })).toBe(
      'Two in. No line-up is posted yet.',
    )
  })
  test('an empty shift, a coming and a past day', () => {
    expect(morningSentence(nobody, today)).toBe('Nobody is expected in this shift.')
    expect(morningSentence({ ...nobody, inCount: 4 }, { isPosted: false, isToday: false, isPast: false })).toBe(
      'Four expected. No line-up is posted yet.',
    )
    expect(morningSentence({ ...nobody, inCount: 4 }, { isPosted: false, isToday: false, isPast: true })).toBe(
      'Four were in. No line-up was posted.',
    )
  })
})

describe('changes in words', () => {
  const turn = {
    shiftId: kinds.assignment.shape.shiftId.parse('am'),
    personId: kinds.assignment.shape.personId.parse('ines'),
    pieceId: kinds.assignment.shape.pieceId.parse('sk'),
    stepId: kinds.assignment.shape.stepId.parse('sk-1'),
    placeId: kinds.assignment.shape.placeId.parse('a3'),
    how: 'drawn' as const,
  }
  const say = { person: 'Ines', code: (id: string) => id.toUpperCase(), piece: () => 'MC20-044' }
  const change = { n: 1, shiftId: turn.shiftId, personId: turn.personId }
  test('moving, staying on another piece, leaving', () => {
    expect(changeWords({ ...change, what: 'move', from: turn, to: turn }, say)).toBe('Ines to A3, on MC20-044')
    expect(changeWords({ ...change, what: 'piece', from: turn, to: turn }, say)).toBe(
      'Ines stays at A3, now on MC20-044',
    )
    expect(changeWords({ ...change, what: 'leave', from: turn, to: null }, say)).toBe('Ines leaves A3')
  })
  test('the heading of a redraw says what stays', () => {
    expect(changesHeading(2, 11, true)).toBe('Two changes, eleven stay')
    expect(changesHeading(0, 12, true)).toBe('No change, twelve stay')
    expect(changesHeading(4, 9, false)).toBe('Four changes')
    expect(firstHeading(26)).toBe('26 seats drawn up')
    expect(firstHeading(1)).toBe('One seat drawn up')
  })
})

test('names are listed, many are counted', () => {
  expect(names(['Ines'])).toBe('Ines')
  expect(names(['Ines', 'Wilf', 'Odile'])).toBe('Ines, Wilf and Odile')
  expect(names(['A', 'B', 'C', 'D', 'E', 'F'])).toBe('A, B, C and three more')
})

test('a tag has the date as short as it can be', () => {
  expect(tagDate('2026-03-12')).toBe('12 Mar')
})

test('the rack in a shelf text is found by its code alone', () => {
  expect(rackOf('rack 1, shelf b', ['1', '12'])).toBe('1')
  expect(rackOf('Rack 12 shelf a', ['1', '12'])).toBe('12')
  expect(rackOf('crate by the door', ['1'])).toBeNull()
})
