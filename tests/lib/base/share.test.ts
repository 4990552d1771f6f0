import { expect, test } from 'vitest'
import { share } from '#lib/base'

test('a value that says the same is the old one, all the way down', () => {
  const before = { list: [{ a: 1 }, { a: 2 }], map: new Map([['x', { b: [1] }]]), set: new Set(['y']) }
  const fresh = { list: [{ a: 1 }, { a: 2 }], map: new Map([['x', { b: [1] }]]), set: new Set(['y']) }
  expect(share(before, fresh)).toBe(before)
})

test('only what differs, and what holds it, is new', () => {
  const before = { same: { a: 1 }, list: [{ a: 1 }, { a: 2 }] }
  const kept = share(before, { same: { a: 1 }, list: [{ a: 1 }, { a: 3 }] })
  expect(kept).toEqual({ same: { a: 1 }, list: [{ a: 1 }, { a: 3 }] })
  expect(kept).not.toBe(before)
  expect(kept.same).toBe(before.same)
  expect(kept.list[0]).toBe(before.list[0])
})

test('the order of a map or set, a missing field and another length are differences', () => {
  const map = new Map([
    ['a', 1],
    ['b', 2],
  ])
  const turned = new Map([...map].reverse())
  expect([...share(map, turned)]).toEqual([...turned])
  expect([...share(new Set(['a', 'b']), new Set(['b', 'a']))]).toEqual(['b', 'a'])
  expect(share<readonly number[]>([1, 2], [1])).toEqual([1])
  expect(share<{ a?: number; b?: number }>({ a: 1 }, { b: 1 })).toEqual({ b: 1 })
  expect(share<unknown>(null, { a: 1 })).toEqual({ a: 1 })
})
