// From metres to px: the scale of one drawing, its letters, and where every bench and stool stands in it.
import { type Box, boxOf, type Facing, facingOf, stoolsAt } from '#lib/views'
import type { PlaceShape, PlanDensity, RoomShape } from './shapes.ts'

export type { Box }

/** The letters of one density, in px. */
export type Letters = {
  readonly code: number
  readonly number: number
  /** How far a letter of the number runs, in em: on the Wall they stand closer, so that they may be larger. */
  readonly run: number
  readonly date: number
  readonly name: number
  readonly note: number
  readonly mark: number
  readonly wall: number
  /** Smallest drawn stone: true scale gives way to being seen. */
  readonly stone: number
}

const letters: Record<PlanDensity, Letters> = {
  dot: { code: 13, number: 13, run: 0.6, date: 13, name: 13, note: 13, mark: 14, wall: 8, stone: 14 },
  name: { code: 15, number: 13, run: 0.6, date: 13, name: 15, note: 13, mark: 16, wall: 8, stone: 22 },
  full: { code: 15, number: 14, run: 0.6, date: 13, name: 15, note: 13.5, mark: 16, wall: 9, stone: 26 },
  wall: { code: 30, number: 34, run: 0.566, date: 28, name: 34, note: 28, mark: 30, wall: 18, stone: 46 },
}

export type Seat = { readonly x: number; readonly y: number; readonly radius: number; readonly facing: Facing }

/** A place as it lies; its sentence changes with every tick, the room does not. */
export type Lying = Omit<PlaceShape, 'label'>

export type PlaceOnPlan = {
  readonly place: Lying
  readonly box: Box
  readonly facing: Facing
  readonly seats: readonly Seat[]
}

/** The measures that hold for the whole drawing. */
export type Scale = {
  readonly density: PlanDensity
  readonly letters: Letters
  readonly pxPerM: number
  /** Inside the walls. */
  readonly inner: Box
  readonly width: number
  readonly height: number
}

export type Plan = Scale & { readonly places: readonly PlaceOnPlan[] }

/** Space below the walls for the metre rule. */
const ruleSpace = 30

/** Lays out a room so that it is `width` px wide, walls included. */
export function layPlan(room: RoomShape, places: readonly Lying[], width: number, density: PlanDensity): Plan {
  const type = letters[density]
  const pxPerM = Math.max(1, (width - type.wall * 2) / room.widthM)
  const inner = { x: type.wall, y: type.wall, w: room.widthM * pxPerM, h: room.depthM * pxPerM }
  const rule = density === 'dot' ? 10 : density === 'wall' ? 48 : ruleSpace
  return {
    density,
    letters: type,
    pxPerM,
    inner,
    width,
    height: Math.ceil(inner.h + type.wall * 2 + rule),
    places: places.map((place) => onPlan(place, pxPerM, inner, density)),
  }
}

/** A point of the room in px. */
export function pxOf(
  plan: Pick<Plan, 'inner' | 'pxPerM'>,
  xM: number,
  yM: number,
): { readonly x: number; readonly y: number } {
  return { x: plan.inner.x + xM * plan.pxPerM, y: plan.inner.y + yM * plan.pxPerM }
}

/** An upright box of the room in px. */
export function boxPx(plan: Pick<Plan, 'inner' | 'pxPerM'>, box: Box): Box {
  return {
    x: plan.inner.x + box.x * plan.pxPerM,
    y: plan.inner.y + box.y * plan.pxPerM,
    w: box.w * plan.pxPerM,
    h: box.h * plan.pxPerM,
  }
}

function onPlan(place: Lying, pxPerM: number, inner: Box, density: PlanDensity): PlaceOnPlan {
  const box = boxPx({ inner, pxPerM }, boxOf(place))
  const facing = facingOf(place)
  // The wall is the tablet's plan seen from further away: same rule, everything larger.
  const times = density === 'wall' ? 1.8 : 1
  const lesser = { x: box.x / times, y: box.y / times, w: box.w / times, h: box.h / times }
  const seats = stoolsAt(lesser, facing, place.seats, density === 'wall' ? 'name' : density, place.form === 'table')
  return {
    place,
    box,
    facing,
    seats: seats.map((seat) => ({ x: seat.x * times, y: seat.y * times, radius: seat.r * times, facing: seat.facing })),
  }
}
