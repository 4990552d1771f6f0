// Hatching as strokes inside a shape: risk, air in use, a bench out of use. Strokes instead of a fill
// pattern, so they print at their own width and stay in forced colours.
import { type Point, short } from '../stone/outline.ts'

/** Parallel strokes within a shape, `step` apart, leaning by `degrees` (45 leans like /). */
export function hatch(shape: readonly Point[], step: number, degrees = 45): string {
  const angle = (-degrees * Math.PI) / 180
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  const turned = shape.map(([x, y]): Point => [x * cos + y * sin, y * cos - x * sin])
  const levels = turned.map(([, y]) => y)
  const strokes: string[] = []
  // Half a step in, so that no stroke runs along an edge of a shape that lies on the grid.
  for (
    let level = Math.ceil(Math.min(...levels) / step) * step + step / 2;
    level < Math.max(...levels);
    level += step
  ) {
    const crossings = crossingsAt(turned, level)
    for (let index = 0; index + 1 < crossings.length; index += 2) {
      const [from, to] = [crossings[index] ?? 0, crossings[index + 1] ?? 0]
      const at = (x: number) => `${short(x * cos - level * sin)} ${short(x * sin + level * cos)}`
      strokes.push(`M${at(from)}L${at(to)}`)
    }
  }
  return strokes.join('')
}

/** The corners of an upright box. */
export function box(x: number, y: number, width: number, height: number): readonly Point[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ]
}

function crossingsAt(shape: readonly Point[], level: number): readonly number[] {
  const crossings: number[] = []
  for (let index = 0; index < shape.length; index++) {
    const [x1, y1] = shape[index] ?? [0, 0]
    const [x2, y2] = shape[(index + 1) % shape.length] ?? [0, 0]
    if (y1 > level !== y2 > level) crossings.push(x1 + ((x2 - x1) * (level - y1)) / (y2 - y1))
  }
  return crossings.sort((a, b) => a - b)
}
