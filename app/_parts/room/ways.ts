// Ways through the room, in px: for the threads of a proposal and for stools that walk. Along aisles and through
// doors, never across walls or benches.
import { type Aisles, aislesOf, walk } from '#lib/views'
import { type Plan, pxOf, type Seat } from './measure.ts'
import type { RoomShape, ThreadShape } from './shapes.ts'
import { type Px, squared } from './threads.ts'

/**
 * Ways from seat to seat in px. Other stools are furniture too where there is room to pass them; in a room so
 * full that this closes a way, one may brush past stools but never through a bench.
 */
export function waysIn(room: RoomShape, plan: Plan): (from: Px, to: Px) => readonly Px[] {
  // The search asks for lists it may change, though it changes none.
  const shell = {
    ...room,
    partitions: [...room.partitions],
    doors: [...room.doors],
    racks: room.racks.map((rack) => ({ ...rack, loadKgMax: 0 })),
  }
  const benches = plan.places.map((on) => on.place)
  const metres = (px: Px) => ({ x: (px.x - plan.inner.x) / plan.pxPerM, y: (px.y - plan.inner.y) / plan.pxPerM })
  const stools = plan.places.flatMap((on) =>
    on.seats.map((seat) => {
      const { x, y } = metres(seat)
      const breadth = (seat.radius * 2) / plan.pxPerM
      return { xM: x, yM: y, widthM: breadth, depthM: breadth, rotationDeg: 0 }
    }),
  )
  // Searched only when somebody moves or a proposal is drawn.
  let wide: Aisles | undefined
  let narrow: Aisles | undefined
  return (from, to) => {
    wide ??= aislesOf(shell, [...benches, ...stools])
    const [start, end] = [metres(from), metres(to)]
    let way = walk(wide, start, end)
    if (way.length === 2 && start.x !== end.x && start.y !== end.y) {
      narrow ??= aislesOf(shell, benches)
      way = walk(narrow, start, end)
    }
    return way.map((point) => pxOf(plan, point.x, point.y))
  }
}

/** The ways of a proposal's threads; a change whose seat is gone has none. */
export function waysOf(plan: Plan, threads: readonly ThreadShape[], wayTo: (from: Px, to: Px) => readonly Px[]) {
  const byId = new Map(plan.places.map((on) => [on.place.id, on]))
  return threads.flatMap((thread) => {
    const from = byId.get(thread.fromPlaceId)?.seats[thread.fromSeat]
    const to = byId.get(thread.toPlaceId)?.seats[thread.toSeat]
    if (from === undefined || to === undefined) return []
    // Who leaves a seat goes out at its side, so that who comes to it can arrive in the middle.
    const left = besideOf(from)
    const [out, into] = [aisleBeside(left, plan), aisleBeside(to, plan)]
    return [{ change: thread.change, way: squared([rimOf(left, 0.89), ...wayTo(out, into), rimOf(to)]) }]
  })
}

/** The point in the aisle a person steps to from the stool: beyond the names, so that no thread runs through them. */
function aisleBeside(seat: Seat, plan: Plan): Px {
  const reach = seat.radius + plan.letters.name + 8
  const step = stepFrom(seat)
  return { x: seat.x + step.x * reach, y: seat.y + step.y * reach }
}

function besideOf(seat: Seat): Seat {
  const step = stepFrom(seat)
  const off = seat.radius * 0.45
  return { ...seat, x: seat.x - Math.abs(step.y) * off, y: seat.y - Math.abs(step.x) * off }
}

function rimOf(seat: Seat, share = 1): Px {
  const step = stepFrom(seat)
  return { x: seat.x + step.x * seat.radius * share, y: seat.y + step.y * seat.radius * share }
}

function stepFrom(seat: Seat): Px {
  return { below: { x: 0, y: 1 }, left: { x: -1, y: 0 }, above: { x: 0, y: -1 }, right: { x: 1, y: 0 } }[seat.facing]
}
