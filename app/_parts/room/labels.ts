// Where words stand in a tight room. A label is tried beside its stool, under, over and across, in the middle or flush
// with the stool's side; then with its second line dropped; then at the nearest open spot, with a thin leader. It never covers furniture, a stool
// or another label and never leaves the room: what finds no spot is handed back, for the list beside.
import { type Box, overlaps } from '#lib/views'

export type Want = {
  readonly key: string
  /** The thing named: a circle. */
  readonly x: number
  readonly y: number
  readonly radius: number
  /** The side that looks into the room, tried first. */
  readonly facing: 'below' | 'left' | 'above' | 'right'
  readonly nameWidth: number
  readonly nameHeight: number
  /** 0 when there is no second line. */
  readonly noteWidth: number
  readonly noteHeight: number
}

export type Spot = {
  readonly key: string
  readonly box: Box
  readonly hasNote: boolean
  /** Which way the words run from the edge nearest their stool. */
  readonly anchor: 'start' | 'middle' | 'end'
  /** Ends of the leader, when the label stands apart. */
  readonly leader: readonly [x1: number, y1: number, x2: number, y2: number] | null
}

export type Spots = { readonly placed: readonly Spot[]; readonly unplaced: readonly string[] }

const gap = 6
/** Words keep this far from their neighbours to the left and right. */
const breath = 3
/** A name on a leader keeps this far from the stools of others. */
const apart = 12
const ringStep = 9
const rings = 26
/** A name far off on its leader is better than none: the Wall has no list beside it. */
const ringsMost = 70
const directions = 24

/** Finds a spot for every label, in the order given. */
export function placeWords(wants: readonly Want[], obstacles: readonly Box[], frame: Box): Spots {
  const taken: Box[] = [...obstacles, ...wants.map(circleBox)]
  const placed: Spot[] = []
  const unplaced: string[] = []
  const isFree = (box: Box) => {
    const wide = { ...box, x: box.x - breath, w: box.w + breath * 2 }
    return isWithin(box, frame) && !taken.some((other) => overlaps(other, wide))
  }
  const isOpen = (spot: Spot, want: Want) => !taken.some((other) => !holds(other, want) && crosses(spot.leader, other))
  // Beside or across somebody else's stool a name would be read as theirs.
  const isApart = (spot: Spot, want: Want) =>
    wants.every((other) => {
      if (other === want) return true
      const circle = circleBox(other)
      return !overlaps(spaced(circle, apart), spot.box) && !crosses(spot.leader, circle)
    })
  // Two passes: what fits beside its stool is settled before anyone looks further away.
  const waiting: Want[] = []
  const settle = (spot: Spot) => {
    taken.push(spot.box)
    placed.push(spot)
  }
  for (const want of wants) {
    const near = nearSpots(want).find((spot) => isFree(spot.box))
    if (near === undefined) waiting.push(want)
    else settle(near)
  }
  for (const want of waiting) {
    // A leader over a bench is seen through only when nothing else is left.
    const isGood = (spot: Spot) => isFree(spot.box) && isApart(spot, want)
    const far =
      farSpot(want, (spot) => isGood(spot) && isOpen(spot, want)) ??
      farSpot(want, isGood) ??
      farSpot(want, isGood, ringsMost)
    if (far === undefined) unplaced.push(want.key)
    else settle(far)
  }
  return { placed, unplaced }
}

function nearSpots(want: Want): readonly Spot[] {
  const sides: readonly Side[] =
    want.facing === 'left'
      ? ['left', ...under, ...over, 'right']
      : want.facing === 'right'
        ? ['right', ...under, ...over, 'left']
        : want.facing === 'below'
          ? ['right', 'left', ...under, ...over]
          : ['right', 'left', ...over, ...under]
  const both = want.noteWidth > 0 ? sides.map((side) => besideSpot(want, side, true)) : []
  return [...both, ...sides.map((side) => besideSpot(want, side, false))]
}

type Side = 'left' | 'right' | 'under' | 'under-right' | 'under-left' | 'over' | 'over-right' | 'over-left'

const under: readonly Side[] = ['under', 'under-right', 'under-left']
const over: readonly Side[] = ['over', 'over-right', 'over-left']

function besideSpot(want: Want, side: Side, hasNote: boolean): Spot {
  const [w, h] = sizeOf(want, hasNote)
  const { x, y, radius } = want
  const close = 3
  const spot = (at: Pick<Box, 'x' | 'y'>, anchor: Spot['anchor']): Spot => ({
    key: want.key,
    box: { ...at, w, h },
    hasNote,
    anchor,
    leader: null,
  })
  if (side === 'right') return spot({ x: x + radius + gap, y: y - h / 2 }, 'start')
  if (side === 'left') return spot({ x: x - radius - gap - w, y: y - h / 2 }, 'end')
  const top = side.startsWith('under') ? y + radius + close : y - radius - close - h
  if (side.endsWith('-right')) return spot({ x: x - radius, y: top }, 'start')
  if (side.endsWith('-left')) return spot({ x: x + radius - w, y: top }, 'end')
  return spot({ x: x - w / 2, y: top }, 'middle')
}

function farSpot(want: Want, isGood: (spot: Spot) => boolean, most = rings): Spot | undefined {
  const [w, h] = sizeOf(want, false)
  const inward = { below: Math.PI / 2, left: Math.PI, above: -Math.PI / 2, right: 0 }[want.facing]
  for (let ring = 1; ring <= most; ring++) {
    const reach = want.radius + gap + ring * ringStep
    for (let turn = 0; turn < directions; turn++) {
      // From straight into the room outwards to both sides, so leaders run into the aisle first.
      const lean = ((turn % 2 === 0 ? 1 : -1) * Math.ceil(turn / 2) * 2 * Math.PI) / directions
      const angle = inward + lean
      const [cx, cy] = [want.x + Math.cos(angle) * (reach + w / 2), want.y + Math.sin(angle) * (reach + h / 2)]
      const box = { x: cx - w / 2, y: cy - h / 2, w, h }
      const spot: Spot = { key: want.key, box, hasNote: false, anchor: 'middle', leader: leaderTo(want, box) }
      if (isGood(spot)) return spot
    }
  }
  return undefined
}

/** From the rim of the stool to the nearest point of the label. */
function leaderTo(want: Want, box: Box): readonly [number, number, number, number] {
  const x = Math.min(box.x + box.w, Math.max(box.x, want.x))
  const y = Math.min(box.y + box.h, Math.max(box.y, want.y))
  const length = Math.hypot(x - want.x, y - want.y) || 1
  const rim = want.radius / length
  return [want.x + (x - want.x) * rim, want.y + (y - want.y) * rim, x, y]
}

const spaced = (box: Box, by: number): Box => ({ x: box.x - by, y: box.y - by, w: box.w + by * 2, h: box.h + by * 2 })

const holds = (box: Box, at: { readonly x: number; readonly y: number }): boolean =>
  at.x >= box.x && at.x <= box.x + box.w && at.y >= box.y && at.y <= box.y + box.h

/** True when a leader runs over a box. */
function crosses(leader: Spot['leader'], box: Box): boolean {
  if (leader === null) return false
  const [x1, y1, x2, y2] = leader
  const parts = Math.max(1, Math.ceil(Math.hypot(x2 - x1, y2 - y1) / 5))
  for (let part = 0; part <= parts; part++) {
    const share = part / parts
    if (holds(box, { x: x1 + (x2 - x1) * share, y: y1 + (y2 - y1) * share })) return true
  }
  return false
}

function sizeOf(want: Want, hasNote: boolean): readonly [w: number, h: number] {
  return hasNote
    ? [Math.max(want.nameWidth, want.noteWidth), want.nameHeight + want.noteHeight]
    : [want.nameWidth, want.nameHeight]
}

function circleBox(want: Want): Box {
  return { x: want.x - want.radius, y: want.y - want.radius, w: want.radius * 2, h: want.radius * 2 }
}

function isWithin(box: Box, frame: Box): boolean {
  return (
    box.x >= frame.x && box.y >= frame.y && box.x + box.w <= frame.x + frame.w && box.y + box.h <= frame.y + frame.h
  )
}
