'use client'
// A place as one thing to reach: choose it with a finger, Enter or Space; while the room is being laid out,
// take it up by hand or push it with the arrows.
import { type ReactNode, useState } from 'react'
import { useDrag } from '../controls/drag.ts'
import { short } from '../stone/outline.ts'
import type { Box, PlaceOnPlan, Plan } from './measure.ts'
import type { PlanEditing } from './room-plan.tsx'

type PlaceHitProps = {
  readonly plan: Plan
  readonly on: PlaceOnPlan
  readonly reach: Box
  readonly isChosen: boolean
  readonly onChoose: ((placeId: string) => void) | undefined
  readonly editing: PlanEditing | undefined
  readonly children: ReactNode
}

/** Fingers in gloves need this much, whatever the scale. */
const leastReach = 44

/** The place and its reach; without anything to do it is only drawn. */
export function PlaceHit({ plan, on, reach, isChosen, onChoose, editing, children }: PlaceHitProps) {
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
  if (onChoose === undefined && editing === undefined) return children
  const wide = Math.max(leastReach, reach.w)
  const high = Math.max(leastReach, reach.h)
  const hit = {
    x: short(reach.x - (wide - reach.w) / 2),
    y: short(reach.y - (high - reach.h) / 2),
    width: short(wide),
    height: short(high),
  }
  const choose = () => onChoose?.(place.id)
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button of HTML cannot stand inside a drawing
    <g
      className={`hit ${editing === undefined ? '' : 'hit-moves'}`}
      role="button"
      tabIndex={0}
      aria-pressed={isChosen}
      aria-label={place.label}
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
      {isChosen ? <rect className="fill-transparent stroke-ink" {...hit} rx={3} strokeWidth={2.6} /> : null}
      {children}
      <rect className="ring" x={hit.x - 4} y={hit.y - 4} width={hit.width + 8} height={hit.height + 8} rx={4} />
    </g>
  )
}
