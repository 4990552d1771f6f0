// What covers a stone: weave for plaster, stipple for rock. Drawn as strokes inside the outline, not as a
// fill pattern: strokes print sharp, survive forced colours and need no definition elsewhere in the page.
import { seededRandom } from '#lib/base'
import { isInside, type Point, seedOf, short } from './outline.ts'

/** Cells across a stone: the covering grows with the drawing, so a poster costs no more than a row. */
const cellsAcross = 13
const leastCell = 4.2
const mostCell = 11

/** How far apart strokes stand for a stone this wide. */
export function cellFor(width: number): number {
  return Math.min(mostCell, Math.max(leastCell, width / cellsAcross))
}

/** Dots of rock within `inside` and outside `without`, as a path of points for a round pen. */
export function stipple(
  seed: string,
  inside: readonly Point[],
  cell: number,
  without: readonly Point[] = [],
): { readonly fine: string; readonly coarse: string } {
  const random = seededRandom(seedOf(`${seed} rock`))
  const fine: string[] = []
  const coarse: string[] = []
  for (const [x, y] of lattice(inside, cell * 0.78)) {
    const dotX = x + (random.unit() - 0.5) * cell * 0.7
    const dotY = y + (random.unit() - 0.5) * cell * 0.7
    const isCoarse = random.unit() < 0.4
    if (!isInside(inside, dotX, dotY) || (without.length > 0 && isInside(without, dotX, dotY))) continue
    ;(isCoarse ? coarse : fine).push(`M${short(dotX)} ${short(dotY)}h0`)
  }
  return { fine: fine.join(''), coarse: coarse.join('') }
}

/** Crossing threads of a plaster bandage within the outline. */
export function weave(inside: readonly Point[], cell: number): string {
  const tilt = 0.42
  const [cos, sin] = [Math.cos(tilt), Math.sin(tilt)]
  const turned = inside.map(([x, y]): Point => [x * cos + y * sin, y * cos - x * sin])
  const strokes: string[] = []
  const half = cell * 0.42
  let row = 0
  for (const [u, v] of lattice(turned, cell * 0.62)) {
    row = Math.round(u / (cell * 0.62)) + Math.round(v / (cell * 0.62))
    const lies = row % 2 === 0
    const ends: readonly Point[] = lies
      ? [
          [u - half, v],
          [u + half, v],
        ]
      : [
          [u, v - half],
          [u, v + half],
        ]
    if (!ends.every(([x, y]) => isInside(turned, x, y))) continue
    strokes.push(
      ends
        .map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x * cos - y * sin)} ${short(x * sin + y * cos)}`)
        .join(''),
    )
  }
  return strokes.join('')
}

function* lattice(points: readonly Point[], step: number): Generator<Point> {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  const left = Math.floor(Math.min(...xs) / step)
  const right = Math.ceil(Math.max(...xs) / step)
  const top = Math.floor(Math.min(...ys) / step)
  const bottom = Math.ceil(Math.max(...ys) / step)
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column <= right; column++) yield [column * step, row * step]
  }
}
