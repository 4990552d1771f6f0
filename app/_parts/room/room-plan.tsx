'use client'
// The room as a measured drawing: walls, places, stones, people, and over it the tracing sheet of a line-up that
// is only drawn up. Everything on it can be reached by Tab and is said in words; lists beside it say the same.
import { useMemo } from 'react'
import { type Aisles, aislesOf, boxOf, overlaps, walk } from '#lib/views'
import { StoolAt } from '../figures/index.ts'
import { ChangeNumber, MentorTie, NameAt, type Seated, seatBox, WalkingStool, wantOf } from './crew.tsx'
import { placeWords, type Spot } from './labels.ts'
import { type Box, boxPx, layPlan, type PlaceOnPlan, type Plan, pxOf, type Seat } from './measure.ts'
import { PlaceDrawing } from './place.tsx'
import { PlaceHit } from './place-hit.tsx'
import type {
  PieceShape,
  PlaceShape,
  PlanDensity,
  RackStoneShape,
  RoomShape,
  SitterShape,
  ThreadShape,
} from './shapes.ts'
import { Compressor, compressorM, MetreRule, Racks, solidStretches, Walls } from './shell.tsx'
import { type Px, squared } from './threads.ts'
import { FoldedCorner, Threads } from './tracing.tsx'

export type Tracing = {
  readonly threads: readonly ThreadShape[]
  /** The change one looks at; the only one threaded when there are more than nine. */
  readonly chosenChange?: number | undefined
  /** Lifted: the caller shows the present instead. */
  readonly isLifted: boolean
  readonly onLift: (isLifted: boolean) => void
}

export type PlanEditing = {
  /** Where a place is put, in metres of its centre; the caller snaps and keeps. */
  readonly onMove: (placeId: string, xM: number, yM: number) => void
}

export type RoomPlanProps = {
  readonly room: RoomShape
  readonly places: readonly PlaceShape[]
  readonly pieces: readonly PieceShape[]
  readonly sitters: readonly SitterShape[]
  readonly rackStones?: readonly RackStoneShape[] | undefined
  /** In px, walls included; the height follows. */
  readonly width: number
  readonly density: PlanDensity
  /** The drawing in a sentence, for readers. */
  readonly label: string
  readonly chosenId?: string | undefined
  readonly onChoose?: ((placeId: string) => void) | undefined
  readonly tracing?: Tracing | undefined
  readonly editing?: PlanEditing | undefined
}

const nothing: readonly RackStoneShape[] = []

/** The plan of the room. */
export function RoomPlan(props: RoomPlanProps) {
  const {
    room,
    places,
    pieces,
    sitters,
    rackStones = nothing,
    width,
    density,
    label,
    chosenId,
    onChoose,
    tracing,
    editing,
  } = props
  const plan = useMemo(() => layPlan(room, places, width, density), [room, places, width, density])
  const seated = useMemo(() => seatAll(plan, sitters), [plan, sitters])
  const spots = useMemo(() => spotsFor(plan, room, seated), [plan, room, seated])
  const wayTo = useMemo(() => waysIn(room, plan), [room, plan])
  const isTraced = tracing !== undefined && !tracing.isLifted
  const ways = useMemo(
    () => (isTraced ? waysOf(plan, tracing.threads, wayTo) : []),
    [plan, isTraced, tracing?.threads, wayTo],
  )
  const spotOf = new Map(spots.map((spot) => [spot.key, spot]))
  const byKey = new Map(seated.map((one) => [one.sitter.key, one]))
  const taken = new Set(seated.map(({ sitter }) => `${sitter.placeId} ${sitter.seat}`))

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing of many reachable places is a group, not a picture
    <svg
      className={`block select-none overflow-visible ${isTraced ? 'traced' : ''}`}
      width={plan.width}
      height={plan.height}
      viewBox={`0 0 ${plan.width} ${plan.height}`}
      role="group"
      aria-label={label}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && isTraced) tracing.onLift(true)
      }}
    >
      <Walls plan={plan} room={room} isTraced={isTraced} />
      <MetreRule plan={plan} room={room} />
      <Compressor plan={plan} room={room} />
      <Racks plan={plan} room={room} stones={rackStones} tone={isTraced ? 'faint' : 'ink'} />
      {seated.map((learner) => {
        const mentor = learner.sitter.besideKey === undefined ? undefined : byKey.get(learner.sitter.besideKey)
        return mentor === undefined ? null : <MentorTie key={learner.sitter.key} learner={learner} mentor={mentor} />
      })}
      {plan.places.map((on) => (
        <PlaceHit
          key={on.place.id}
          plan={plan}
          on={on}
          reach={reachOf(on, plan, seated, spotOf)}
          isChosen={on.place.id === chosenId}
          onChoose={onChoose}
          editing={editing}
        >
          <PlaceDrawing plan={plan} on={on} pieces={pieces.filter((piece) => piece.placeId === on.place.id)} />
          {on.seats.map((seat, index) =>
            taken.has(`${on.place.id} ${index}`) || on.place.closedWords !== undefined ? null : (
              <StoolAt key={index} state="free" x={seat.x} y={seat.y} radius={seat.radius} />
            ),
          )}
        </PlaceHit>
      ))}
      <g className="pointer-events-none">
        {isTraced ? <Threads threads={ways} chosenChange={tracing.chosenChange} arriveShort={4} /> : null}
        {seated.map((one) => (
          <WalkingStool key={one.sitter.key} seated={one} wayTo={wayTo} />
        ))}
        {seated.map(({ sitter, seat }) => {
          const spot = spotOf.get(sitter.key)
          if (spot !== undefined) return <NameAt key={sitter.key} sitter={sitter} spot={spot} plan={plan} />
          if (sitter.change === undefined) return null
          return (
            <ChangeNumber key={sitter.key} change={sitter.change} x={seat.x + seat.radius} y={seat.y - seat.radius} />
          )
        })}
      </g>
      {tracing === undefined ? null : <FoldedCorner plan={plan} isLifted={tracing.isLifted} onLift={tracing.onLift} />}
    </svg>
  )
}

/**
 * Ways from seat to seat in px. Other stools are furniture too where there is room to pass them; in a room so
 * full that this closes a way, one may brush past stools but never through a bench.
 */
function waysIn(room: RoomShape, plan: Plan): (from: Px, to: Px) => readonly Px[] {
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

/** Everybody on the seat the line-up gives them; who has none (a seat taken away) is left to the lists. */
export function seatAll(plan: Plan, sitters: readonly SitterShape[]): readonly Seated[] {
  const byId = new Map(plan.places.map((on) => [on.place.id, on]))
  return sitters.flatMap((sitter) => {
    const seat = byId.get(sitter.placeId)?.seats[sitter.seat]
    return seat === undefined ? [] : [{ sitter, seat }]
  })
}

/** Where the names stand; none on a plan of dots. */
export function spotsFor(plan: Plan, room: RoomShape, seated: readonly Seated[]): readonly Spot[] {
  if (plan.density === 'dot') return []
  return placeWords(
    seated.map((one) => wantOf(one, plan)),
    obstaclesOf(plan, room),
    clearOfWalls(plan),
  ).placed
}

/** Words keep off the walls by the breadth of the pipe that hangs there. */
function clearOfWalls({ inner, density }: Plan): Box {
  const off = density === 'wall' ? 18 : 11
  return { x: inner.x + off, y: inner.y + off, w: inner.w - off * 2, h: inner.h - off * 2 }
}

/** What words may not cover: furniture, every stool, racks, partitions, the compressor. */
export function obstaclesOf(plan: Plan, room: RoomShape): readonly Box[] {
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

function waysOf(plan: Plan, threads: readonly ThreadShape[], wayTo: (from: Px, to: Px) => readonly Px[]) {
  const byId = new Map(plan.places.map((on) => [on.place.id, on]))
  return threads.flatMap((thread) => {
    const from = byId.get(thread.fromPlaceId)?.seats[thread.fromSeat]
    const to = byId.get(thread.toPlaceId)?.seats[thread.toSeat]
    if (from === undefined || to === undefined) return []
    const [out, into] = [aisleBeside(from, plan), aisleBeside(to, plan)]
    return [{ change: thread.change, way: squared([rimOf(from), ...wayTo(out, into), rimOf(to)]) }]
  })
}

/** The point in the aisle a person steps to from the stool: beyond the names, so that no thread runs through them. */
function aisleBeside(seat: Seat, plan: Plan): Px {
  const reach = seat.radius + plan.letters.name + 8
  const step = stepFrom(seat)
  return { x: seat.x + step.x * reach, y: seat.y + step.y * reach }
}

function rimOf(seat: Seat): Px {
  const step = stepFrom(seat)
  return { x: seat.x + step.x * seat.radius, y: seat.y + step.y * seat.radius }
}

function stepFrom(seat: Seat): Px {
  return { below: { x: 0, y: 1 }, left: { x: -1, y: 0 }, above: { x: 0, y: -1 }, right: { x: 1, y: 0 } }[seat.facing]
}

/** The place with its stools and, where no other bench is in the way, their words: what the chosen line encloses. */
function reachOf(on: PlaceOnPlan, plan: Plan, seated: readonly Seated[], spotOf: ReadonlyMap<string, Spot>): Box {
  const own = [on.box, ...on.seats.map(seatBox)]
  const words = seated.flatMap(({ sitter }) => {
    const spot = sitter.placeId === on.place.id ? spotOf.get(sitter.key) : undefined
    return spot === undefined || spot.leader !== null ? [] : [spot.box]
  })
  const whole = around([...own, ...words])
  const others = plan.places
    .filter((other) => other !== on)
    .flatMap((other) => [other.box, ...other.seats.map(seatBox)])
  return others.some((other) => overlaps(other, whole)) ? around(own) : whole
}

function around(boxes: readonly Box[]): Box {
  const [left, top] = [Math.min(...boxes.map((box) => box.x)), Math.min(...boxes.map((box) => box.y))]
  const [right, bottom] = [
    Math.max(...boxes.map((box) => box.x + box.w)),
    Math.max(...boxes.map((box) => box.y + box.h)),
  ]
  return { x: left - 4, y: top - 4, w: right - left + 8, h: bottom - top + 8 }
}
