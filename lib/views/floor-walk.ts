// The way from one seat to another: along the aisles and through doors, never across walls or benches. The threads of
// a proposal and the tag that travels use the same way. A small grid search; turns cost, so ways are straight.
import type { RecordOf } from '#lib/words'
import { type Box, boxOf } from './floor-shape.ts'

type Point = { readonly x: number; readonly y: number }
type Room = Pick<RecordOf<'room'>, 'widthM' | 'depthM' | 'partitions' | 'doors' | 'racks'>
type Furniture = Pick<RecordOf<'place'>, 'xM' | 'yM' | 'widthM' | 'depthM' | 'rotationDeg'>

/** Cell of the grid in metres: fine enough for a 60 cm aisle, small enough to search in a millisecond. */
const CELL_M = 0.25
const TURN_COST = 3
const MAX_CELLS = 60_000

/** Where one may walk in a room. */
export type Aisles = {
  readonly columns: number
  readonly rows: number
  readonly isBlocked: (column: number, row: number) => boolean
  /** Whether the edge from a cell to its right (or lower) neighbour is a wall. */
  readonly isWallRight: (column: number, row: number) => boolean
  readonly isWallBelow: (column: number, row: number) => boolean
}

/** Prepares the grid of a room; built once for all threads of a drawing. */
export function aislesOf(room: Room, places: readonly Furniture[]): Aisles {
  const columns = Math.max(1, Math.ceil(room.widthM / CELL_M))
  const rows = Math.max(1, Math.ceil(room.depthM / CELL_M))
  const isTooLarge = columns * rows > MAX_CELLS
  const blocked = new Uint8Array(isTooLarge ? 0 : columns * rows)
  const right = new Uint8Array(blocked.length)
  const below = new Uint8Array(blocked.length)
  if (!isTooLarge) {
    const boxes: Box[] = places.map(boxOf)
    for (const rack of room.racks) boxes.push({ x: rack.xM, y: rack.yM, w: rack.widthM, h: rack.depthM })
    for (const box of boxes) {
      forCells(box, columns, rows, (cell) => {
        blocked[cell] = 1
      })
    }
    for (const wall of room.partitions) raise(wall, room.doors, { columns, rows, right, below })
  }
  const index = (column: number, row: number) => row * columns + column
  return {
    columns,
    rows,
    isBlocked: (column, row) => blocked[index(column, row)] === 1,
    isWallRight: (column, row) => right[index(column, row)] === 1,
    isWallBelow: (column, row) => below[index(column, row)] === 1,
  }
}

/**
 * Corner points in metres of the way from one point to another, both ends included. Where no way exists (a room
 * without doors, seats behind furniture) the straight line is given, so that a change is never left undrawn.
 */
export function walk(aisles: Aisles, from: Point, to: Point): readonly Point[] {
  const { columns, rows } = aisles
  if (columns * rows > MAX_CELLS) return [from, to]
  const cellOf = (point: Point) => ({
    c: Math.min(columns - 1, Math.max(0, Math.floor(point.x / CELL_M))),
    r: Math.min(rows - 1, Math.max(0, Math.floor(point.y / CELL_M))),
  })
  const [start, goal] = [cellOf(from), cellOf(to)]
  const found = search(aisles, start, goal)
  if (!found) return [from, to]
  const points = found.map(({ c, r }) => ({ x: (c + 0.5) * CELL_M, y: (r + 0.5) * CELL_M }))
  return straightened([from, ...aligned(points, from, to), to])
}

type Cell = { readonly c: number; readonly r: number }
const STEPS: readonly Cell[] = [
  { c: 1, r: 0 },
  { c: 0, r: 1 },
  { c: -1, r: 0 },
  { c: 0, r: -1 },
]

/** Cheapest way by cell and heading; a bucket per cost keeps it simple and exact (costs are small whole numbers). */
function search(aisles: Aisles, start: Cell, goal: Cell): readonly Cell[] | null {
  const { columns, rows } = aisles
  const states = columns * rows * 4
  const cost = new Int32Array(states).fill(-1)
  const before = new Int32Array(states).fill(-1)
  const buckets: number[][] = []
  const push = (state: number, value: number, from: number) => {
    const known = cost[state] ?? -1
    if (known !== -1 && known <= value) return
    cost[state] = value
    before[state] = from
    const bucket = buckets[value]
    if (bucket) bucket.push(state)
    else buckets[value] = [state]
  }
  for (let d = 0; d < 4; d++) push((start.r * columns + start.c) * 4 + d, 0, -1)
  for (let value = 0; value < buckets.length; value++) {
    for (const state of buckets[value] ?? []) {
      if (cost[state] !== value) continue
      const cell = state >> 2
      const here = { c: cell % columns, r: Math.floor(cell / columns) }
      if (here.c === goal.c && here.r === goal.r) return trace(before, state, columns)
      STEPS.forEach((step, heading) => {
        const next = { c: here.c + step.c, r: here.r + step.r }
        if (next.c < 0 || next.r < 0 || next.c >= columns || next.r >= rows) return
        if (isWalled(aisles, here, step)) return
        // A seat may stand against furniture: cells near both ends count as free, all other furniture as dear.
        const near = distance(next, goal) <= 2 || distance(next, start) <= 2
        if (aisles.isBlocked(next.c, next.r) && !near) return
        const turn = heading === (state & 3) || before[state] === -1 ? 0 : TURN_COST
        const rub = aisles.isBlocked(next.c, next.r) ? 6 : 0
        push((next.r * columns + next.c) * 4 + heading, value + 1 + turn + rub, state)
      })
    }
    buckets[value] = []
  }
  return null
}

const distance = (a: Cell, b: Cell): number => Math.max(Math.abs(a.c - b.c), Math.abs(a.r - b.r))

function isWalled(aisles: Aisles, here: Cell, step: Cell): boolean {
  if (step.c === 1) return aisles.isWallRight(here.c, here.r)
  if (step.c === -1) return aisles.isWallRight(here.c - 1, here.r)
  if (step.r === 1) return aisles.isWallBelow(here.c, here.r)
  return aisles.isWallBelow(here.c, here.r - 1)
}

function trace(before: Int32Array, end: number, columns: number): readonly Cell[] {
  const cells: Cell[] = []
  for (let state = end; state !== -1; state = before[state] ?? -1) {
    const cell = state >> 2
    cells.push({ c: cell % columns, r: Math.floor(cell / columns) })
  }
  return cells.reverse()
}

function forCells(box: Box, columns: number, rows: number, visit: (cell: number) => void): void {
  // A cell counts as furniture when its middle lies inside.
  for (let r = Math.max(0, Math.floor(box.y / CELL_M)); r < rows && (r + 0.5) * CELL_M <= box.y + box.h; r++) {
    if ((r + 0.5) * CELL_M < box.y) continue
    for (let c = Math.max(0, Math.floor(box.x / CELL_M)); c < columns && (c + 0.5) * CELL_M <= box.x + box.w; c++) {
      if ((c + 0.5) * CELL_M >= box.x) visit(r * columns + c)
    }
  }
}

/** Raises a partition between cells, leaving its doors open; a slanted one blocks the edges of the cells it meets. */
function raise(
  wall: Room['partitions'][number],
  doors: Room['doors'],
  grid: { readonly columns: number; readonly rows: number; readonly right: Uint8Array; readonly below: Uint8Array },
): void {
  const length = Math.hypot(wall.to.xM - wall.from.xM, wall.to.yM - wall.from.yM)
  const count = Math.max(1, Math.ceil((length / CELL_M) * 2))
  const isUpright = Math.abs(wall.to.yM - wall.from.yM) >= Math.abs(wall.to.xM - wall.from.xM)
  for (let i = 0; i <= count; i++) {
    const x = wall.from.xM + ((wall.to.xM - wall.from.xM) * i) / count
    const y = wall.from.yM + ((wall.to.yM - wall.from.yM) * i) / count
    if (doors.some((door) => isOn(door, x, y))) continue
    if (isUpright) {
      const c = Math.round(x / CELL_M) - 1
      const r = Math.min(grid.rows - 1, Math.floor(y / CELL_M))
      if (c >= 0 && c < grid.columns && r >= 0) grid.right[r * grid.columns + c] = 1
    } else {
      const r = Math.round(y / CELL_M) - 1
      const c = Math.min(grid.columns - 1, Math.floor(x / CELL_M))
      if (r >= 0 && r < grid.rows && c >= 0) grid.below[r * grid.columns + c] = 1
    }
  }
}

/** Whether a point lies on a door, a finger's breadth aside included. */
function isOn(door: Room['doors'][number], x: number, y: number): boolean {
  const [dx, dy] = [door.to.xM - door.from.xM, door.to.yM - door.from.yM]
  const length2 = dx * dx + dy * dy
  if (length2 === 0) return false
  const along = ((x - door.from.xM) * dx + (y - door.from.yM) * dy) / length2
  if (along < 0 || along > 1) return false
  const off = Math.abs((x - door.from.xM) * dy - (y - door.from.yM) * dx) / Math.sqrt(length2)
  return off < 0.15
}

/** Grid points moved onto the lines of the two ends, so that a thread leaves and arrives without a jog. */
function aligned(points: readonly Point[], from: Point, to: Point): readonly Point[] {
  const first = points[0]
  const last = points[points.length - 1]
  if (!first || !last) return points
  return points.map((point) => ({
    x: point.x === first.x ? from.x : point.x === last.x ? to.x : point.x,
    y: point.y === first.y ? from.y : point.y === last.y ? to.y : point.y,
  }))
}

/** The corners only. */
function straightened(points: readonly Point[]): readonly Point[] {
  const corners: Point[] = []
  for (const point of points) {
    const [a, b] = [corners[corners.length - 2], corners[corners.length - 1]]
    if (b && b.x === point.x && b.y === point.y) continue
    const isInLine = a && b && ((a.x === b.x && b.x === point.x) || (a.y === b.y && b.y === point.y))
    if (isInLine) corners.pop()
    corners.push(point)
  }
  return corners
}
