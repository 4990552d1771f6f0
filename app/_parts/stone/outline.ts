// The outline of a stone, drawn from its id alone: the same specimen looks the same on every screen, in
// print and next year. Points lie in a box from -1 to 1 and touch all four sides of it, so a stone drawn
// at 3 m by 2 m truly measures 3 m by 2 m.
import { type Random, seededRandom } from '#lib/base'

/** A point of an outline; x to the right, y down. */
export type Point = readonly [x: number, y: number]

/** A number for a text, spread over all of 32 bits (FNV-1a). */
export function seedOf(text: string): number {
  let hash = 0x811c9dc5
  for (let index = 0; index < text.length; index++) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193)
  }
  return hash >>> 0
}

/** The plaster outline: a rounded lump of eleven points. */
export function lump(seed: string): readonly Point[] {
  return fitted(around(seededRandom(seedOf(seed)), 11, 0.8, 1))
}

/** The bone inside: a smaller shape of its own, with one long side. */
export function bone(seed: string): readonly Point[] {
  return fitted(around(seededRandom(seedOf(`${seed} bone`)), 8, 0.68, 1))
}

/** A broken piece: few points, straight edges. */
export function shard(seed: string): readonly Point[] {
  return fitted(around(seededRandom(seedOf(`${seed} shard`)), 9, 0.84, 1))
}

/** Where breaks run across a shard: one from edge to edge, two branching off it, all a little over the edge. */
export function breaks(seed: string): readonly (readonly Point[])[] {
  const random = seededRandom(seedOf(`${seed} breaks`))
  const jog = (reach: number) => (random.unit() - 0.5) * reach
  const upper: Point = [0.1 + jog(0.24), -0.3 + jog(0.16)]
  const lower: Point = [-0.12 + jog(0.24), 0.32 + jog(0.16)]
  return [
    [[-0.2 + jog(0.2), -1.14], upper, lower, [0.14 + jog(0.2), 1.12]],
    [upper, [1.14, -0.06 + jog(0.3)]],
    [lower, [-1.14, 0.06 + jog(0.3)]],
  ]
}

/** The same outline, larger or smaller about its middle and moved. */
export function placed(
  points: readonly Point[],
  halfWidth: number,
  halfHeight: number,
  x = 0,
  y = 0,
): readonly Point[] {
  return points.map(([px, py]) => [px * halfWidth + x, py * halfHeight + y])
}

/** A closed smooth line through all points, as an SVG path. */
export function smoothPath(points: readonly Point[]): string {
  const count = points.length
  const at = (index: number): Point => points[(index + count) % count] ?? [0, 0]
  const [startX, startY] = at(0)
  let path = `M${short(startX)} ${short(startY)}`
  for (let index = 0; index < count; index++) {
    const [before, from, to, after] = [at(index - 1), at(index), at(index + 1), at(index + 2)]
    // Catmull-Rom as Bezier, slackened so that the line stays inside the hull of a bumpy outline.
    const slack = 7
    const x1 = from[0] + (to[0] - before[0]) / slack
    const y1 = from[1] + (to[1] - before[1]) / slack
    const x2 = to[0] - (after[0] - from[0]) / slack
    const y2 = to[1] - (after[1] - from[1]) / slack
    path += `C${short(x1)} ${short(y1)} ${short(x2)} ${short(y2)} ${short(to[0])} ${short(to[1])}`
  }
  return `${path}z`
}

/** Straight edges from point to point; closed unless told otherwise. */
export function straightPath(points: readonly Point[], isClosed = true): string {
  const line = points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('')
  return isClosed ? `${line}z` : line
}

/** Whether a point lies within the straight-edged outline. */
export function isInside(points: readonly Point[], x: number, y: number): boolean {
  let inside = false
  for (let index = 0; index < points.length; index++) {
    const [x1, y1] = points[index] ?? [0, 0]
    const [x2, y2] = points[(index + 1) % points.length] ?? [0, 0]
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside
  }
  return inside
}

/** The top and bottom of the outline on an upright line at x, or nothing where the line misses it. */
export function spanAt(points: readonly Point[], x: number): readonly [top: number, bottom: number] | undefined {
  const crossings: number[] = []
  for (let index = 0; index < points.length; index++) {
    const [x1, y1] = points[index] ?? [0, 0]
    const [x2, y2] = points[(index + 1) % points.length] ?? [0, 0]
    if (x1 > x !== x2 > x) crossings.push(y1 + ((y2 - y1) * (x - x1)) / (x2 - x1))
  }
  return crossings.length === 0 ? undefined : [Math.min(...crossings), Math.max(...crossings)]
}

/** A coordinate with one decimal: finer than any screen or printer shows. */
export function short(value: number): number {
  return Math.round(value * 10) / 10
}

function around(random: Random, count: number, least: number, most: number): readonly Point[] {
  const turn = random.unit() * Math.PI * 2
  return Array.from({ length: count }, (_, index): Point => {
    const angle = turn + ((index + (random.unit() - 0.5) * 0.45) / count) * Math.PI * 2
    const radius = least + random.unit() * (most - least)
    return [Math.cos(angle) * radius, Math.sin(angle) * radius]
  })
}

function fitted(points: readonly Point[]): readonly Point[] {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  return points.map(([x, y]) => [((x - left) / (right - left)) * 2 - 1, ((y - top) / (bottom - top)) * 2 - 1])
}
