// A drawn line with no more points than it needs.
import { STROKE_POINTS_MAX, type StrokePoint } from '#lib/words'

/** Farthest that a left-out point may lie from the line, in parts of STROKE_SPAN: less than the width of a pen. */
const OFF_MAX = 12

/**
 * The points of a line without those that lie on it anyway (Ramer 1972, Douglas & Peucker 1973), at most
 * STROKE_POINTS_MAX; first and last stay. A press without a movement becomes two equal points.
 */
export function fewerPoints(points: readonly StrokePoint[], offMax = OFF_MAX): readonly StrokePoint[] {
  const [first] = points
  if (!first) return []
  if (points.length === 1) return [first, first]
  const kept = new Set([0, points.length - 1])
  const spans: [number, number][] = [[0, points.length - 1]]
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [from, to] = span
    let [farthest, at] = [offMax, -1]
    for (let n = from + 1; n < to; n++) {
      const off = offLine(points[n] ?? first, points[from] ?? first, points[to] ?? first)
      if (off > farthest) [farthest, at] = [off, n]
    }
    if (at < 0) continue
    kept.add(at)
    spans.push([from, at], [at, to])
  }
  const fewer = points.filter((_, n) => kept.has(n))
  return fewer.length <= STROKE_POINTS_MAX ? fewer : fewerPoints(points, offMax * 2)
}

/** How far a point lies from the stretch between two others. */
function offLine([x, y]: StrokePoint, [ax, ay]: StrokePoint, [bx, by]: StrokePoint): number {
  const [dx, dy] = [bx - ax, by - ay]
  const length2 = dx * dx + dy * dy
  const along = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / length2))
  return Math.hypot(x - ax - along * dx, y - ay - along * dy)
}
