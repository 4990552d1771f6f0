'use client'
// A place as one thing to reach: choose it with a finger, Enter or Space; while the room is being laid out,
// take it up by hand or push it with the arrows.
import { memo, useState } from 'react'
import { useDrag } from '../controls/drag.ts'
import { StoolAt } from '../figures/index.ts'
import { short } from '../stone/outline.ts'
import type { Box, PlaceOnPlan, Scale } from './measure.ts'
import { PlaceDrawing } from './place.tsx'
import type { PlanEditing } from './room-plan.tsx'
import type { PieceShape } from './shapes.ts'
import type { Reach } from './spots.ts'

type PlaceHitProps = {
  readonly plan: Scale
  readonly on: PlaceOnPlan
  /** The place in a sentence, for readers. */
  readonly label: string
  readonly pieces: readonly PieceShape[]
  /** Seats by their number that nobody has. */
  readonly free: readonly number[]
  readonly reach: Reach
  readonly isChosen: boolean
  readonly onChoose: ((placeId: string) => void) | undefined
  readonly editing: PlanEditing | undefined
}

/** Fingers in gloves need this much, whatever the scale. */
const leastReach = 44

/** The place and its reach; without anything to do it is only drawn. */
export const PlaceHit = memo(function PlaceHit(props: PlaceHitProps) {
  const { plan, on, label, pieces, free, reach, isChosen, onChoose, editing } = props
  const [moved, setMoved] = useState({ dx: 0, dy: 0 })
  const { place } = on
  const drag = useDrag({
    isOff: editing === undefined,
    keyStep: plan.pxPerM * 0.05,
    onDrag: setMoved,
    onCancel: () => setMoved({ dx: 0, dy: 0 }),
    onDrop: ({ dx, dy }) => {
      setMoved({ dx: 0, dy: 0 })
      editing?.onMove(place.id, place.xM + dx / plan.pxPerM, place.yM + dy / plan.pxPerM)
    },
  })
  const drawing = (
    <>
      <PlaceDrawing plan={plan} on={on} pieces={pieces} />
      {on.seats.map((seat, index) =>
        free.includes(index) ? <StoolAt key={index} state="free" x={seat.x} y={seat.y} radius={seat.radius} /> : null,
      )}
    </>
  )
  if (onChoose === undefined && editing === undefined) return drawing
  const hit = wideEnough(reach.hit)
  const outline = reach.outline
  const choose = () => onChoose?.(place.id)
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button of HTML cannot stand inside a drawing
    <g
      className={`hit ${editing === undefined ? '' : 'hit-moves'}`}
      role="button"
      tabIndex={0}
      aria-pressed={isChosen}
      aria-label={label}
      transform={moved.dx === 0 && moved.dy === 0 ? undefined : `translate(${moved.dx} ${moved.dy})`}
      onClick={choose}
      {...drag.handlers}
      onKeyDown={(event) => {
        if (event.key === 'Enter' || event.key === ' ') {
          event.preventDefault()
          choose()
        } else drag.handlers.onKeyDown(event)
      }}
    >
      <rect className="fill-transparent" {...hit} />
      {isChosen ? (
        <rect
          className="fill-transparent stroke-ink"
          x={outline.x}
          y={outline.y}
          width={outline.w}
          height={outline.h}
          rx={3}
          strokeWidth={2.6}
        />
      ) : null}
      {drawing}
      <rect className="ring" x={hit.x - 4} y={hit.y - 4} width={hit.width + 8} height={hit.height + 8} rx={4} />
    </g>
  )
})

/** At least as large as a finger, whatever the scale. */
function wideEnough(box: Box) {
  const [wide, high] = [Math.max(leastReach, box.w), Math.max(leastReach, box.h)]
  return {
    x: short(box.x - (wide - box.w) / 2),
    y: short(box.y - (high - box.h) / 2),
    width: short(wide),
    height: short(high),
  }
}
