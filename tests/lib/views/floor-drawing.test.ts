import { describe, expect, test } from 'vitest'
import { aislesOf, boxOf, changesBetween, facingOf, stoolsAt, walk } from '#lib/views'
import { kinds } from '#lib/words'
import { place, room, turn } from './floor-kit.ts'

describe('furniture', () => {
  test('a quarter turn swaps width and depth and turns the seats with it', () => {
    expect(boxOf(place({ rotationDeg: 90 }))).toEqual({ x: 1, y: -0.3, w: 1, h: 1.8 })
    expect([0, 90, 180, 270].map((rotationDeg) => facingOf({ rotationDeg }))).toEqual([
      'below',
      'left',
      'above',
      'right',
    ])
  })
})

describe('ways', () => {
  const aisles = aislesOf(room, [place()])
  test('a thread goes through the door and not across the wall', () => {
    const way = walk(aisles, { x: 2, y: 2 }, { x: 8, y: 2 })
    const crossing = way.findIndex((point, i) => i > 0 && (way[i - 1]?.x ?? 0) < 5 !== point.x < 5)
    const y = way[crossing]?.y ?? 0
    expect(y).toBeGreaterThanOrEqual(4)
    expect(y).toBeLessThanOrEqual(5)
    expect(way[0]).toEqual({ x: 2, y: 2 })
    expect(way[way.length - 1]).toEqual({ x: 8, y: 2 })
  })
  test('it goes around a bench', () => {
    const way = walk(aisles, { x: 0.3, y: 0.5 }, { x: 3, y: 0.5 })
    expect(way.some((point) => point.y > 1)).toBe(true)
  })
  test('without a door the straight line is drawn rather than nothing', () => {
    const shut = aislesOf({ ...room, doors: [] }, [])
    expect(walk(shut, { x: 2, y: 2 }, { x: 8, y: 2 })).toEqual([
      { x: 2, y: 2 },
      { x: 8, y: 2 },
    ])
  })
  test('all parts of a way are level or upright', () => {
    const way = walk(aisles, { x: 2.11, y: 2.07 }, { x: 8.3, y: 3.33 })
    for (let i = 1; i < way.length; i++) {
      const [a, b] = [way[i - 1], way[i]]
      expect(a?.x === b?.x || a?.y === b?.y).toBe(true)
    }
  })
})

describe('seats', () => {
  test('seats that do not fit along the front go across, and none is lost', () => {
    const bench = { x: 100, y: 100, w: 90, h: 60 }
    const stools = stoolsAt(bench, 'below', 4, 'full', false)
    expect(stools).toHaveLength(4)
    expect(new Set(stools.map((stool) => stool.facing))).toEqual(new Set(['below', 'above']))
    expect(stoolsAt(bench, 'below', 4, 'full', true).filter((stool) => stool.facing === 'above')).toHaveLength(2)
  })
})

describe('changes between two line-ups', () => {
  test('each change has one number; what stays is counted, held apart', () => {
    const before = [turn('ines', 'sk', 'm1'), turn('odile', 'jaw', 'm3', { how: 'held' }), turn('bea', 'rib', 'b1')]
    const after = [turn('ines', 'rib', 'a3'), turn('odile', 'jaw', 'm3', { how: 'held' }), turn('wilf', 'sk', 'm1')]
    const am = kinds.assignment.shape.shiftId.parse('am')
    const { changes, stay, held } = changesBetween(before, after, [am])
    expect(changes.map((change) => `${change.n} ${change.personId} ${change.what}`)).toEqual([
      '1 ines move',
      '2 wilf seat',
      '3 bea leave',
    ])
    expect([stay, held]).toEqual([1, 1])
  })
})
