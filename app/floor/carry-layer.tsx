'use client'
// Taking somebody by the stool, or a piece by its stone, and putting them at another place; before letting go a slip
// beside the place says what would follow. Only for hands on a pointer: the panel and the proposal's margin have the
// same as buttons, so nothing of this layer is reached by Tab or told to readers.
import { memo, useMemo, useRef, useState } from 'react'
import type { Box } from '#lib/views'
import { type DragStep, useDrag } from '../_parts/controls/index.ts'
import { StoolAt } from '../_parts/figures/index.ts'
import type { PieceShape, PlaceShape, PlanDensity, RoomShape, SitterShape } from '../_parts/room/index.ts'
import { layPlan, type Plan } from '../_parts/room/measure.ts'
import { stonesAt } from '../_parts/room/stones-at.ts'
import { useHandler, useShared } from '../_parts/shared.ts'
import { StoneAt } from '../_parts/stone/index.ts'
import { AheadSlip } from './what-if/ahead-slip.tsx'
import type { WhatIfQuestion } from './what-if/use-what-if.ts'

export type CarryLayerProps = {
  readonly room: RoomShape
  readonly places: readonly PlaceShape[]
  readonly sitters: readonly SitterShape[]
  readonly pieces: readonly PieceShape[]
  readonly width: number
  readonly density: PlanDensity
  /** A press that was no drag. */
  readonly onChoose: (placeId: string) => void
  readonly onCarry: (personId: string, placeId: string) => void
  /** Left away where pieces stay as they lie. */
  readonly onCarryPiece?: ((pieceId: string, placeId: string) => void) | undefined
  /** What laying it down there would mean; null where nothing of the line-up would change. */
  readonly ahead?: ((thing: Taken, placeId: string) => WhatIfQuestion | null) | undefined
}

/** What is in the hand. */
export type Taken = { readonly kind: 'person' | 'piece'; readonly id: string }

/** Transparent circles over stools and stones. */
export function CarryLayer(props: CarryLayerProps) {
  const { room, places, sitters, pieces, width, density, onChoose, onCarry, onCarryPiece, ahead } = props
  const lying = useShared(places.map(({ label: _, ...place }) => place))
  const plan = useMemo(() => layPlan(room, lying, width, density), [room, lying, width, density])
  const things = useShared([...(onCarryPiece ? piecesOn(plan, pieces) : []), ...peopleOn(plan, sitters)])
  const placeAt = (x: number, y: number): string | null => {
    const reach = (box: Box) => x >= box.x - 12 && x <= box.x + box.w + 12 && y >= box.y - 12 && y <= box.y + box.h + 12
    const onSeat = plan.places.find((on) => on.seats.some((seat) => Math.hypot(seat.x - x, seat.y - y) < 24))
    return (onSeat ?? plan.places.find((on) => reach(on.box)))?.place.id ?? null
  }
  const [over, setOver] = useState<{ readonly placeId: string; readonly question: WhatIfQuestion } | null>(null)
  const target = over === null ? undefined : plan.places.find((on) => on.place.id === over.placeId)
  const move = useHandler((thing: Thing, x: number, y: number) => {
    const placeId = placeAt(x, y)
    if (placeId === over?.placeId) return
    const question = placeId === null || placeId === thing.placeId ? null : ahead?.(thing, placeId)
    setOver(placeId === null || !question ? null : { placeId, question })
  })
  const leave = useHandler(() => setOver(null))
  const choose = useHandler(onChoose)
  const drop = useHandler((thing: Thing, x: number, y: number) => {
    setOver(null)
    const placeId = placeAt(x, y)
    if (placeId === null || placeId === thing.placeId) return
    if (thing.kind === 'person') onCarry(thing.id, placeId)
    else onCarryPiece?.(thing.id, placeId)
  })
  return (
    <svg
      className="pointer-events-none absolute top-0 left-0 overflow-visible"
      width={plan.width}
      height={plan.height}
      viewBox={`0 0 ${plan.width} ${plan.height}`}
      aria-hidden="true"
    >
      {things.map((thing) => (
        <Carried
          key={`${thing.kind} ${thing.id} ${thing.placeId}`}
          thing={thing}
          onChoose={choose}
          onDrop={drop}
          onMove={move}
          onLeave={leave}
        />
      ))}
      {over && target ? <AheadSlip plan={plan} box={target.box} question={over.question} /> : null}
    </svg>
  )
}

type Thing = { readonly id: string; readonly placeId: string; readonly x: number; readonly y: number } & (
  | { readonly kind: 'person'; readonly sitter: SitterShape; readonly radius: number }
  | { readonly kind: 'piece'; readonly piece: PieceShape; readonly width: number; readonly height: number }
)

function peopleOn(plan: Plan, sitters: readonly SitterShape[]): readonly Thing[] {
  return sitters.flatMap((sitter) => {
    const seat = plan.places.find((on) => on.place.id === sitter.placeId)?.seats[sitter.seat]
    if (!seat) return []
    const { x, y, radius } = seat
    return [{ kind: 'person', id: sitter.key, placeId: sitter.placeId, sitter, x, y, radius }]
  })
}

function piecesOn(plan: Plan, pieces: readonly PieceShape[]): readonly Thing[] {
  return plan.places.flatMap((on) => {
    const placeId = on.place.id
    const here = pieces.filter((piece) => piece.placeId === placeId)
    return stonesAt(plan, on, here).map((spot): Thing => ({ kind: 'piece', id: spot.piece.seed, placeId, ...spot }))
  })
}

/** What is seen in the hand. */
function InHand({ thing }: { readonly thing: Thing }) {
  const { x, y } = thing
  if (thing.kind === 'person') {
    const { state, initial } = thing.sitter
    return <StoolAt state={state} x={x} y={y} radius={thing.radius} initial={initial} tone="chalk" />
  }
  const { seed, stage } = thing.piece
  return <StoneAt seed={seed} stage={stage} x={x} y={y} width={thing.width} height={thing.height} tone="chalk" />
}

const Carried = memo(function Carried({ thing, onChoose, onDrop, onMove, onLeave }: CarriedProps) {
  const [moved, setMoved] = useState<DragStep | null>(null)
  // A click follows each drag; it must not choose what was just laid down.
  const wasCarried = useRef(false)
  const drag = useDrag({
    onDrag: (step) => {
      wasCarried.current = true
      setMoved(step)
      onMove(thing, thing.x + step.dx, thing.y + step.dy)
    },
    onCancel: () => {
      setMoved(null)
      onLeave()
    },
    onDrop: (step) => {
      setMoved(null)
      onDrop(thing, thing.x + step.dx, thing.y + step.dy)
    },
  })
  const { onPointerDown, onPointerMove, onPointerUp, onPointerCancel } = drag.handlers
  const reach =
    thing.kind === 'person' ? Math.max(18, thing.radius + 3) : Math.max(14, Math.min(thing.width, thing.height) / 2)
  return (
    <>
      {moved !== null ? (
        <g className="pointer-events-none" transform={`translate(${moved.dx} ${moved.dy})`}>
          <InHand thing={thing} />
        </g>
      ) : null}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: see the head of this file */}
      <circle
        className="pointer-events-auto cursor-grab touch-none fill-transparent"
        cx={thing.x}
        cy={thing.y}
        r={reach}
        onClick={() => {
          if (!wasCarried.current) onChoose(thing.placeId)
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
  readonly thing: Thing
  readonly onChoose: (placeId: string) => void
  /** Laid down here, in px of the drawing. */
  readonly onDrop: (thing: Thing, x: number, y: number) => void
  /** Held over here. */
  readonly onMove: (thing: Thing, x: number, y: number) => void
  /** Put back. */
  readonly onLeave: () => void
}
