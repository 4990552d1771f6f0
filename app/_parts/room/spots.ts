// Who sits where in the drawing, where their words go, and what of it belongs to one place.
import { boxOf, overlaps } from '#lib/views'
import { type Seated, seatBox, wantOf } from './crew.tsx'
import { placeWords, type Spot } from './labels.ts'
import { type Box, boxPx, type PlaceOnPlan, type Plan, pxOf } from './measure.ts'
import type { RoomShape, SitterShape } from './shapes.ts'
import { compressorM, pipedWalls, solidStretches } from './shell.tsx'
import { benchCost, type InWay, wordCost } from './ties.tsx'

/** Everybody on the seat the line-up gives them; who has none (a seat taken away) is left to the lists. */
export function seatAll(plan: Plan, sitters: readonly SitterShape[]): readonly Seated[] {
  const byId = new Map(plan.places.map((on) => [on.place.id, on]))
  return sitters.flatMap((sitter) => {
    const seat = byId.get(sitter.placeId)?.seats[sitter.seat]
    return seat === undefined ? [] : [{ sitter, seat }]
  })
}

/** Where the names stand; none on a plan of dots. */
export function spotsFor(
  plan: Plan,
  room: RoomShape,
  seated: readonly Seated[],
  more: readonly Box[] = [],
): readonly Spot[] {
  if (plan.density === 'dot') return []
  return placeWords(
    seated.map((one) => wantOf(one, plan)),
    [...obstaclesOf(plan, room), ...more],
    clearOfWalls(plan),
  ).placed
}

/** Words keep off the walls, and off those where the pipe hangs by its breadth too. */
function clearOfWalls(plan: Plan): Box {
  const { inner, density } = plan
  const [off, pipe] = density === 'wall' ? [8, 18] : [4, 11]
  const right = pipedWalls(plan).right.length > 0 ? pipe : off
  return { x: inner.x + off, y: inner.y + pipe, w: inner.w - off - right, h: inner.h - off - pipe }
}

/** What words may not cover: furniture (first, as the places come), every stool, racks, partitions, the compressor. */
function obstaclesOf(plan: Plan, room: RoomShape): readonly Box[] {
  const walls = room.partitions.flatMap((wall) =>
    solidStretches(wall, room.doors).map(([from, to]) => {
      const [a, b] = [pxOf(plan, from.xM, from.yM), pxOf(plan, to.xM, to.yM)]
      return {
        x: Math.min(a.x, b.x) - 4,
        y: Math.min(a.y, b.y) - 4,
        w: Math.abs(a.x - b.x) + 8,
        h: Math.abs(a.y - b.y) + 8,
      }
    }),
  )
  const racks = room.racks.map((rack) => boxPx(plan, { x: rack.xM, y: rack.yM, w: rack.widthM, h: rack.depthM }))
  const compressor =
    room.compressor === null
      ? []
      : [
          boxPx(plan, {
            x: room.compressor.xM - compressorM / 2,
            y: room.compressor.yM - compressorM / 2,
            w: compressorM,
            h: compressorM,
          }),
        ]
  return [
    ...plan.places.map((on) => boxPx(plan, boxOf(on.place))),
    ...plan.places.flatMap((on) => on.seats.map(seatBox)),
    ...walls,
    ...racks,
    ...compressor,
  ]
}

/** What the tie between learner and mentor bends around. */
export function inWayOf(plan: Plan, room: RoomShape, spots: readonly Spot[]): readonly InWay[] {
  if (plan.density === 'dot') return []
  const benches = plan.places.length
  return [
    ...obstaclesOf(plan, room).map((box, index) => ({ box, cost: index < benches ? benchCost : wordCost })),
    ...spots.map(({ box }) => ({ box, cost: wordCost })),
  ]
}

/** What one aims at, and what the line around the chosen place encloses. */
export type Reach = { readonly hit: Box; readonly outline: Box }

/** The place with its stools and, where no other bench is in the way, their words: what the chosen line encloses. */
export function reachOf(
  on: PlaceOnPlan,
  plan: Plan,
  seated: readonly Seated[],
  spotOf: ReadonlyMap<string, Spot>,
): Reach {
  const own = [on.box, ...(on.place.closedWords === undefined ? on.seats.map(seatBox) : [])]
  const words = seated.flatMap(({ sitter }) => {
    const spot = sitter.placeId === on.place.id ? spotOf.get(sitter.key) : undefined
    return spot === undefined || spot.leader !== null ? [] : [spot.box]
  })
  const whole = around([...own, ...words])
  const others = plan.places
    .filter((other) => other !== on)
    .flatMap((other) => [other.box, ...other.seats.map(seatBox)])
  if (!others.some((other) => overlaps(other, whole))) return { hit: whole, outline: whole }
  return { hit: around(own), outline: around([on.box]) }
}

function around(boxes: readonly Box[]): Box {
  const [left, top] = [Math.min(...boxes.map((box) => box.x)), Math.min(...boxes.map((box) => box.y))]
  const [right, bottom] = [
    Math.max(...boxes.map((box) => box.x + box.w)),
    Math.max(...boxes.map((box) => box.y + box.h)),
  ]
  return { x: left - 4, y: top - 4, w: right - left + 8, h: bottom - top + 8 }
}
