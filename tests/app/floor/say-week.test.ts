// The week in words: each day's state, what is kept for whom, and what looking ahead gains, without promising more.
import { expect, test } from 'vitest'
import type { WeekDay } from '#lib/lineup'
import { put } from '#lib/words'
import { sayGain, sayKept, sayWeekDay } from '../../../app/floor/week/say-week.ts'
import { person, records, specimen, step } from '../../lib/views/floor-kit.ts'

const board = records(
  put('person', person('odile', { name: 'Odile' })),
  put('specimen', specimen('sk', { number: 'OB24-017' })),
  put('step', step('sk-1', 'sk', 'needle')),
)
const day = (over: Partial<WeekDay>): WeekDay => ({
  date: '2026-03-12',
  state: 'open',
  proposal: null,
  limits: [],
  turns: 3,
  ...over,
})

test('each day says what it is', () => {
  expect(sayWeekDay(day({ state: 'closed', turns: 0 }))).toBe('Closed')
  expect(sayWeekDay(day({ state: 'posted', turns: 1 }))).toBe('Posted: one turn. Stays as it is.')
  expect(sayWeekDay(day({}))).toBe('Drawn up: three turns. Nobody is left out.')
  const left = (kind: 'person' | 'piece', id: string) => ({
    kind,
    id,
    shift: null,
    code: 'nothing',
    change: null,
    turn: null,
  })
  const proposal = { leftOut: [left('person', 'a'), left('person', 'a'), left('piece', 'k')] }
  // A day's sentence reads nothing of the proposal but who and what is left out.
  expect(sayWeekDay(day({ proposal: proposal as unknown as WeekDay['proposal'] }))).toBe(
    'Drawn up: three turns. One person and one dated piece left out.',
  )
})

test('what is kept names the piece, the work and for whom', () => {
  const kept = { date: '2026-03-13', pieceId: 'sk', stepId: 'sk-1', personIds: ['odile', 'odile'], turns: 2 }
  expect(sayKept(board, kept)).toMatch(/^Kept for Odile: OB24-017, .+, two turns that an earlier day would have had\.$/)
})

test('a gain is said as it is, and none as none', () => {
  expect(sayGain({ score: 1000, dayByDayScore: 1000 })).toMatch(/changes nothing/)
  expect(sayGain({ score: 1030, dayByDayScore: 1000 })).toBe(
    'Drawn together, the days are worth 3 % more than one after the other.',
  )
  expect(sayGain({ score: 1004, dayByDayScore: 1000 })).toMatch(/less than 1 %/)
})
