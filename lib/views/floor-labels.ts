// Stools and their words in the drawing: where each seat stands at its bench, and where its name goes when the room
// is tight. A name is tried beside the stool, under it, across, then on a leader in the aisle; it loses its technique
// word before it would cross anything, and is never clipped.
import { acrossOf, type Box, type Facing, overlapArea } from './floor-shape.ts'

/** How many words fit: both lines, the name alone, nothing (dots of the phone's plan). */
export type Density = 'full' | 'name' | 'dot'

/** A stool in px of the drawing. */
export type Stool = { readonly x: number; readonly y: number; readonly r: number; readonly facing: Facing }

/** Words to be set at a stool. */
export type Wanting = {
  readonly key: string
  readonly stool: Stool
  readonly nameW: number
  /** Width of the second line; 0 for none. */
  readonly moreW: number
}

/** Where the words stand. `anchor` is the side of the text at `x`. */
export type Label = {
  readonly key: string
  readonly x: number
  readonly y: number
  readonly anchor: 'start' | 'middle' | 'end'
  readonly lines: 1 | 2
  readonly box: Box
  /** The label stands away from its stool, joined by a thin line. */
  readonly isLed: boolean
}

const NAME_H = 18
const MORE_H = 15
const GAP = 6

/** Radius of a stool for a scale, in px. */
export const stoolRadius = (density: Density): number => (density === 'dot' ? 5.5 : density === 'name' ? 13 : 14.5)

/**
 * Seats around a bench. Up to what fits goes along its front, the rest across; a joining table is used from both
 * sides from the start. `slotW` is the room a stool with its words would like.
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

/**
 * Places all labels, in the order given, against fixed obstacles and each other. Every candidate costs what it
 * covers; the first that covers nothing wins, else the one that covers least.
 */
export function placeLabels(wanting: readonly Wanting[], obstacles: readonly Box[], frame: Box): readonly Label[] {
  const taken: Box[] = [...obstacles]
  for (const { stool } of wanting)
    taken.push({ x: stool.x - stool.r, y: stool.y - stool.r, w: stool.r * 2, h: stool.r * 2 })
  return wanting.map((want) => {
    let best: Label | null = null
    let least = Number.POSITIVE_INFINITY
    for (const candidate of candidates(want)) {
      const cost = taken.reduce((sum, box) => sum + overlapArea(box, candidate.box), outside(candidate.box, frame))
      if (cost < least) {
        best = candidate
        least = cost
      }
      if (cost === 0) break
    }
    const label = best ?? beside(want, 'start', 1)
    taken.push(label.box)
    return label
  })
}

function candidates(want: Wanting): readonly Label[] {
  const two: 1 | 2 = want.moreW > 0 ? 2 : 1
  const { facing } = want.stool
  const inward: Label[] =
    facing === 'left'
      ? [beside(want, 'end', two), under(want, two, 0), over(want, two), beside(want, 'end', 1)]
      : facing === 'right'
        ? [beside(want, 'start', two), under(want, two, 0), over(want, two), beside(want, 'start', 1)]
        : [beside(want, 'start', two), beside(want, 'end', two), beside(want, 'start', 1), beside(want, 'end', 1)]
  const near = facing === 'above' ? [over(want, two), over(want, 1)] : [under(want, two, 0), under(want, 1, 0)]
  const led = [22, 40, 60, 84].flatMap((away) => (facing === 'above' ? [over(want, 1, away)] : [under(want, 1, away)]))
  return [...inward, ...near, ...led]
}

function beside(want: Wanting, anchor: 'start' | 'end', lines: 1 | 2): Label {
  const { stool } = want
  const w = lines === 2 ? Math.max(want.nameW, want.moreW) : want.nameW
  const h = lines === 2 ? NAME_H + MORE_H : NAME_H
  const x = anchor === 'start' ? stool.x + stool.r + GAP : stool.x - stool.r - GAP
  const y = stool.y - h / 2
  return { key: want.key, x, y, anchor, lines, isLed: false, box: { x: anchor === 'start' ? x : x - w, y, w, h } }
}

function under(want: Wanting, lines: 1 | 2, away: number): Label {
  const { stool } = want
  const w = lines === 2 ? Math.max(want.nameW, want.moreW) : want.nameW
  const y = stool.y + stool.r + 2 + away
  const h = lines === 2 ? NAME_H + MORE_H : NAME_H
  return {
    key: want.key,
    x: stool.x,
    y,
    anchor: 'middle',
    lines,
    isLed: away > 0,
    box: { x: stool.x - w / 2, y, w, h },
  }
}

function over(want: Wanting, lines: 1 | 2, away = 0): Label {
  const { stool } = want
  const w = lines === 2 ? Math.max(want.nameW, want.moreW) : want.nameW
  const h = lines === 2 ? NAME_H + MORE_H : NAME_H
  const y = stool.y - stool.r - 2 - h - away
  return {
    key: want.key,
    x: stool.x,
    y,
    anchor: 'middle',
    lines,
    isLed: away > 0,
    box: { x: stool.x - w / 2, y, w, h },
  }
}

/** Area of a box that lies outside the frame, counted threefold: outside is worse than crowded. */
function outside(box: Box, frame: Box): number {
  return (box.w * box.h - overlapArea(box, frame)) * 3
}
