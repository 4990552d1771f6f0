// Where the seats of a bench stand in the drawing: along its front, across when the front is full, and from both
// sides at a table. One rule for the desk, the phone and the Wall.
import { acrossOf, type Box, type Facing } from './floor-shape.ts'

/** How many words fit: both lines, the name alone, nothing (dots of the phone's plan). */
export type Density = 'full' | 'name' | 'dot'

/** A stool in px of the drawing. */
export type Stool = { readonly x: number; readonly y: number; readonly r: number; readonly facing: Facing }

/** Radius of a stool for a scale, in px. */
const stoolRadius = (density: Density): number => (density === 'dot' ? 5.5 : density === 'name' ? 13 : 14.5)

/**
 * Seats around a bench. What fits goes along its front, the rest across; a joining table is used from both sides.
 */
export function stoolsAt(
  bench: Box,
  facing: Facing,
  seats: number,
  density: Density,
  isTwoSided: boolean,
): readonly Stool[] {
  const r = stoolRadius(density)
  const along = facing === 'below' || facing === 'above' ? bench.w : bench.h
  const most = Math.max(1, Math.floor(along / (r * 2 + 6)))
  const front = isTwoSided ? Math.ceil(seats / 2) : Math.min(seats, most)
  return [...row(bench, facing, front, r, density), ...row(bench, acrossOf(facing), seats - front, r, density)]
}

function row(bench: Box, facing: Facing, count: number, r: number, density: Density): readonly Stool[] {
  const off = density === 'dot' ? r + 4 : r + 10
  const stools: Stool[] = []
  for (let i = 0; i < count; i++) {
    if (facing === 'below' || facing === 'above') {
      // Stools stand at the start of their slot, so that the name has the rest of it.
      const slot = bench.w / count
      const lead = density === 'full' ? Math.min(slot / 2, r + 8) : slot / 2
      stools.push({
        x: bench.x + slot * i + lead,
        y: facing === 'below' ? bench.y + bench.h + off : bench.y - off,
        r,
        facing,
      })
    } else {
      const slot = bench.h / count
      stools.push({
        x: facing === 'left' ? bench.x - off : bench.x + bench.w + off,
        y: bench.y + slot * (i + 0.5),
        r,
        facing,
      })
    }
  }
  return stools
}
