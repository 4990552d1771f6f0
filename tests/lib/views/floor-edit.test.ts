import { describe, expect, test } from 'vitest'
import { addLine, duplicatePlace, insideRoom, moveLine, newPlace, nextCode, removeLine } from '#lib/views'
import { kinds } from '#lib/words'
import { place, room } from './floor-kit.ts'

const id = (text: string) => kinds.place.shape.id.parse(text)

describe('places in the editor', () => {
  test('a place snaps to 5 cm and stays inside the walls, also when turned', () => {
    expect(insideRoom(room, { ...place(), xM: 3.0261, yM: 2.974 })).toMatchObject({ xM: 3.05, yM: 2.95 })
    expect(insideRoom(room, { ...place(), xM: -3, yM: 99 })).toMatchObject({ xM: 0.9, yM: 5.5 })
    expect(insideRoom(room, { ...place({ rotationDeg: 90 }), xM: 0, yM: 0 })).toMatchObject({ xM: 0.5, yM: 0.9 })
  })
  test('codes go on after the highest of their letter', () => {
    expect(nextCode(['A1', 'A3', 'M7', 'AX'], 'A')).toBe('A4')
    expect(nextCode([], 'B')).toBe('B1')
  })
  test('a new place and a copy are whole records with codes of their own', () => {
    const made = newPlace(room, [place()], 'microscope bench', id('new'))
    expect(made.code).toBe('M2')
    expect(kinds.place.safeParse(made).success).toBe(true)
    const copy = duplicatePlace(room, [place(), made], place({ closedUntil: '2026-03-16' }), id('copy'))
    expect(copy).toMatchObject({ code: 'M3', closedUntil: null, yM: 0.6 })
    expect(copy.xM).toBeGreaterThan(1.5)
  })
})

describe('walls, doors and windows', () => {
  test('a door moved into the room comes to rest on the nearest wall at its own length', () => {
    const withDoor = addLine(room, 'doors')
    const index = withDoor.doors.length - 1
    const moved = moveLine(withDoor, 'doors', index, 'both', -4.2, -3)
    const door = moved.doors[index]
    expect(door?.from.xM).toBe(0)
    expect(door?.to.xM).toBe(0)
    expect(Math.abs((door?.to.yM ?? 0) - (door?.from.yM ?? 0))).toBeCloseTo(1)
  })
  test('a door dropped by a partition lies on it', () => {
    const withDoor = addLine(room, 'doors')
    const index = withDoor.doors.length - 1
    const door = moveLine(withDoor, 'doors', index, 'both', 0.3, -4.5).doors[index]
    expect([door?.from.xM, door?.to.xM]).toEqual([5, 5])
  })
  test('a partition keeps the ends it is given, within the room', () => {
    const moved = moveLine(room, 'partitions', 0, 'to', 30, 0).partitions[0]
    expect(moved).toEqual({ from: { xM: 5, yM: 0 }, to: { xM: 10, yM: 6 } })
  })
  test('a removed line is gone and nothing else', () => {
    expect(removeLine(room, 'doors', 0).doors).toEqual([])
    expect(removeLine(room, 'doors', 0).partitions).toEqual(room.partitions)
  })
})
