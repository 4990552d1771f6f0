// A stone as a list of strokes for its stage: weave is plaster, stipple is rock, bare line is bone. Work
// removes the pattern. Kept apart from React so that print, tests and the screen draw from one place.
import { bone, breaks, lump, type Point, placed, shard, short, smoothPath, spanAt, straightPath } from './outline.ts'
import { cellFor, stipple, weave } from './pattern.ts'

/** Where a stone stands, sealed to released. */
export type StoneStage = 'sealed' | 'opened' | 'exposing' | 'joining' | 'stabilised' | 'housed' | 'released'

/** How one line of the figure is drawn. */
export type FigureLine = {
  readonly look:
    | 'body'
    | 'rim'
    | 'rock'
    | 'fine'
    | 'coarse'
    | 'weave'
    | 'bone'
    | 'line'
    | 'thin'
    | 'inner'
    | 'gone'
    | 'cradle'
  readonly path: string
}

/** The strokes of a stone `width` by `height` about the middle of its box. */
export function figure(seed: string, stage: StoneStage, width: number, height: number): readonly FigureLine[] {
  const [halfWidth, halfHeight] = [width / 2, height / 2]
  const outline = placed(lump(seed), halfWidth, halfHeight)
  const cell = cellFor(width)
  switch (stage) {
    case 'sealed':
      return [
        { look: 'body', path: smoothPath(outline) },
        { look: 'weave', path: weave(outline, cell) },
        { look: 'rim', path: smoothPath(outline) },
        { look: 'line', path: straps(outline, halfWidth) },
      ]
    case 'opened': {
      const inner = placed(lump(seed), halfWidth * 0.76, halfHeight * 0.76)
      return [
        { look: 'body', path: smoothPath(outline) },
        { look: 'rim', path: smoothPath(outline) },
        ...rock(seed, inner, cell),
        { look: 'inner', path: smoothPath(inner) },
      ]
    }
    case 'exposing': {
      const inner = placed(lump(seed), halfWidth * 0.8, halfHeight * 0.8)
      const bare = placed(bone(seed), halfWidth * 0.5, halfHeight * 0.46, halfWidth * 0.02, halfHeight * 0.03)
      return [
        { look: 'body', path: smoothPath(outline) },
        { look: 'rim', path: smoothPath(outline) },
        ...rock(seed, inner, cell, placed(bone(seed), halfWidth * 0.56, halfHeight * 0.52)),
        { look: 'bone', path: smoothPath(bare) },
        { look: 'thin', path: crest(bare) },
      ]
    }
    case 'joining': {
      const piece = placed(shard(seed), halfWidth * 0.92, halfHeight * 0.92)
      const lines = breaks(seed).map((line) => straightPath(placed(line, halfWidth * 0.92, halfHeight * 0.92), false))
      return [
        { look: 'body', path: straightPath(piece) },
        { look: 'rim', path: straightPath(piece) },
        { look: 'line', path: lines.join('') },
      ]
    }
    case 'stabilised':
      return [{ look: 'rock', path: smoothPath(placed(bone(seed), halfWidth * 0.8, halfHeight * 0.8)) }]
    case 'housed':
      return [
        {
          look: 'rock',
          path: smoothPath(placed(bone(seed), halfWidth * 0.56, halfHeight * 0.5, 0, -halfHeight * 0.2)),
        },
        { look: 'cradle', path: cradle(halfWidth, halfHeight) },
      ]
    case 'released': {
      const left = placed(bone(seed), halfWidth * 0.66, halfHeight * 0.7, -halfWidth * 0.2)
      return [
        { look: 'gone', path: smoothPath(left) },
        { look: 'line', path: arrowOut(halfWidth, halfHeight) },
      ]
    }
  }
}

function rock(seed: string, inside: readonly Point[], cell: number, without: readonly Point[] = []): FigureLine[] {
  const { fine, coarse } = stipple(seed, inside, cell, without)
  return [
    { look: 'fine', path: fine },
    { look: 'coarse', path: coarse },
  ]
}

function straps(outline: readonly Point[], halfWidth: number): string {
  return [-0.42, 0.42]
    .map((side) => {
      const x = side * halfWidth
      const [top, bottom] = spanAt(outline, x) ?? [0, 0]
      return `M${short(x)} ${short(top)}Q${short(x * 0.55)} ${short((top + bottom) / 2)} ${short(x)} ${short(bottom)}`
    })
    .join('')
}

function crest(outline: readonly Point[]): string {
  const xs = outline.map(([x]) => x)
  const [left, right] = [Math.min(...xs), Math.max(...xs)]
  const inset = (right - left) * 0.1
  const [leftTop, leftBottom] = spanAt(outline, left + inset) ?? [0, 0]
  const [rightTop, rightBottom] = spanAt(outline, right - inset) ?? [0, 0]
  const [middleTop, middleBottom] = spanAt(outline, (left + right) / 2) ?? [0, 0]
  const middle = middleTop + (middleBottom - middleTop) * 0.24
  return `M${short(left + inset)} ${short((leftTop + leftBottom) / 2)}Q${short((left + right) / 2)} ${short(middle)} ${short(right - inset)} ${short((rightTop + rightBottom) / 2)}`
}

function cradle(halfWidth: number, halfHeight: number): string {
  const [w, h] = [halfWidth, halfHeight]
  const points = `M${short(-w)} ${short(-h * 0.2)}H${short(-w * 0.66)}`
  const hollow = `C${short(-w * 0.62)} ${short(h * 0.62)} ${short(w * 0.62)} ${short(h * 0.62)} ${short(w * 0.66)} ${short(-h * 0.2)}`
  return `${points}${hollow}H${short(w)}V${short(h * 0.86)}H${short(-w)}z`
}

function arrowOut(halfWidth: number, halfHeight: number): string {
  const head = Math.min(halfWidth, halfHeight) * 0.3
  const tip = halfWidth
  return `M${short(halfWidth * 0.02)} 0H${short(tip)}M${short(tip - head)} ${short(-head)}L${short(tip)} 0L${short(tip - head)} ${short(head)}`
}
