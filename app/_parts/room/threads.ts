// The line of a thread: square turns with round corners, from the rim of the old seat to the rim of the new.
import { short } from '../stone/outline.ts'

export type Px = { readonly x: number; readonly y: number }

/**
 * A way as an SVG path. `lane` moves the way aside, so that threads sharing an aisle run beside each other;
 * `trim` stops it short of the stool it comes to.
 */
export function threadPath(way: readonly Px[], lane = 0, trim = 0, round = 10): string {
  const points = trimmed(laned(way, lane), trim)
  const [first] = points
  if (first === undefined) return ''
  let path = `M${short(first.x)} ${short(first.y)}`
  points.slice(1).forEach((corner, index) => {
    const before = points[index] ?? corner
    const after = points[index + 2]
    if (after === undefined) {
      path += `L${short(corner.x)} ${short(corner.y)}`
      return
    }
    const reach = Math.min(round, apart(before, corner) / 2, apart(corner, after) / 2)
    const from = towards(corner, before, reach)
    const to = towards(corner, after, reach)
    path += `L${short(from.x)} ${short(from.y)}Q${short(corner.x)} ${short(corner.y)} ${short(to.x)} ${short(to.y)}`
  })
  return path
}

/** The corners alone: points along a straight stretch go, and so does a step out and back. */
export function squared(way: readonly Px[]): readonly Px[] {
  const corners: Px[] = []
  for (const point of way) {
    for (;;) {
      const [before, last] = [corners[corners.length - 2], corners[corners.length - 1]]
      if (last !== undefined && apart(last, point) < 0.5) corners.pop()
      else if (before !== undefined && last !== undefined && isInLine(before, last, point)) corners.pop()
      else break
    }
    corners.push(point)
  }
  return corners
}

function isInLine(a: Px, b: Px, c: Px): boolean {
  const same = (p: number, q: number) => Math.abs(p - q) < 0.5
  return (same(a.x, b.x) && same(b.x, c.x)) || (same(a.y, b.y) && same(b.y, c.y))
}

/** Inner stretches moved aside by `lane`; the ends stay on their seats and every turn stays square. */
export function laned(way: readonly Px[], lane: number): readonly Px[] {
  if (lane === 0 || way.length < 4) return way
  const moved = way.map((point) => ({ x: point.x + lane, y: point.y + lane }))
  const last = way.length - 1
  const ends = [
    { end: 0, next: 1 },
    { end: last, next: last - 1 },
  ]
  for (const { end, next } of ends) {
    const [seat, corner, shifted] = [way[end], way[next], moved[next]]
    if (seat === undefined || corner === undefined || shifted === undefined) continue
    moved[end] = seat
    moved[next] = Math.abs(seat.x - corner.x) < 0.5 ? { x: seat.x, y: shifted.y } : { x: shifted.x, y: seat.y }
  }
  return moved
}

function trimmed(points: readonly Px[], trim: number): readonly Px[] {
  const last = points[points.length - 1]
  const before = points[points.length - 2]
  if (trim === 0 || last === undefined || before === undefined) return points
  return [...points.slice(0, -1), towards(last, before, Math.min(trim, apart(last, before) - 1))]
}

function towards(from: Px, to: Px, distance: number): Px {
  const length = apart(from, to) || 1
  return { x: from.x + ((to.x - from.x) * distance) / length, y: from.y + ((to.y - from.y) * distance) / length }
}

function apart(a: Px, b: Px): number {
  return Math.hypot(a.x - b.x, a.y - b.y)
}
