// Which places are close enough for a mentor to watch a learner: the drawn rectangles, turned as they stand, at most
// the lab's distance apart.
import type { Place } from '#lib/words'

type Point = readonly [x: number, y: number]

/** The four corners of a place as it stands in the room, metres. */
function cornersOf(place: Pick<Place, 'xM' | 'yM' | 'widthM' | 'depthM' | 'rotationDeg'>): readonly Point[] {
  const turn = (place.rotationDeg * Math.PI) / 180
  const cos = Math.cos(turn)
  const sin = Math.sin(turn)
  const signs: readonly Point[] = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ]
  return signs.map(([sx, sy]) => {
    const dx = (sx * place.widthM) / 2
    const dy = (sy * place.depthM) / 2
    return [place.xM + dx * cos - dy * sin, place.yM + dx * sin + dy * cos]
  })
}

/** Metres between the edges of two places; 0 when they touch or overlap. */
export function metresBetween(a: Readonly<Place>, b: Readonly<Place>): number {
  const one = cornersOf(a)
  const other = cornersOf(b)
  if (!isParted(one, other) && !isParted(other, one)) return 0
  // Of two convex shapes that do not meet, the nearest points are a corner of one and an edge of the other.
  return Math.min(...one.map((p) => toEdges(p, other)), ...other.map((p) => toEdges(p, one)))
}

/** True when the places are at most `neighbourM` apart. */
export function areNeighbours(a: Readonly<Place>, b: Readonly<Place>, neighbourM: number): boolean {
  // A hair of slack: 0.8 m drawn is not less than 0.8 m because of a turned corner's last digit.
  return metresBetween(a, b) <= neighbourM + 1e-6
}

/** True when some edge of `shape` has all of `other` on its outer side (separating axis). */
function isParted(shape: readonly Point[], other: readonly Point[]): boolean {
  return edgesOf(shape).some(([from, to]) => {
    const nx = to[1] - from[1]
    const ny = from[0] - to[0]
    return other.every((p) => (p[0] - from[0]) * nx + (p[1] - from[1]) * ny > 0)
  })
}

function edgesOf(shape: readonly Point[]): readonly (readonly [Point, Point])[] {
  return shape.flatMap((from, i) => {
    const to = shape[(i + 1) % shape.length]
    return to ? [[from, to] as const] : []
  })
}

function toEdges(p: Point, shape: readonly Point[]): number {
  return Math.min(
    ...edgesOf(shape).map(([from, to]) => {
      const dx = to[0] - from[0]
      const dy = to[1] - from[1]
      const length2 = dx * dx + dy * dy
      const along =
        length2 === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - from[0]) * dx + (p[1] - from[1]) * dy) / length2))
      return Math.hypot(p[0] - from[0] - along * dx, p[1] - from[1] - along * dy)
    }),
  )
}
