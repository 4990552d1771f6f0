// Broken surfaces whose answer is known. Each surface is a sheet of bone, broken by main cracks (Voronoi) into blocks
// and each block by cracks of its own, so that a side of one fragment often faces several others. Thickness, texture and
// shade vary smoothly over the sheet. Some fragments are lost, some edges worn. What comes out for the advice is only
// what a lab writes down: rounded, with the slips of calipers and eyes, under shuffled numbers; where a fragment lay and
// which cracks made it stay in here.
import { type Random, seededRandom } from '#lib/base'
import type { FragmentSeen } from '#lib/joins'
import { type BreakEdge, surfaceKinds } from '#lib/words'

/** How a lab measures, and what time did to the fragments. */
export interface Circumstances {
  /** Standard deviation of one caliper reading of thickness, mm, and in % of it: breaks are never square. */
  readonly thicknessMm: number
  readonly thicknessPct: number
  /** Standard deviation of an edge's length, % (worn corners, curved breaks). */
  readonly lengthPct: number
  /** Standard deviation of a chart step as read. */
  readonly chartSteps: number
  /** Share of profiles and surfaces that are named wrongly. */
  readonly misnamedPct: number
  readonly lostPct: number
  readonly wornPct: number
  /** Thickness at each edge, or only once at a fragment's middle. */
  readonly isThicknessAtEdges: boolean
  readonly hasLengths: boolean
  readonly hasProfiles: boolean
}

export const usualCircumstances: Circumstances = {
  thicknessMm: 0.2,
  thicknessPct: 3,
  lengthPct: 7,
  chartSteps: 0.5,
  misnamedPct: 12,
  lostPct: 8,
  wornPct: 15,
  isThicknessAtEdges: true,
  hasLengths: true,
  hasProfiles: true,
}

/** A tray and the joins that a hand would feel: pairs of numbers that share an unworn stretch of break. */
export interface Breakage {
  readonly fragments: readonly FragmentSeen[]
  readonly joins: readonly (readonly [number, number])[]
  /** What each edge of each fragment faces, as is seen once both lie in one assembly: number and share of the edge. */
  readonly faces: readonly (readonly (readonly { readonly number: number; readonly share: number }[])[])[]
}

type Point = readonly [number, number]
const origin: Point = [0, 0]
/** A side runs from its point to the next; `line` names the crack that made it, null the natural margin. */
interface Side {
  readonly from: Point
  readonly line: string | null
}
interface Cell {
  readonly sheet: number
  readonly sides: readonly Side[]
}

/** Shortest shared stretch that a hand can feel, mm. */
const FELT_MM = 4
/** Of worn edges, the share worn beyond any fit. */
const GONE_SHARE = 0.2
/** Mean extent of a fragment, mm. */
const EXTENT_MM = 30

/** `count` fragments left on the tray from one sheet for each fifty, mixed. */
export function breakUp(count: number, seed: number, how: Circumstances): Breakage {
  const chance = seededRandom(seed)
  const sheets = 1 + Math.floor(count / 50)
  const made = Math.ceil(count / (1 - how.lostPct / 100))
  const cells: Cell[] = []
  for (let sheet = 0; sheet < sheets; sheet++) {
    const share = Math.floor(((sheet + 1) * made) / sheets) - Math.floor((sheet * made) / sheets)
    cells.push(...brokenSheet(sheet, share, chance))
  }
  const kept = shuffled(cells, chance).slice(0, count)
  const fields = Array.from({ length: sheets }, () => sheetFields(chance))
  const wear = new Map<string, number>()
  const wornAt = (cell: number, side: number): number => {
    const key = `${cell} ${side}`
    const known = wear.get(key)
    if (known !== undefined) return known
    const worn = chance.unit() * 100 < how.wornPct ? (chance.unit() < GONE_SHARE ? 1 : 0.05 + 0.25 * chance.unit()) : 0
    wear.set(key, worn)
    return worn
  }
  const fragments = kept.map((cell, index) =>
    seenOf({ cell, index, fields: fields[cell.sheet] ?? sheetFields(chance), how, chance, wornAt }),
  )
  return { fragments, joins: trueJoins(kept, wornAt), faces: facesOf(kept) }
}

/** Main cracks over the sheet, then cracks within each block. */
function brokenSheet(sheet: number, count: number, chance: Random): readonly Cell[] {
  const side = EXTENT_MM * Math.sqrt(count)
  const outer: Side[] = [
    { from: [0, 0], line: null },
    { from: [side, 0], line: null },
    { from: [side, side], line: null },
    { from: [0, side], line: null },
  ]
  const blocks = Math.max(2, Math.round(count / 5))
  const inBlocks = voronoi(outer, scattered(outer, blocks, chance), `${sheet}`)
  // Fragments go to blocks by their area.
  const areas = inBlocks.map(areaOf)
  const whole = areas.reduce((sum, area) => sum + area, 0)
  let given = 0
  let before = 0
  return inBlocks.flatMap((block, index) => {
    before += areas[index] ?? 0
    const isLast = index === inBlocks.length - 1
    const own = Math.max(1, isLast ? count - given : Math.round((before / whole) * count) - given)
    given += own
    const parts = own === 1 ? [block] : voronoi(block, scattered(block, own, chance), `${sheet}/${index}`)
    return parts.map((sides): Cell => ({ sheet, sides }))
  })
}

/** Points within a convex outline, kept apart a little as cracks keep apart. */
function scattered(outline: readonly Side[], count: number, chance: Random): readonly Point[] {
  const xs = outline.map(({ from }) => from[0])
  const ys = outline.map(({ from }) => from[1])
  const [left, top] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - top]
  const apart = 0.55 * Math.sqrt(areaOf(outline) / count)
  const points: Point[] = []
  for (let tries = 0; points.length < count; tries++) {
    const point: Point = [left + width * chance.unit(), top + height * chance.unit()]
    if (!isInside(outline, point)) continue
    if (tries < 50 * count && points.some((other) => distance(other, point) < apart)) continue
    points.push(point)
  }
  return points
}

/** The outline cut along the bisectors of its points. */
function voronoi(outline: readonly Side[], points: readonly Point[], name: string): readonly (readonly Side[])[] {
  return points.map((point, index) => {
    let sides: readonly Side[] = outline
    for (const [other, far] of points.entries()) {
      if (other === index) continue
      const line = `${name}:${Math.min(index, other)}-${Math.max(index, other)}`
      sides = cut(sides, point, far, line)
    }
    return sides
  })
}

/** What of a convex outline lies nearer to `near` than to `far`. */
function cut(sides: readonly Side[], near: Point, far: Point, line: string): readonly Side[] {
  const beyond = ([x, y]: Point) =>
    (x - (near[0] + far[0]) / 2) * (far[0] - near[0]) + (y - (near[1] + far[1]) / 2) * (far[1] - near[1])
  const kept: Side[] = []
  for (const [index, side] of sides.entries()) {
    const to = sides[(index + 1) % sides.length]?.from ?? side.from
    const [a, b] = [beyond(side.from), beyond(to)]
    if (a <= 0) kept.push(side)
    if (a <= 0 === b <= 0) continue
    const share = a / (a - b)
    const at: Point = [side.from[0] + share * (to[0] - side.from[0]), side.from[1] + share * (to[1] - side.from[1])]
    kept.push({ from: at, line: a <= 0 ? line : side.line })
  }
  return kept
}

const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1])
const endOf = (sides: readonly Side[], index: number): Point => sides[(index + 1) % sides.length]?.from ?? origin

function areaOf(sides: readonly Side[]): number {
  const twice = sides.reduce((sum, { from }, index) => {
    const to = endOf(sides, index)
    return sum + from[0] * to[1] - to[0] * from[1]
  }, 0)
  return Math.abs(twice) / 2
}

function isInside(sides: readonly Side[], [x, y]: Point): boolean {
  return sides.every(({ from }, index) => {
    const to = endOf(sides, index)
    return (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]) >= 0
  })
}

type Field = (at: Point) => number
interface Fields {
  readonly thicknessMm: Field
  readonly texture: Field
  readonly shade: Field
  readonly surface: Field
}

/** A smooth field of unit deviation: six waves of 90 to 270 mm in chance directions. */
function smooth(chance: Random): Field {
  const waves = Array.from({ length: 6 }, () => {
    const [turn, long] = [2 * Math.PI * chance.unit(), 90 + 180 * chance.unit()]
    return [
      (2 * Math.PI * Math.cos(turn)) / long,
      (2 * Math.PI * Math.sin(turn)) / long,
      2 * Math.PI * chance.unit(),
    ] as const
  })
  return ([x, y]) => waves.reduce((sum, [fx, fy, phase]) => sum + Math.sin(fx * x + fy * y + phase), 0) / Math.sqrt(3)
}

function sheetFields(chance: Random): Fields {
  const [thickness, texture, shade] = [smooth(chance), smooth(chance), smooth(chance)]
  const [middle, grain, tone] = [6 + 4 * chance.unit(), 3 + 2 * chance.unit(), 3 + 2 * chance.unit()]
  return {
    thicknessMm: (at) => middle * Math.exp(0.25 * thickness(at)),
    texture: (at) => grain + 1.2 * texture(at),
    shade: (at) => tone + 1.2 * shade(at),
    surface: smooth(chance),
  }
}

const profiles = ['straight', 'bowed out', 'bowed in', 'wavy', 'stepped'] as const

type Wear = (cell: number, side: number) => number
interface Seeing {
  readonly cell: Cell
  readonly index: number
  readonly fields: Fields
  readonly how: Circumstances
  readonly chance: Random
  readonly wornAt: Wear
}

/** A fragment as the lab writes it down. */
function seenOf({ cell, index, fields, how, chance, wornAt }: Seeing): FragmentSeen {
  const middle = centreOf(cell.sides)
  const tenth = (mm: number) => Math.max(0.1, Math.round(mm * 10) / 10)
  const calipers = (at: Point) => {
    const mm = fields.thicknessMm(at)
    return tenth(mm * (1 + (how.thicknessPct / 100) * normal(chance)) + how.thicknessMm * normal(chance))
  }
  const chart = (step: number) => Math.min(7, Math.max(1, Math.round(step + how.chartSteps * normal(chance))))
  const misnamed = () => chance.unit() * 100 < how.misnamedPct
  const surface = Math.min(2, Math.max(0, Math.floor(fields.surface(middle) + 1.5)))
  const edges = cell.sides.flatMap(({ from, line }, side): BreakEdge[] => {
    const to = endOf(cell.sides, side)
    const worn = wornAt(index, side)
    if (line === null || !isEdge(cell, side)) return []
    const long = distance(from, to) * (1 - worn * 0.6)
    const profile =
      worn > 0 ? 'worn' : misnamed() ? (profiles[chance.below(5)] ?? 'straight') : profileOf(line, from, to)
    return [
      {
        lengthMm: how.hasLengths ? Math.max(1, Math.round(long * (1 + (how.lengthPct / 100) * normal(chance)))) : 20,
        thicknessMm: how.isThicknessAtEdges ? calipers([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]) : null,
        profile: how.hasProfiles ? profile : 'worn',
      },
    ]
  })
  return {
    number: index + 1,
    thicknessMm: calipers(middle),
    texture: chart(fields.texture(middle)),
    shade: chart(fields.shade(middle)),
    surface: surfaceKinds[misnamed() ? chance.below(3) : surface] ?? 'smooth',
    edges,
  }
}

/**
 * How the crack runs between two points of it, seen from the side on whose left hand it lies: every crack has a course
 * of its own, of two waves; what a stretch shows depends on where it begins and ends.
 */
function profileOf(line: string, from: Point, to: Point): BreakEdge['profile'] {
  const own = seededRandom(hash(line))
  const [longA, longB] = [60 + 80 * own.unit(), 18 + 20 * own.unit()]
  const [highA, highB, phaseA, phaseB] = [3 * own.unit(), 0.9 * own.unit(), 7 * own.unit(), 7 * own.unit()]
  const isStepped = own.unit() < 0.12
  // Along the crack, by a direction that is the same from both of its sides.
  const flip = to[0] < from[0] || (to[0] === from[0] && to[1] < from[1]) ? -1 : 1
  const [dx, dy] = [(flip * (to[0] - from[0])) / distance(from, to), (flip * (to[1] - from[1])) / distance(from, to)]
  const along = ([x, y]: Point) => x * dx + y * dy
  const course = (at: number) =>
    highA * Math.sin((2 * Math.PI * at) / longA + phaseA) + highB * Math.sin((2 * Math.PI * at) / longB + phaseB)
  const [begin, end] = [along(from), along(to)]
  const off = (share: number) =>
    course(begin + share * (end - begin)) - (course(begin) + share * (course(end) - course(begin)))
  const [first, half, last] = [off(0.25), off(0.5), off(0.75)]
  if (isStepped) return 'stepped'
  const seen = 0.03 * Math.abs(end - begin)
  if (Math.max(Math.abs(first), Math.abs(half), Math.abs(last)) < seen) return 'straight'
  if (first * last < 0 && Math.min(Math.abs(first), Math.abs(last)) > seen / 2) return 'wavy'
  return half * flip < 0 ? 'bowed out' : 'bowed in'
}

/** True for a side that a lab would write down as a break edge. */
function isEdge({ sides }: Cell, side: number): boolean {
  const from = sides[side]?.from ?? origin
  return sides[side]?.line !== null && distance(from, endOf(sides, side)) >= FELT_MM
}

/** For each written edge of each fragment, what lies on the other side of its crack, worn or not. */
function facesOf(cells: readonly Cell[]): Breakage['faces'] {
  return cells.map((cell, own) =>
    cell.sides.flatMap(({ from, line }, side) => {
      if (!isEdge(cell, side)) return []
      const long = distance(from, endOf(cell.sides, side))
      return [
        cells.flatMap((other, index) =>
          index === own
            ? []
            : other.sides.flatMap((far, farSide) => {
                const stretch = far.line === line ? overlap(cell.sides, side, other.sides, farSide) : 0
                return stretch > 0 ? [{ number: index + 1, share: stretch / long }] : []
              }),
        ),
      ]
    }),
  )
}

/** Pairs that share a stretch of one crack, unless one of the two sides is worn beyond any fit. */
function trueJoins(cells: readonly Cell[], wornAt: Wear): [number, number][] {
  const onLine = new Map<string, { cell: number; side: number }[]>()
  for (const [cell, { sides }] of cells.entries())
    for (const [side, { line }] of sides.entries())
      if (line !== null) onLine.set(line, [...(onLine.get(line) ?? []), { cell, side }])
  const joins = new Map<string, [number, number]>()
  for (const along of onLine.values())
    for (const one of along)
      for (const other of along) {
        if (one.cell >= other.cell) continue
        if (wornAt(one.cell, one.side) === 1 || wornAt(other.cell, other.side) === 1) continue
        const stretch = overlap(cells[one.cell]?.sides ?? [], one.side, cells[other.cell]?.sides ?? [], other.side)
        if (stretch >= FELT_MM) joins.set(`${one.cell} ${other.cell}`, [one.cell + 1, other.cell + 1])
      }
  return [...joins.values()]
}

/** Millimetres that two sides of opposite fragments have in common. */
function overlap(a: readonly Side[], sideA: number, b: readonly Side[], sideB: number): number {
  const [fromA, toA] = [a[sideA]?.from ?? origin, endOf(a, sideA)]
  const [fromB, toB] = [b[sideB]?.from ?? origin, endOf(b, sideB)]
  const long = distance(fromA, toA)
  if (long < 1e-9) return 0
  const along = ([x, y]: Point) => ((x - fromA[0]) * (toA[0] - fromA[0]) + (y - fromA[1]) * (toA[1] - fromA[1])) / long
  const [begin, end] = [along(fromB), along(toB)]
  // Two fragments on one side of a crack run the same way and do not face each other.
  if (begin <= end) return 0
  return Math.min(long, begin) - Math.max(0, end)
}

function centreOf(sides: readonly Side[]): Point {
  const sum = sides.reduce<Point>(([x, y], { from }) => [x + from[0], y + from[1]], [0, 0])
  return [sum[0] / sides.length, sum[1] / sides.length]
}

/** A standard normal number (Box and Muller 1958). */
function normal(chance: Random): number {
  return Math.sqrt(-2 * Math.log(1 - chance.unit())) * Math.cos(2 * Math.PI * chance.unit())
}

/** Items in a chance order (Fisher and Yates). */
export function shuffled<T>(items: readonly T[], chance: Random): readonly T[] {
  const order = [...items]
  for (let last = order.length - 1; last > 0; last--) {
    const other = chance.below(last + 1)
    const [a, b] = [order[last] as T, order[other] as T]
    order[last] = b
    order[other] = a
  }
  return order
}

/** FNV-1a, 32 bits. */
function hash(text: string): number {
  let value = 0x811c9dc5
  for (let at = 0; at < text.length; at++) value = Math.imul(value ^ text.charCodeAt(at), 0x01000193)
  return value >>> 0
}
