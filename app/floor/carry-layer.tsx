'use client'
// Taking somebody by the stool and putting them at another place. Only for hands on a pointer: the panel and the
// proposal's margin have the same as buttons, so nothing of this layer is reached by Tab or told to readers.
import { memo, useMemo, useRef, useState } from 'react'
import type { Box } from '#lib/views'
import { type DragStep, useDrag } from '../_parts/controls/index.ts'
import { StoolAt } from '../_parts/figures/index.ts'
import type { PlaceShape, PlanDensity, RoomShape, SitterShape } from '../_parts/room/index.ts'
import { layPlan, type Seat } from '../_parts/room/measure.ts'
import { useHandler, useShared } from '../_parts/shared.ts'

export type CarryLayerProps = {
  readonly room: RoomShape
  readonly places: readonly PlaceShape[]
  readonly sitters: readonly SitterShape[]
  readonly width: number
  readonly density: PlanDensity
  /** A press that was no drag. */
  readonly onChoose: (placeId: string) => void
  readonly onCarry: (personId: string, placeId: string) => void
}

/** Transparent circles over the stools. */
export function CarryLayer({ room, places, sitters, width, density, onChoose, onCarry }: CarryLayerProps) {
  const lying = useShared(places.map(({ label: _, ...place }) => place))
  const plan = useMemo(() => layPlan(room, lying, width, density), [room, lying, width, density])
  const placeAt = (x: number, y: number): string | null => {
    const reach = (box: Box) => x >= box.x - 12 && x <= box.x + box.w + 12 && y >= box.y - 12 && y <= box.y + box.h + 12
    const onSeat = plan.places.find((on) => on.seats.some((seat) => Math.hypot(seat.x - x, seat.y - y) < 24))
    return (onSeat ?? plan.places.find((on) => reach(on.box)))?.place.id ?? null
  }
  const choose = useHandler(onChoose)
  const drop = useHandler((sitter: SitterShape, x: number, y: number) => {
    const placeId = placeAt(x, y)
    if (placeId !== null && placeId !== sitter.placeId) onCarry(sitter.key, placeId)
  })
  return (
    <svg
      className="pointer-events-none absolute top-0 left-0 overflow-visible"
      width={plan.width}
      height={plan.height}
      viewBox={`0 0 ${plan.width} ${plan.height}`}
      aria-hidden="true"
    >
      {sitters.map((sitter) => {
        const seat = plan.places.find((on) => on.place.id === sitter.placeId)?.seats[sitter.seat]
        if (!seat) return null
        return <Carried key={sitter.key} sitter={sitter} seat={seat} onChoose={choose} onDrop={drop} />
      })}
    </svg>
  )
}

const Carried = memo(function Carried({ sitter, seat, onChoose, onDrop }: CarriedProps) {
  const [moved, setMoved] = useState<DragStep | null>(null)
  // A click follows each drag; it must not choose what was just laid down.
  const wasCarried = useRef(false)
  const drag = useDrag({
    onDrag: (step) => {
      wasCarried.current = true
      setMoved(step)
    },
    onCancel: () => setMoved(null),
    onDrop: (step) => {
      setMoved(null)
      onDrop(sitter, seat.x + step.dx, seat.y + step.dy)
    },
  })
  const { onPointerDown, onPointerMove, onPointerUp, onPointerCancel } = drag.handlers
  return (
    <>
      {moved !== null ? (
        <StoolAt
          state={sitter.state}
          x={seat.x + moved.dx}
          y={seat.y + moved.dy}
          radius={seat.radius}
          initial={sitter.initial}
          tone="chalk"
        />
      ) : null}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: see the head of this file */}
      <circle
        className="pointer-events-auto cursor-grab touch-none fill-transparent"
        cx={seat.x}
        cy={seat.y}
        r={Math.max(18, seat.radius + 3)}
        onClick={() => {
          if (!wasCarried.current) onChoose(sitter.placeId)
          wasCarried.current = false
        }}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={onPointerCancel}
      />
    </>
  )
})

type CarriedProps = {
  readonly sitter: SitterShape
  readonly seat: Seat
  readonly onChoose: (placeId: string) => void
  /** Laid down here, in px of the drawing. */
  readonly onDrop: (sitter: SitterShape, x: number, y: number) => void
}
