// The drawing of the room in a tight spot: words never cover anything and never leave the room, threads keep
// square, a partition stops at its doors, a bench drops words before it clips them.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { layBench, numberWidth } from '../../../app/_parts/room/bench.ts'
import { placeWords, type Want } from '../../../app/_parts/room/labels.ts'
import { layPlan } from '../../../app/_parts/room/measure.ts'
import type { PieceShape, PlaceShape, RoomShape } from '../../../app/_parts/room/shapes.ts'
import { solidStretches } from '../../../app/_parts/room/shell.tsx'
import { laned, squared } from '../../../app/_parts/room/threads.ts'
import { overlaps } from '../../../lib/views/index.ts'

const frame = { x: 0, y: 0, w: 600, h: 400 }
const circle = (want: Want) => ({
  x: want.x - want.radius,
  y: want.y - want.radius,
  w: want.radius * 2,
  h: want.radius * 2,
})

const want = fc.record({
  x: fc.integer({ min: 20, max: 580 }),
  y: fc.integer({ min: 20, max: 380 }),
  facing: fc.constantFrom('below', 'left', 'above', 'right'),
  nameWidth: fc.integer({ min: 20, max: 120 }),
  noteWidth: fc.integer({ min: 0, max: 140 }),
})
const wants = fc
  .array(want, { maxLength: 40 })
  .map((all) =>
    all.map((one, index): Want => ({ ...one, key: `p${index}`, radius: 14, nameHeight: 18, noteHeight: 15 })),
  )
const boxes = fc.array(
  fc.record({
    x: fc.integer({ min: 0, max: 560 }),
    y: fc.integer({ min: 0, max: 360 }),
    w: fc.integer({ min: 20, max: 200 }),
    h: fc.integer({ min: 20, max: 120 }),
  }),
  { maxLength: 12 },
)

test('no word covers furniture, a stool or another word, and none is clipped by a wall', () => {
  fc.assert(
    fc.property(wants, boxes, (all, furniture) => {
      const { placed } = placeWords(all, furniture, frame)
      placed.forEach(({ box }, index) => {
        expect(box.x).toBeGreaterThanOrEqual(frame.x)
        expect(box.y).toBeGreaterThanOrEqual(frame.y)
        expect(box.x + box.w).toBeLessThanOrEqual(frame.w)
        expect(box.y + box.h).toBeLessThanOrEqual(frame.h)
        for (const bench of furniture) expect(overlaps(bench, box)).toBe(false)
        for (const each of all) expect(overlaps(circle(each), box)).toBe(false)
        for (const other of placed.slice(index + 1)) expect(overlaps(other.box, box)).toBe(false)
      })
    }),
  )
})

test('a name on a leader never stands beside somebody else’s stool', () => {
  fc.assert(
    fc.property(wants, boxes, (all, furniture) => {
      for (const { key, box, leader } of placeWords(all, furniture, frame).placed) {
        if (leader === null) continue
        const near = { x: box.x - 12, y: box.y - 12, w: box.w + 24, h: box.h + 24 }
        for (const other of all) if (other.key !== key) expect(overlaps(circle(other), near)).toBe(false)
      }
    }),
  )
})

test('every name is placed or handed to the list, once', () => {
  fc.assert(
    fc.property(wants, boxes, (all, furniture) => {
      const { placed, unplaced } = placeWords(all, furniture, frame)
      expect([...placed.map((spot) => spot.key), ...unplaced].sort()).toEqual(all.map((each) => each.key).sort())
    }),
  )
})

test('with the aisle free a name keeps its technique and needs no leader', () => {
  const one: Want = {
    key: 'Ines',
    x: 300,
    y: 200,
    radius: 14,
    facing: 'below',
    nameWidth: 40,
    nameHeight: 18,
    noteWidth: 60,
    noteHeight: 15,
  }
  expect(placeWords([one], [], frame).placed[0]).toMatchObject({ hasNote: true, leader: null, anchor: 'start' })
})

test('a name with no room beside its stool goes to the aisle on a leader, without its technique', () => {
  const one: Want = {
    key: 'Ines',
    x: 300,
    y: 200,
    radius: 14,
    facing: 'below',
    nameWidth: 60,
    nameHeight: 18,
    noteWidth: 80,
    noteHeight: 15,
  }
  const tight = [
    { x: 200, y: 160, w: 84, h: 80 },
    { x: 316, y: 160, w: 84, h: 80 },
    { x: 200, y: 240, w: 90, h: 30 },
    { x: 310, y: 240, w: 90, h: 30 },
    { x: 200, y: 120, w: 200, h: 50 },
  ]
  const [spot] = placeWords([one], tight, frame).placed
  expect(spot?.hasNote).toBe(false)
  expect(spot?.leader).not.toBeNull()
})

test('a name with no room anywhere near goes far off on its leader, and is not left out', () => {
  const one = { key: 'Ines', x: 700, y: 150, radius: 14, facing: 'below', nameWidth: 80, nameHeight: 18 } as const
  const full = [
    { x: 250, y: 0, w: 430, h: 300 },
    { x: 720, y: 0, w: 430, h: 300 },
    { x: 680, y: 0, w: 40, h: 130 },
    { x: 680, y: 170, w: 40, h: 130 },
  ]
  const { placed, unplaced } = placeWords([{ ...one, noteWidth: 0, noteHeight: 0 }], full, {
    x: 0,
    y: 0,
    w: 1400,
    h: 300,
  })
  expect(unplaced).toEqual([])
  expect(placed[0]?.leader).not.toBeNull()
})

test('a thread in its own lane still turns square and still ends on its seats', () => {
  const way = squared([
    { x: 10, y: 10 },
    { x: 10, y: 40 },
    { x: 10, y: 60 },
    { x: 200, y: 60 },
    { x: 200, y: 90 },
    { x: 200, y: 30 },
  ])
  expect(way).toEqual([
    { x: 10, y: 10 },
    { x: 10, y: 60 },
    { x: 200, y: 60 },
    { x: 200, y: 30 },
  ])
  const moved = laned(way, 9)
  expect([moved[0], moved[moved.length - 1]]).toEqual([way[0], way[way.length - 1]])
  moved.slice(1).forEach((point, index) => {
    const before = moved[index]
    expect(point.x === before?.x || point.y === before?.y).toBe(true)
  })
})

test('a partition is drawn up to its door and on after it', () => {
  const wall = { from: { xM: 4, yM: 0 }, to: { xM: 4, yM: 5 } }
  const door = { from: { xM: 4, yM: 3 }, to: { xM: 4, yM: 2 } }
  const elsewhere = { from: { xM: 1, yM: 0 }, to: { xM: 2, yM: 0 } }
  const lengths = solidStretches(wall, [door, elsewhere]).map(([a, b]) => [a.yM, b.yM])
  expect(lengths).toEqual([
    [0, 2],
    [3, 5],
  ])
})

test('a smaller bench drops the date first, then the mark, breaks the number at its hyphen, and never clips it', () => {
  const piece: PieceShape = {
    placeId: 'M1',
    seed: 's',
    number: 'OB24-017',
    stage: 'exposing',
    lengthM: 0.6,
    widthM: 0.4,
    date: { words: '20 Jun', isAtRisk: false },
  }
  const room: RoomShape = { widthM: 10, depthM: 6, partitions: [], doors: [], windows: [], compressor: null, racks: [] }
  const place: PlaceShape = {
    id: 'M1',
    code: 'M1',
    form: 'bench',
    xM: 3,
    yM: 2,
    widthM: 1.6,
    depthM: 0.9,
    rotationDeg: 0,
    seats: 1,
    label: 'M1',
  }
  const { letters } = layPlan(room, [place], 700, 'full')
  const of = (w: number) => layBench({ x: 0, y: 0, w, h: 62 }, 'M1', [piece], letters, 65)
  expect(of(120)).toMatchObject({ date: expect.anything(), mark: expect.anything(), number: expect.anything() })
  expect(of(84)).toMatchObject({ date: null, mark: expect.anything(), number: expect.anything() })
  expect(of(84).number?.lines).toEqual(['OB24-017'])
  expect(of(52).number?.lines).toEqual(['OB24', '-017'])
  expect(of(34).number).toBeNull()
  for (let w = 30; w < 200; w++) {
    const { number, stones } = of(w)
    for (const line of number?.lines ?? []) expect(numberWidth(line, number?.size ?? 0)).toBeLessThanOrEqual(w - 2)
    for (const stone of stones) {
      expect(stone.x - stone.width / 2).toBeGreaterThanOrEqual(0)
      expect(stone.x + stone.width / 2).toBeLessThanOrEqual(w)
    }
  }
})
