'use client'
// The room as a measured drawing: walls, places, stones, people, and over it the tracing sheet of a line-up that
// is only drawn up. Everything on it can be reached by Tab and is said in words; lists beside it say the same.
import { useMemo } from 'react'
import { useHandler, useShared } from '../shared.ts'
import { ChangeNumber, NameAt, type Seated, WalkingStool } from './crew.tsx'
import { layPlan, type PlaceOnPlan } from './measure.ts'
import { PlaceHit } from './place-hit.tsx'
import { Racks } from './racks.tsx'
import type {
  PieceShape,
  PlaceShape,
  PlanDensity,
  RackStoneShape,
  RoomShape,
  SitterShape,
  ThreadShape,
} from './shapes.ts'
import { Compressor, MetreRule, Walls } from './shell.tsx'
import { inWayOf, reachOf, seatAll, spotsFor } from './spots.ts'
import { MentorTie } from './ties.tsx'
import { FoldedCorner, foldBox, Threads } from './tracing.tsx'
import { waysIn, waysOf } from './ways.ts'

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
  /** Draws all of it larger or smaller than it was laid out: a wall is read from further away, whatever its pixels. */
  readonly zoom?: number | undefined
  /** Which day and shift is shown: between two of them nobody walks. */
  readonly moment?: string | undefined
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
    zoom = 1,
    label,
    chosenId,
    onChoose,
    tracing,
    editing,
    moment = '',
  } = props
  // A tick changes what is said of a place, not where it lies: each part paints again for its own change alone.
  const lying = useShared(places.map(({ label: _, ...place }) => place))
  const plan = useShared(useMemo(() => layPlan(room, lying, width, density), [room, lying, width, density]))
  const { places: onPlan, ...measures } = plan
  const scale = useShared(measures)
  const seated = useShared(useMemo(() => seatAll(plan, sitters), [plan, sitters]))
  const hasFold = tracing !== undefined
  const spots = useShared(
    useMemo(() => spotsFor(plan, room, seated, hasFold ? [foldBox(plan)] : []), [plan, room, seated, hasFold]),
  )
  const wayTo = useMemo(() => waysIn(room, plan), [room, plan])
  const isTraced = tracing !== undefined && !tracing.isLifted
  const ways = useMemo(
    () => (isTraced ? waysOf(plan, tracing.threads, wayTo) : []),
    [plan, isTraced, tracing?.threads, wayTo],
  )
  const around = useShared(useMemo(() => inWayOf(plan, room, spots), [plan, room, spots]))
  const spotOf = useMemo(() => new Map(spots.map((spot) => [spot.key, spot])), [spots])
  const byKey = new Map(seated.map((one) => [one.sitter.key, one]))
  const reaches = useShared(
    useMemo(() => onPlan.map((on) => reachOf(on, plan, seated, spotOf)), [onPlan, plan, seated, spotOf]),
  )
  const filled = useShared(
    onPlan.map((on) => ({
      label: places.find((place) => place.id === on.place.id)?.label ?? '',
      pieces: pieces.filter((piece) => piece.placeId === on.place.id),
      free: on.place.closedWords === undefined ? freeSeats(on, seated) : [],
    })),
  )
  const choose = useHandler((placeId: string) => onChoose?.(placeId))
  const onMove = useHandler((placeId: string, xM: number, yM: number) => editing?.onMove(placeId, xM, yM))
  const isEdited = editing !== undefined
  const moving = useMemo(() => (isEdited ? { onMove } : undefined), [isEdited, onMove])

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing of many reachable places is a group, not a picture
    <svg
      className={`block select-none overflow-visible ${isTraced ? 'traced' : ''}`}
      width={plan.width * zoom}
      height={plan.height * zoom}
      viewBox={`0 0 ${plan.width} ${plan.height}`}
      role="group"
      aria-label={label}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && isTraced) tracing.onLift(true)
      }}
    >
      <Walls plan={scale} room={room} isTraced={isTraced} />
      <MetreRule plan={scale} room={room} />
      <Compressor plan={plan} room={room} />
      <Racks plan={scale} room={room} stones={rackStones} tone={isTraced ? 'faint' : 'ink'} />
      {seated.map((learner) => {
        const mentor = learner.sitter.besideKey === undefined ? undefined : byKey.get(learner.sitter.besideKey)
        return mentor === undefined ? null : (
          <MentorTie key={learner.sitter.key} learner={learner} mentor={mentor} around={around} frame={plan.inner} />
        )
      })}
      {onPlan.map((on, index) => {
        const [here, reach] = [filled[index], reaches[index]]
        return here === undefined || reach === undefined ? null : (
          <PlaceHit
            key={on.place.id}
            plan={scale}
            on={on}
            label={here.label}
            pieces={here.pieces}
            free={here.free}
            reach={reach}
            isChosen={on.place.id === chosenId}
            onChoose={onChoose === undefined ? undefined : choose}
            editing={moving}
          />
        )
      })}
      <g className="pointer-events-none">
        {isTraced ? <Threads threads={ways} chosenChange={tracing.chosenChange} arriveShort={4} /> : null}
        {seated.map((one) => (
          <WalkingStool
            key={`${moment} ${one.sitter.key}`}
            seated={one}
            wayTo={tracing === undefined ? wayTo : undefined}
          />
        ))}
        {seated.map(({ sitter, seat }) => {
          const spot = spotOf.get(sitter.key)
          if (spot !== undefined) return <NameAt key={sitter.key} sitter={sitter} spot={spot} plan={scale} />
          // Dots are too small for a number: there the list has it, and the plan only the one that is looked at.
          if (density !== 'dot' || sitter.change === undefined || sitter.change !== tracing?.chosenChange) return null
          return <ChangeNumber key={sitter.key} change={sitter.change} x={seat.x} y={seat.y} />
        })}
      </g>
      {tracing === undefined ? null : <FoldedCorner plan={scale} isLifted={tracing.isLifted} onLift={tracing.onLift} />}
    </svg>
  )
}

function freeSeats(on: PlaceOnPlan, seated: readonly Seated[]): readonly number[] {
  const taken = new Set(seated.filter(({ sitter }) => sitter.placeId === on.place.id).map(({ sitter }) => sitter.seat))
  return on.seats.flatMap((_, index) => (taken.has(index) ? [] : [index]))
}
