'use client'
// The plan under the hand: the same drawing as the Floor's with nobody in it, places that move, and over it handles at
// the ends and middles of walls, doors, windows, racks and the compressor.
import { useMemo, useState } from 'react'
import { type LineKind, type LinePart, moveLine, snapM } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { useDrag } from '../_parts/controls/index.ts'
import { RoomPlan } from '../_parts/room/index.ts'
import { layPlan, type Plan, pxOf } from '../_parts/room/measure.ts'
import { placeShape } from '../floor/shapes.ts'
import { useFrameWidth } from '../floor/use-size.ts'
import type { Picked } from './room-form.tsx'
import '../floor/floor.css'

type Room = RecordOf<'room'>

export type EditPlanProps = {
  readonly room: Room
  readonly places: readonly RecordOf<'place'>[]
  readonly picked: Picked | null
  readonly onPick: (picked: Picked | null) => void
  readonly onMove: (placeId: string, xM: number, yM: number) => void
  readonly onRoom: (room: Room) => void
}

const LEAST_PX_PER_M = 30

/** The drawing and its handles. */
export function EditPlan({ room, places, picked, onPick, onMove, onRoom }: EditPlanProps) {
  const [frame, space] = useFrameWidth()
  const width = Math.max(space ?? 900, Math.ceil(room.widthM * LEAST_PX_PER_M))
  const shapes = useMemo(
    () =>
      places.map((place) => placeShape({ place, isClosed: false, sitters: [], freeSeats: place.seats, pieces: [] })),
    [places],
  )
  const plan = useMemo(() => layPlan(room, shapes, width, 'name'), [room, shapes, width])
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a frame that pans must be reachable to be panned
    <section ref={frame} className="relative max-w-full overflow-x-auto" tabIndex={0} aria-label="Plan to lay out">
      <RoomPlan
        room={room}
        places={shapes}
        pieces={[]}
        sitters={[]}
        width={width}
        density="name"
        label="The room as it is drawn"
        chosenId={picked?.what === 'place' ? picked.id : undefined}
        onChoose={(id) => onPick({ what: 'place', id })}
        editing={{ onMove }}
      />
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing of many reachable things is a group, not a picture */}
      <svg
        className="pointer-events-none absolute top-0 left-0 overflow-visible"
        width={plan.width}
        height={plan.height}
        viewBox={`0 0 ${plan.width} ${plan.height}`}
        role="group"
        aria-label="Walls, doors, windows, racks"
      >
        {lineKinds.flatMap((kind) =>
          room[kind].flatMap((line, index) =>
            parts.map((part) => {
              const at = pointOf(plan, line, part)
              const isPicked = picked?.what === kind && picked.index === index
              // Ends are shown for the chosen line alone: forty handles would be a hedge, not a room.
              if (part !== 'both' && !isPicked) return null
              return (
                <Handle
                  key={`${kind} ${index} ${part}`}
                  plan={plan}
                  x={at.x}
                  y={at.y}
                  isEnd={part !== 'both'}
                  isPicked={isPicked}
                  label={`${lineNames[kind]} ${index + 1}${part === 'both' ? '' : part === 'from' ? ', first end' : ', second end'}`}
                  onPick={() => onPick({ what: kind, index })}
                  onDrop={(dx, dy) => onRoom(moveLine(room, kind, index, part, dx, dy))}
                />
              )
            }),
          ),
        )}
        {room.racks.map((rack, index) => {
          const at = pxOf(plan, rack.xM + rack.widthM / 2, rack.yM + rack.depthM / 2)
          return (
            <Handle
              key={`rack ${index}`}
              plan={plan}
              x={at.x}
              y={at.y}
              isEnd={false}
              isPicked={picked?.what === 'racks' && picked.index === index}
              label={`Rack ${rack.code}`}
              onPick={() => onPick({ what: 'racks', index })}
              onDrop={(dx, dy) =>
                onRoom({
                  ...room,
                  racks: room.racks.map((old, one) =>
                    one === index
                      ? {
                          ...old,
                          xM: within(old.xM + dx, room.widthM - old.widthM),
                          yM: within(old.yM + dy, room.depthM - old.depthM),
                        }
                      : old,
                  ),
                })
              }
            />
          )
        })}
        {room.compressor ? (
          <Handle
            plan={plan}
            {...pxOf(plan, room.compressor.xM, room.compressor.yM)}
            isEnd={false}
            isPicked={picked?.what === 'compressor'}
            label="Compressor"
            onPick={() => onPick({ what: 'compressor' })}
            onDrop={(dx, dy) => {
              const { compressor } = room
              if (!compressor) return
              onRoom({
                ...room,
                compressor: {
                  xM: within(compressor.xM + dx, room.widthM),
                  yM: within(compressor.yM + dy, room.depthM),
                },
              })
            }}
          />
        ) : null}
      </svg>
    </section>
  )
}

const lineKinds: readonly LineKind[] = ['partitions', 'doors', 'windows']
const parts: readonly LinePart[] = ['both', 'from', 'to']
const lineNames: Record<LineKind, string> = { partitions: 'Inner wall', doors: 'Door', windows: 'Window' }

const within = (value: number, most: number): number => snapM(Math.min(Math.max(0, most), Math.max(0, value)))

function pointOf(plan: Plan, line: Room['doors'][number], part: LinePart) {
  if (part === 'from') return pxOf(plan, line.from.xM, line.from.yM)
  if (part === 'to') return pxOf(plan, line.to.xM, line.to.yM)
  return pxOf(plan, (line.from.xM + line.to.xM) / 2, (line.from.yM + line.to.yM) / 2)
}

/** Something to take up: a diamond for a whole thing, a square for an end. Moves in metres when it is laid down. */
function Handle({ plan, x, y, isEnd, isPicked, label, onPick, onDrop }: HandleProps) {
  const [moved, setMoved] = useState({ dx: 0, dy: 0 })
  const drag = useDrag({
    keyStep: plan.pxPerM * 0.05,
    onDrag: setMoved,
    onCancel: () => setMoved({ dx: 0, dy: 0 }),
    onDrop: ({ dx, dy }) => {
      setMoved({ dx: 0, dy: 0 })
      onDrop(dx / plan.pxPerM, dy / plan.pxPerM)
    },
  })
  const size = isEnd ? 6 : 7
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button of HTML cannot stand inside a drawing
    <g
      className="hit hit-moves pointer-events-auto"
      role="button"
      tabIndex={0}
      aria-pressed={isPicked}
      aria-label={label}
      transform={`translate(${x + moved.dx} ${y + moved.dy})`}
      onClick={onPick}
      {...drag.handlers}
      onKeyDown={(event) => {
        if (event.key === 'Enter' || event.key === ' ') {
          event.preventDefault()
          onPick()
        } else drag.handlers.onKeyDown(event)
      }}
    >
      <circle r={isEnd ? 14 : 22} className="fill-none" pointerEvents="all" />
      <rect
        className={isPicked ? 'fill-ink stroke-paper' : 'fill-paper stroke-ink'}
        x={-size}
        y={-size}
        width={size * 2}
        height={size * 2}
        strokeWidth={1.6}
        transform={isEnd ? undefined : 'rotate(45)'}
      />
      <circle className="ring" r={18} />
    </g>
  )
}

type HandleProps = {
  readonly plan: Plan
  readonly x: number
  readonly y: number
  readonly isEnd: boolean
  readonly isPicked: boolean
  readonly label: string
  readonly onPick: () => void
  readonly onDrop: (dxM: number, dyM: number) => void
}
