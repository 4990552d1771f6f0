// The line-up on paper: the room on one A4 page lying, at the largest round scale that fits, so that a rule laid on the
// print measures the room.

/** Inside the margins, in mm; the head of the page is taken off the height. */
const PAGE = { wideMm: 277, highMm: 172 }
/** Walls on both sides, and below them the metre rule. */
const WALLS_MM = 5
const RULE_MM = 8
const SCALES: readonly number[] = [50, 60, 75, 100, 125, 150, 200, 250, 500]
const PX_PER_MM = 96 / 25.4

/** What a metre is divided by. */
export function printScale(room: { readonly widthM: number; readonly depthM: number }): number {
  const fits = (scale: number) =>
    (room.widthM * 1000) / scale + WALLS_MM <= PAGE.wideMm &&
    (room.depthM * 1000) / scale + WALLS_MM + RULE_MM <= PAGE.highMm
  return SCALES.find(fits) ?? 500
}

/** Px of CSS for a metre at that scale. */
export const printPxPerM = (scale: number): number => (1000 / scale) * PX_PER_MM
