// What the demo lab photographed: an invented bone in its rock, fragments laid out, a jacket with its number, a piece in
// its cradle. Nothing is drawn after anything that was ever found.
import { dice } from './dice.ts'
import {
  type At,
  between,
  type Colour,
  grown,
  inked,
  type Layer,
  noise,
  oval,
  type Painted,
  painted,
  rod,
  scaleBar,
} from './painted.ts'

const rocks: readonly (readonly [Colour, Colour])[] = [
  [
    [150, 138, 118],
    [186, 174, 152],
  ],
  [
    [142, 98, 76],
    [178, 132, 104],
  ],
]
const bones: readonly [Colour, Colour] = [
  [78, 56, 42],
  [142, 106, 74],
]
const plaster: readonly [Colour, Colour] = [
  [206, 200, 188],
  [240, 236, 226],
]

/** Rock with a grain of two sizes and a few darker beds. */
const rockColour =
  ([dark, light]: readonly [Colour, Colour], grain: At<number>): At<Colour> =>
  (x, y) =>
    between(dark, light, 0.5 * grain(x / 3, y / 3) + 0.3 * grain(x, y) + 0.2 * grain(x / 40, y / 7))

/** Bone: long fibres, thin dark cracks. */
const boneColour =
  (grain: At<number>): At<Colour> =>
  (x, y) =>
    Math.abs(grain(x / 19, y / 13) - 0.5) < 0.012
      ? [44, 34, 28]
      : between(bones[0], bones[1], 0.6 * grain(x / 22, y / 2) + 0.4 * grain(x / 2, y / 2))

/** Where the bone of a picture lies, from one end to the other. */
export function boneIn(seed: number): readonly [readonly [number, number], readonly [number, number]] {
  const lean = ((seed * 5) % 15) - 7
  return [
    [21, 34 - lean * 0.6],
    [77, 36 + lean * 0.55],
  ]
}

/** A bone lying across, with ends of its own, a little bent. */
function boneShape(seed: number): At<number> {
  const [[ax, ay], [bx, by]] = boneIn(seed)
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2 - 2.2]
  return grown(
    [
      rod([ax, ay, 5.6], [mx, my, 3.9]),
      rod([mx, my, 3.9], [bx, by, 4.4]),
      rod([ax - 1, ay - 4, 6.8], [ax - 3, ay + 6, 5]),
      rod([bx + 1, by - 4, 3.6], [bx + 3, by + 5, 5.6]),
    ],
    5,
  )
}

/** A bone part of which shows in its rock; `shownPct` of it is clear. */
export function boneInRock(seed: number, widthMm: number, shownPct: number): Painted {
  const grain = noise(dice(seed))
  const rock = rockColour(rocks[seed % rocks.length] ?? [plaster[0], plaster[1]], grain)
  const bone = boneShape(seed)
  const cover = 0.3 + 0.5 * (1 - shownPct / 100)
  // Where rock still lies on it the bone is only a swelling.
  const shows: At<number> = (x, y) => {
    const outside = bone(x, y)
    if (outside > 0) return outside
    return Math.max(outside, (cover - 0.8 * grain(x / 9, y / 9) - 0.2 * grain(x / 2, y / 2)) * 6)
  }
  return painted(
    [
      { outside: oval(50, 35, 43, 27, grain, 7), colour: rock, round: 3 },
      { outside: bone, colour: (x, y) => between(rock(x, y), [214, 200, 176], 0.18), round: 2 },
      { outside: shows, colour: boneColour(grain), round: 1.4 },
      ...bar(widthMm),
    ],
    grain,
  )
}

/** A bone out of its rock on a padded plaster cradle. */
export function boneInCradle(seed: number, widthMm: number): Painted {
  const grain = noise(dice(seed))
  const bone = boneShape(seed)
  return painted(
    [
      {
        outside: oval(50, 36, 40, 19, grain, 2),
        colour: (x, y) => between(plaster[0], plaster[1], grain(x / 4, y / 4)),
        round: 3,
      },
      {
        outside: (x, y) => bone(x, y) - 2.2,
        colour: (x, y) => between([120, 128, 128], [150, 158, 156], grain(x / 2, y / 2)),
        round: 0,
      },
      { outside: bone, colour: boneColour(grain), round: 2.4 },
      ...bar(widthMm),
    ],
    grain,
  )
}

/** A plaster jacket with its straps and its number. */
export function jacketWith(number: string, seed: number, widthMm: number): Painted {
  const grain = noise(dice(seed))
  const weave: At<Colour> = (x, y) => {
    const cloth = 0.5 + 0.25 * Math.sin(x * 1.8) + 0.25 * Math.sin(y * 1.8)
    return between(plaster[0], plaster[1], 0.35 * cloth + 0.65 * grain(x / 5, y / 5))
  }
  const strap = (x: number): Layer => ({
    outside: (px, py) => Math.max(Math.abs(px - x - (py - 36) / 9) - 2.4, Math.abs(py - 35) - 24),
    colour: (px, py) => between([188, 182, 168], [222, 216, 204], grain(px, py / 6)),
    round: 0.8,
  })
  return painted(
    [
      { outside: oval(50, 35, 42, 27, grain, 5), colour: weave, round: 9 },
      strap(24),
      strap(77),
      inked(number, 30, 30, 6.6),
      ...bar(widthMm),
    ],
    grain,
  )
}

/** Fragments with their numbers, laid out as they came out of the bag. */
export function fragmentsOf(count: number, seed: number, widthMm: number): Painted {
  const chance = dice(seed)
  const grain = noise(chance)
  const columns = Math.ceil(Math.sqrt(count * 1.7))
  const [wide, high] = [88 / columns, 60 / Math.ceil(count / columns)]
  const laid = Array.from({ length: count }, (_, n): readonly Layer[] => {
    const [cx, cy] = [9 + wide * ((n % columns) + 0.4), 4 + high * (Math.floor(n / columns) + 0.4)]
    const [rx, ry, turn] = [wide * chance.around(0.32, 1.25), high * chance.around(0.3, 1.25), chance.unit() * 3]
    const [c, s] = [Math.cos(turn), Math.sin(turn)]
    // Broken straight: a box turned, its corners and edges uneven.
    const outside: At<number> = (x, y) => {
      const [dx, dy] = [x - cx, y - cy]
      if (Math.abs(dx) + Math.abs(dy) > (rx + ry) * 1.6) return rx
      const [u, v] = [Math.abs(dx * c + dy * s), Math.abs(dy * c - dx * s)]
      return (
        Math.max(u - rx * 0.8, v - ry * 0.8, (u + v - rx - ry * 0.45) * 0.7) + (grain(x / 1.5, y / 1.5) - 0.5) * 1.6
      )
    }
    return [
      { outside, colour: boneColour(grain), round: 0.9 },
      inked(String(n + 1), cx + rx * 0.9, cy + ry * 0.8, 3, [226, 222, 212]),
    ]
  }).flat()
  return painted([...laid, ...bar(widthMm)], grain)
}

/** The scale bar that lies in a picture so wide, mm: a round length of about a quarter. */
export const barOf = (widthMm: number): number =>
  [500, 250, 200, 100, 50, 20, 10].find((bar) => bar <= widthMm / 4) ?? 10

const bar = (widthMm: number): readonly Layer[] => scaleBar((100 * barOf(widthMm)) / widthMm, barOf(widthMm))
