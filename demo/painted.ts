// Pictures painted by arithmetic, pixel by pixel, as if they had been photographed on the lab's bench: dark cloth, light
// from the upper left, things with an edge and a grain, a scale bar. Lengths are hundredths of the picture's width.
import type { Dice } from './dice.ts'

/** Coarse, since each is painted at a start; they are made larger where they are kept. */
const [WIDTH_PX, HEIGHT_PX] = [480, 360]

/** Rows of red, green and blue. */
export interface Painted {
  readonly widthPx: number
  readonly heightPx: number
  readonly rgb: Uint8Array
}

export type Colour = readonly [number, number, number]
export type At<T> = (x: number, y: number) => T

/** One thing on the bench: how far a point lies outside its edge (below 0 inside), its colour, how round its edge is. */
export interface Layer {
  readonly outside: At<number>
  readonly colour: At<Colour>
  /** How far the edge bends away from the light; 0 for what lies flat. */
  readonly round: number
}

const CLOTH: Colour = [62, 60, 57]
const INK: Colour = [30, 30, 36]
/** The shadow falls so far to the lower right. */
const SHADOW = 2

/** Paints layers over the cloth, the first lowest. A picture is 100 wide and 75 high. */
export function painted(layers: readonly Layer[], grain: At<number>): Painted {
  const rgb = new Uint8Array(WIDTH_PX * HEIGHT_PX * 3)
  for (let row = 0; row < HEIGHT_PX; row++)
    for (let column = 0; column < WIDTH_PX; column++) {
      const x = (100 * column) / WIDTH_PX
      const y = (100 * row) / WIDTH_PX
      let colour = CLOTH
      let light = (0.9 + 0.14 * grain(x * 2.5, y * 2.5)) * (1.08 - 0.001 * (x + y))
      for (let n = layers.length - 1; n >= 0; n--) {
        const layer = layers[n]
        if (!layer) continue
        const outside = layer.outside(x, y)
        if (outside < 0) {
          colour = layer.colour(x, y)
          if (layer.round > 0) light *= lightOn(layer, x, y, outside)
          break
        }
        // Only what is near can throw its shadow here.
        if (layer.round > 0 && outside < 2 * SHADOW && layer.outside(x - SHADOW, y - SHADOW) < 0) light *= 0.62
      }
      const at = 3 * (row * WIDTH_PX + column)
      for (let n = 0; n < 3; n++) rgb[at + n] = Math.min(255, (colour[n] ?? 0) * light)
    }
  return { widthPx: WIDTH_PX, heightPx: HEIGHT_PX, rgb }
}

/** Brighter where the edge faces the upper left, darker where it faces away. */
function lightOn({ outside, round }: Layer, x: number, y: number, here: number): number {
  const off = round / 8
  const away = (outside(x + off, y + off) - here) / (off * Math.SQRT2)
  return 1 - 0.55 * away * Math.exp(here / round)
}

/** Smooth chance between 0 and 1 over the plane, about two bumps in 1; scale the arguments for others. */
export function noise(chance: Dice): At<number> {
  const side = 128
  const table = Float32Array.from({ length: side * side }, () => chance.unit())
  const value = (x: number, y: number) => table[(x & (side - 1)) + side * (y & (side - 1))] ?? 0
  return (wide, high) => {
    const x = wide * 1.6
    const y = high * 1.6
    const left = Math.floor(x)
    const above = Math.floor(y)
    const u = x - left
    const v = y - above
    const s = u * u * (3 - 2 * u)
    const t = v * v * (3 - 2 * v)
    const upper = value(left, above) * (1 - s) + value(left + 1, above) * s
    const lower = value(left, above + 1) * (1 - s) + value(left + 1, above + 1) * s
    return upper * (1 - t) + lower * t
  }
}

/** Between two colours. */
export const between = (one: Colour, other: Colour, share: number): Colour => [
  one[0] + (other[0] - one[0]) * share,
  one[1] + (other[1] - one[1]) * share,
  one[2] + (other[2] - one[2]) * share,
]

/** How far a point lies outside a rod from one end to the other, thick as `from` and `to` say. */
export function rod([ax, ay, from]: Colour, [bx, by, to]: Colour): At<number> {
  const [dx, dy] = [bx - ax, by - ay]
  const long2 = dx * dx + dy * dy || 1
  return (x, y) => {
    const along = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / long2))
    const offX = x - ax - along * dx
    const offY = y - ay - along * dy
    return Math.sqrt(offX * offX + offY * offY) - from - along * (to - from)
  }
}

/** Things grown together, with a soft throat between them. */
export function grown(parts: readonly At<number>[], soft: number): At<number> {
  return (x, y) => {
    let all = Number.POSITIVE_INFINITY
    for (const part of parts) {
      const one = part(x, y)
      const near = Math.max(0, soft - Math.abs(all - one)) / soft
      all = Math.min(all, one) - (near > 0 ? (near * near * soft) / 4 : 0)
    }
    return all
  }
}

/** An oval, its edge uneven. */
export function oval(cx: number, cy: number, rx: number, ry: number, grain: At<number>, uneven: number): At<number> {
  const least = Math.min(rx, ry)
  return (x, y) => {
    const even = (Math.sqrt(((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2) - 1) * least
    // Far from the edge its unevenness is nothing.
    return even > 2 * uneven || even < -12 - uneven ? even : even + (grain(x / 14, y / 14) - 0.5) * uneven
  }
}

/** A bar of five fields, black and white by turns, `long` in the picture, with its length in ink. */
export function scaleBar(long: number, lengthMm: number): readonly Layer[] {
  const [x0, y0, high, field] = [8, 66, 2.4, long / 5]
  const box = (x: number, w: number, h: number, out: number): At<number> => {
    return (px, py) => Math.max(x - out - px, px - x - w - out, y0 - out - py, py - y0 - h - out)
  }
  return [
    { outside: box(x0, long, high * 2.4, high / 2), colour: () => [238, 236, 230], round: 0 },
    ...[0, 2, 4].map((n) => ({ outside: box(x0 + n * field, field, high, 0), colour: () => INK, round: 0 })),
    inked(String(lengthMm), x0, y0 + high * 1.4, high, INK),
  ]
}

// Strokes of each sign on a grid four wide and six high, as they are inked on plaster.
const signs: Readonly<Record<string, string>> = {
  '0': '10 30 41 45 36 16 05 01 10',
  '1': '11 20 26',
  '2': '01 10 30 41 42 06 46',
  '3': '00 40 22 44 36 16 05',
  '4': '36 30 04 44',
  '5': '40 00 03 33 44 36 06',
  '6': '30 11 04 16 36 44 33 04',
  '7': '00 40 16',
  '8': '23 02 10 30 42 23 04 16 36 44 23',
  '9': '42 13 02 10 30 42 36',
  '-': '13 33',
  V: '00 26 40',
  G: '41 30 10 01 05 16 46 43 23',
  T: '00 40 20 26',
  F: '40 00 03 33 03 06',
  W: '00 16 22 36 40',
  K: '00 06 03 40 03 46',
  N: '06 00 46 40',
  R: '06 00 30 42 33 03 23 46',
}

/** A number in ink, its upper left corner at `x0`, `y0`. */
export function inked(text: string, x0: number, y0: number, high: number, ink: Colour = INK): Layer {
  const unit = high / 6
  const lines = [...text].flatMap((sign, n) => {
    const points = (signs[sign] ?? '')
      .split(' ')
      .map((point) => [x0 + (n * 5.6 + Number(point[0])) * unit, y0 + Number(point[1]) * unit] as const)
    return points.slice(1).map(([bx, by], index) => {
      const [ax, ay] = points[index] ?? [bx, by]
      return rod([ax, ay, unit * 0.42], [bx, by, unit * 0.42])
    })
  })
  const [right, below] = [x0 + text.length * 5.6 * unit, y0 + high]
  return {
    outside: (x, y) => {
      // Most of a picture is far from the number.
      if (x < x0 - unit || x > right || y < y0 - unit || y > below + unit) return high
      let nearest = high
      for (const line of lines) nearest = Math.min(nearest, line(x, y))
      return nearest
    },
    colour: () => ink,
    round: 0,
  }
}
