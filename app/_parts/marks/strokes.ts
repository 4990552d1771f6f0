// One pen for all marks: a 24 by 24 grid, a 1.5 line with round ends, one ink. A mark is a few strokes;
// the pen may press lightly, heavily, lift in a broken line, or fill a shape.

/** How the pen is held for one stroke. */
export type Pen = 'line' | 'thin' | 'heavy' | 'broken' | 'full'

/** One stroke of a mark: the pen and the path it draws. */
export type Stroke = readonly [pen: Pen, path: string]

/** A circle as a path, so every stroke is one kind of thing. */
export function ring(cx: number, cy: number, radius: number): string {
  const across = radius * 2
  return `M${cx - radius} ${cy}a${radius} ${radius} 0 1 0 ${across} 0a${radius} ${radius} 0 1 0 ${-across} 0z`
}

/** Small full dots, such as powder or stipple. */
export function dots(...places: readonly (readonly [x: number, y: number, radius: number])[]): Stroke {
  return ['full', places.map(([x, y, radius]) => ring(x, y, radius)).join('')]
}
