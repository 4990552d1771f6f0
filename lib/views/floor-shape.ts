// Shapes of the room in metres: how furniture lies when it is turned, which way its seats face, which boxes cross.
import type { RecordOf } from '#lib/words'

/** An upright box in metres (or px, once scaled). */
export type Box = { readonly x: number; readonly y: number; readonly w: number; readonly h: number }

/** Which side of the furniture its people sit at. */
export type Facing = 'below' | 'left' | 'above' | 'right'

type Lying = Pick<RecordOf<'place'>, 'xM' | 'yM' | 'widthM' | 'depthM' | 'rotationDeg'>

/** The upright box around a place: furniture turned by a quarter swaps width and depth, a slant grows. */
export function boxOf(place: Lying): Box {
  const turn = (place.rotationDeg * Math.PI) / 180
  const [cos, sin] = [Math.abs(Math.cos(turn)), Math.abs(Math.sin(turn))]
  const w = cent(place.widthM * cos + place.depthM * sin)
  const h = cent(place.widthM * sin + place.depthM * cos)
  return { x: cent(place.xM - w / 2), y: cent(place.yM - h / 2), w, h }
}

/** The side the seats are at: 0° below, then clockwise. */
export function facingOf(place: Pick<Lying, 'rotationDeg'>): Facing {
  const quarter = Math.round(place.rotationDeg / 90) % 4
  return quarter === 0 ? 'below' : quarter === 1 ? 'left' : quarter === 2 ? 'above' : 'right'
}

/** The side across. */
export function acrossOf(facing: Facing): Facing {
  return facing === 'below' ? 'above' : facing === 'above' ? 'below' : facing === 'left' ? 'right' : 'left'
}

/** Whether two boxes share more than an edge. */
export function overlaps(a: Box, b: Box): boolean {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
}

/** Snaps metres to the drawing's 5 cm. */
export const snapM = (metres: number): number => Math.round(metres * 20) / 20

/** To the centimetre and free of binary dust. */
function cent(metres: number): number {
  return Math.round(metres * 1000) / 1000
}
