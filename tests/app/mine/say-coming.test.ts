// Whether one is in, said to oneself in five words at most.
import { expect, test } from 'vitest'
import { sayComing } from '../../../app/mine/say-coming.ts'

test('each state has its words, a late one with its time', () => {
  expect(sayComing(null)).toBe('Are you in?')
  expect(sayComing({ state: 'in', dueAt: null })).toBe('You are in.')
  expect(sayComing({ state: 'late', dueAt: '10:15' })).toBe('You come at 10:15.')
  expect(sayComing({ state: 'late', dueAt: null })).toBe('You come later.')
  expect(sayComing({ state: 'away', dueAt: null })).toBe('You are away.')
  expect(sayComing({ state: 'left', dueAt: null })).toBe('You have left.')
})
