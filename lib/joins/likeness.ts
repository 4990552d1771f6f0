// How much likelier what was measured is of two sides of one break than of two edges taken at random from this tray:
// a likelihood ratio for each pair of edges. What an edge at random looks like is counted on the tray itself; how far
// two sides of one break lie apart begins with usual figures (common practice) and is learnt from the lab's own fits.
//
// Each feature keeps a share of `MISREAD`: no single slip of the calipers or a wrong word rules a pair out.
import { edgeProfiles } from '#lib/words'
import type { FragmentSeen } from './tray.ts'

const MISREAD = 0.05
/** Breaks run into each other: often the side of one fragment faces only a part of another's. */
const FACES_A_PART = 0.3

/** Standard deviations of the difference between the two sides of one break. */
export interface Spreads {
  /** Of the logarithm of thickness measured at the edges. */
  readonly thickness: number
  /** Of the logarithm of thickness where only the fragments' middles were measured. */
  readonly middle: number
  /** Of the logarithm of length where the two run along each other whole. */
  readonly length: number
  /** Chart steps. */
  readonly texture: number
  readonly shade: number
}

/** What is assumed before the lab has found fits (common practice). */
export const usualSpreads: Spreads = { thickness: 0.06, middle: 0.15, length: 0.08, texture: 0.9, shade: 0.9 }

/** Fits that the usual figures count for. */
const USUAL_COUNTS = 12

/** Profiles of two edges as they meet, both seen from their own fragment: [same break, said]. */
const meets: Readonly<Record<string, number>> = {
  'straight straight': 0.75,
  'bowed in bowed out': 0.7,
  'wavy wavy': 0.65,
  'stepped stepped': 0.65,
  'bowed out straight': 0.13,
  'bowed in straight': 0.13,
  'straight wavy': 0.1,
  'bowed out wavy': 0.1,
  'bowed in wavy': 0.1,
  'straight stepped': 0.08,
}
const SELDOM_MEETS = 0.03

/** Edges of all fragments as typed columns, and the ratio for each pair of them. */
export interface Likeness {
  readonly edgeCount: number
  /** Index of the fragment of each edge. */
  readonly fragmentOf: Int32Array
  /** First edge of each fragment, and the count as the last item. */
  readonly firstEdge: Int32Array
  readonly lengthMm: Float64Array
  /** `edgeCount²`, symmetric; 0 between edges of one fragment. */
  readonly ratio: Float32Array
}

/** A fragment whose edges nobody measured still has some, of which nothing is known but its looks. */
const unmeasured = Array.from({ length: 3 }, () => ({ lengthMm: 0, thicknessMm: null, profile: 'worn' as const }))
const edgesOf = ({ edges }: FragmentSeen) => (edges.length > 0 ? edges : unmeasured)

/** The ratios of a tray: O(edges²), about a million for 200 fragments. */
export function likenessOf(fragments: readonly FragmentSeen[], spreads: Spreads): Likeness {
  const firstEdge = new Int32Array(fragments.length + 1)
  for (const [index, fragment] of fragments.entries())
    firstEdge[index + 1] = (firstEdge[index] ?? 0) + edgesOf(fragment).length
  const edgeCount = firstEdge[fragments.length] ?? 0
  const fragmentOf = new Int32Array(edgeCount)
  const lengthMm = new Float64Array(edgeCount)
  const logLength = new Float64Array(edgeCount)
  const logThickness = new Float64Array(edgeCount)
  const profile = new Int8Array(edgeCount)
  for (const [index, fragment] of fragments.entries()) {
    for (const [side, edge] of edgesOf(fragment).entries()) {
      const at = (firstEdge[index] ?? 0) + side
      fragmentOf[at] = index
      lengthMm[at] = edge.lengthMm
      logLength[at] = edge.lengthMm > 0 ? Math.log(edge.lengthMm) : Number.NaN
      logThickness[at] = edge.thicknessMm === null ? Number.NaN : Math.log(edge.thicknessMm)
      profile[at] = edgeProfiles.indexOf(edge.profile)
    }
  }
  const thicknessAt = tableOf(normalRatio(spreads.thickness, deviationOf(logThickness)))
  const lengthAt = tableOf(lengthRatio(spreads.length, deviationOf(logLength)))
  const profileAt = profileTable(profile)
  const whole = wholeRatios(fragments, spreads)
  const ratio = new Float32Array(edgeCount * edgeCount)
  const kinds = edgeProfiles.length
  for (let a = 0; a < edgeCount; a++) {
    const fragmentA = fragmentOf[a] ?? 0
    for (let b = firstEdge[fragmentA + 1] ?? edgeCount; b < edgeCount; b++) {
      const pair = fragmentA * fragments.length + (fragmentOf[b] ?? 0)
      const apart = Math.abs((logThickness[a] ?? 0) - (logThickness[b] ?? 0))
      // Where one of the two edges was not measured, the fragments' middles speak instead.
      const thick = Number.isNaN(apart) ? (whole.middle[pair] ?? 1) : thicknessAt(apart)
      const long = lengthAt(Math.abs((logLength[a] ?? 0) - (logLength[b] ?? 0)))
      const shape = profileAt[(profile[a] ?? 0) * kinds + (profile[b] ?? 0)] ?? 1
      const value = thick * long * shape * (whole.look[pair] ?? 1)
      ratio[a * edgeCount + b] = value
      ratio[b * edgeCount + a] = value
    }
  }
  return { edgeCount, fragmentOf, firstEdge, lengthMm, ratio }
}

/** The edges of two fragments that look most like mates, among those still open. */
export function bestEdges(likeness: Likeness, a: number, b: number, isOpen?: Uint8Array): readonly [number, number] {
  const { firstEdge, ratio, edgeCount } = likeness
  let best: [number, number] = [-1, -1]
  let most = -1
  for (let one = firstEdge[a] ?? 0; one < (firstEdge[a + 1] ?? 0); one++) {
    if (isOpen && isOpen[one] !== 1) continue
    for (let other = firstEdge[b] ?? 0; other < (firstEdge[b + 1] ?? 0); other++) {
      if (isOpen && isOpen[other] !== 1) continue
      const value = ratio[one * edgeCount + other] ?? 0
      if (value > most) {
        most = value
        best = [one, other]
      }
    }
  }
  return best
}

/** What the whole fragments say of each pair: by thickness at the middle, and by texture, shade and surface. */
function wholeRatios(fragments: readonly FragmentSeen[], spreads: Spreads) {
  const count = fragments.length
  const logMiddle = Float64Array.from(fragments, ({ thicknessMm }) =>
    thicknessMm === null ? Number.NaN : Math.log(thicknessMm),
  )
  const ofMiddle = normalRatio(spreads.middle, deviationOf(logMiddle))
  const chart = (of: (one: FragmentSeen) => number | null, spread: number) => {
    const steps = Float64Array.from(fragments, (one) => of(one) ?? Number.NaN)
    // Rounding to a whole step is in the spread; a chart that tells nothing apart has no weight.
    const ratioAt = normalRatio(spread, Math.max(0.5, deviationOf(steps)))
    return (a: number, b: number) => ratioAt(Math.abs((steps[a] ?? 0) - (steps[b] ?? 0)))
  }
  const texture = chart((one) => one.texture, spreads.texture)
  const shade = chart((one) => one.shade, spreads.shade)
  const surface = surfaceRatio(fragments)
  const middle = new Float32Array(count * count)
  const look = new Float32Array(count * count)
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++) {
      middle[a * count + b] = ofMiddle(Math.abs((logMiddle[a] ?? 0) - (logMiddle[b] ?? 0)))
      look[a * count + b] = texture(a, b) * shade(a, b) * surface(a, b)
    }
  return { middle, look }
}

/** Neighbours share their natural face four times in five (common practice); else it says little. */
function surfaceRatio(fragments: readonly FragmentSeen[]): (a: number, b: number) => number {
  const known = fragments.flatMap(({ surface }) => (surface === null || surface === 'none left' ? [] : [surface]))
  const shares = new Map<string, number>()
  for (const surface of known) shares.set(surface, (shares.get(surface) ?? 0) + 1 / known.length)
  const same = [...shares.values()].reduce((sum, share) => sum + share * share, 0)
  return (a, b) => {
    const [one, other] = [fragments[a]?.surface, fragments[b]?.surface]
    if (!one || !other || one === 'none left' || other === 'none left' || same > 0.98) return 1
    return one === other ? 0.8 / Math.max(same, 0.2) : 0.2 / (1 - same)
  }
}

/** Standard deviation of what is known of a column. */
function deviationOf(column: Float64Array): number {
  const known = column.filter((value) => !Number.isNaN(value))
  if (known.length < 2) return 1
  const mean = known.reduce((sum, value) => sum + value, 0) / known.length
  return Math.sqrt(known.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (known.length - 1))
}

const density = (apart: number, spread: number): number =>
  Math.exp(-0.5 * (apart / spread) ** 2) / (spread * Math.sqrt(2 * Math.PI))

/** The ratio for a difference that is normal with `spread` on one break, and that of two at random otherwise; 1 if unknown. */
function normalRatio(spread: number, deviation: number): (apart: number) => number {
  // Two at random differ by √2 times the deviation; no break tells more apart than the tray does.
  const random = Math.max(deviation * Math.SQRT2, spread)
  return (apart) =>
    Number.isNaN(apart) ? 1 : (1 - MISREAD) * Math.min(1e6, density(apart, spread) / density(apart, random)) + MISREAD
}

/** Along each other whole: alike within the spread. A part of the other's: any share of it alike, density e^-apart / 2. */
function lengthRatio(spread: number, deviation: number): (apart: number) => number {
  const random = Math.max(deviation * Math.SQRT2, 2 * spread)
  return (apart) => {
    const same = (1 - MISREAD - FACES_A_PART) * density(apart, spread) + FACES_A_PART * 0.5 * Math.exp(-apart)
    return Math.min(1e6, same / density(apart, random)) + MISREAD
  }
}

const TABLE_STEP = 0.005
const TABLE_LENGTH = 800

/** A function of a difference by table, flat beyond 4: a million calls of exp are too many for a phone. */
function tableOf(ratio: (apart: number) => number): (apart: number) => number {
  const table = Float32Array.from({ length: TABLE_LENGTH }, (_, index) => ratio(index * TABLE_STEP))
  return (apart) => (Number.isNaN(apart) ? 1 : (table[Math.min(TABLE_LENGTH - 1, (apart / TABLE_STEP + 0.5) | 0)] ?? 1))
}

/** The ratio for two profiles; worn edges say nothing. */
function profileTable(profile: Int8Array): Float32Array {
  const kinds = edgeProfiles.length
  const shares = new Float64Array(kinds).fill(1 / (profile.length + kinds))
  for (const kind of profile) shares[kind] = (shares[kind] ?? 0) + 1 / (profile.length + kinds)
  const unworn = edgeProfiles.filter((word) => word !== 'worn')
  const weightOf = (a: string, b: string) => {
    const [first, second] = [a, b].sort()
    return meets[`${first} ${second}`] ?? SELDOM_MEETS
  }
  return Float32Array.from({ length: kinds * kinds }, (_, cell) => {
    const [a, b] = [Math.floor(cell / kinds), cell % kinds]
    const [wordA, wordB] = [edgeProfiles[a] ?? 'worn', edgeProfiles[b] ?? 'worn']
    if (wordA === 'worn' || wordB === 'worn') return 1
    // Given the one, how the other is likelier on one break than on the tray; halfway between both directions.
    const given = (from: string) => weightOf(wordA, wordB) / unworn.reduce((sum, one) => sum + weightOf(from, one), 0)
    const seen = Math.sqrt((shares[a] ?? 1) * (shares[b] ?? 1))
    return Math.min(20, Math.sqrt(given(wordA) * given(wordB)) / Math.max(seen, 0.02))
  })
}

/** Differences seen between the sides of known fits; a list for each figure of `Spreads`. */
export type SpreadsSeen = Readonly<Record<keyof Spreads, readonly number[]>>

/** Spreads with the lab's own fits counted in: root mean squares, the usual figure weighing as `USUAL_COUNTS` fits. */
export function learntSpreads(seen: SpreadsSeen): Spreads {
  const learnt = (key: keyof Spreads): number => {
    const usual = usualSpreads[key]
    // One misread value must not widen everything: beyond four usual spreads a difference counts as that.
    const squares = seen[key].map((apart) => Math.min(Math.abs(apart), 4 * usual) ** 2)
    const sum = squares.reduce((total, square) => total + square, USUAL_COUNTS * usual ** 2)
    return Math.sqrt(sum / (USUAL_COUNTS + squares.length))
  }
  return {
    thickness: learnt('thickness'),
    middle: learnt('middle'),
    length: learnt('length'),
    texture: learnt('texture'),
    shade: learnt('shade'),
  }
}
