// The tie between learner and mentor: straight where nothing is in the way, else around whoever sits between.
import { expect, test } from 'vitest'
import { crossings, tieBetween, wordCost } from '../../../app/_parts/room/ties.tsx'

const frame = { x: 0, y: 0, w: 600, h: 400 }
const from = { x: 100, y: 200, radius: 14 }
const to = { x: 300, y: 200, radius: 14 }

test('with a free floor it is straight', () => {
  expect(tieBetween(from, to, [], frame).map((point) => point.y)).toEqual([200, 200, 200, 200])
})

test('it bends around a stool between them and stays in the room', () => {
  const between = [{ box: { x: 186, y: 186, w: 28, h: 28 }, cost: wordCost }]
  const tie = tieBetween(from, to, between, frame)
  expect(crossings(tie, between, frame)).toBe(0)
  const low = { ...frame, h: 214 }
  expect(tieBetween(from, to, between, low).every((point) => point.y <= 200)).toBe(true)
})

test('its own two seats are not in the way', () => {
  const own = [from, to].map(({ x, y }) => ({ box: { x: x - 14, y: y - 14, w: 28, h: 28 }, cost: wordCost }))
  expect(tieBetween(from, to, own, frame).map((point) => point.y)).toEqual([200, 200, 200, 200])
})
