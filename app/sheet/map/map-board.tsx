'use client'
// The board one draws on, with a finger, a pen, a mouse, or by keyboard: arrows move the cross, Space sets a point, Enter
// ends the line. A second finger ends a line that was begun by mistake, so that a sheet can be moved by two.
import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import { fewerPoints } from '#lib/views'
import { STROKE_SPAN, type StrokeKind, type StrokePoint } from '#lib/words'
import { Live } from '../../_parts/controls/index.ts'
import type { Drawable } from './grounds.ts'
import { GroundPicture, placesOf, StrokeMark, viewBoxOf } from './map-picture.tsx'
import { sayMap } from './say.ts'

/** How far one key moves the cross, of STROKE_SPAN. */
const KEY_STEP = 250
const KEY_FINE = 50
/** A press this near a stroke means it. */
const NEAR = 350

type MapBoardProps = {
  readonly on: Drawable
  /** The stroke that is drawn; null while one moves the sheet and chooses strokes. */
  readonly what: StrokeKind | null
  readonly zoom: number
  readonly chosenId: string | null
  readonly onLine: (points: readonly StrokePoint[]) => void
  readonly onChoose: (strokeId: string | null) => void
}

/** The board. */
export function MapBoard({ on, what, zoom, chosenId, onLine, onChoose }: MapBoardProps) {
  const [line, setLine] = useState<readonly StrokePoint[]>([])
  const [cross, setCross] = useState<StrokePoint | null>(null)
  const [said, setSaid] = useState('')
  const pointer = useRef<number | null>(null)

  const end = (points: readonly StrokePoint[]) => {
    pointer.current = null
    setLine([])
    const fewer = fewerPoints(points)
    if (fewer.length > 0) onLine(fewer)
  }
  const down = (event: PointerEvent<SVGSVGElement>) => {
    if (what === null || event.button !== 0) return
    if (pointer.current !== null) {
      pointer.current = null
      setLine([])
      return
    }
    event.currentTarget.setPointerCapture(event.pointerId)
    pointer.current = event.pointerId
    setCross(null)
    setLine([pointOf(event.currentTarget, event)])
  }
  const move = (event: PointerEvent<SVGSVGElement>) => {
    if (pointer.current !== event.pointerId) return
    const { currentTarget, nativeEvent } = event
    const between = nativeEvent.getCoalescedEvents?.() ?? []
    const more = (between.length > 0 ? between : [nativeEvent]).map((one) => pointOf(currentTarget, one))
    setLine((now) => [...now, ...more])
  }
  const key = (event: KeyboardEvent) => {
    if (what === null) return
    const step = event.shiftKey ? KEY_FINE : KEY_STEP
    const [x, y] = cross ?? [STROKE_SPAN / 2, STROKE_SPAN / 2]
    const by = moves[event.key]
    if (by) {
      const to: StrokePoint = [within(x + by[0] * step), within(y + by[1] * step)]
      setCross(to)
      setSaid(`${Math.round(to[0] / 100)} across, ${Math.round(to[1] / 100)} down`)
    } else if (event.key === ' ') {
      setCross([x, y])
      setLine([...line, [x, y]])
      setSaid(`Point ${line.length + 1}`)
    } else if (event.key === 'Enter' && line.length > 0) end(line)
    else if (event.key === 'Backspace' && line.length > 0) setLine(line.slice(0, -1))
    else if (event.key === 'Escape' && line.length > 0) setLine([])
    else return
    event.preventDefault()
    event.stopPropagation()
  }

  return (
    <div className="map-board">
      <div
        className="map-sheet"
        data-hand={what === null ? 'move' : 'draw'}
        style={{ width: `${zoom * 100}%`, aspectRatio: String(on.ratio) }}
      >
        <GroundPicture on={on} label={sayMap(on)} />
        <svg
          className="map-strokes"
          viewBox={viewBoxOf(on.ratio)}
          role="application"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: keys draw here
          tabIndex={0}
          aria-label="Drawing board. Arrow keys move the cross, Space sets a point, Enter ends the line, Escape drops it."
          onPointerDown={down}
          onPointerMove={move}
          onPointerUp={(event) => {
            if (pointer.current === event.pointerId) end([...line, pointOf(event.currentTarget, event)])
          }}
          onPointerCancel={() => {
            pointer.current = null
            setLine([])
          }}
          onClick={(event) => {
            if (what === null) onChoose(nearest(on, pointOf(event.currentTarget, event)))
          }}
          onKeyDown={key}
        >
          {on.strokes.map((stroke) => (
            <StrokeMark key={stroke.id} {...stroke} ratio={on.ratio} isChosen={stroke.id === chosenId} />
          ))}
          {what === null || line.length === 0 ? null : <StrokeMark what={what} points={line} ratio={on.ratio} />}
          {cross === null || what === null ? null : <Cross at={cross} ratio={on.ratio} />}
        </svg>
      </div>
      <Live message={said} />
    </div>
  )
}

const moves: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

const within = (value: number): number => Math.min(STROKE_SPAN, Math.max(0, Math.round(value)))

/** Where on the board a pointer is. */
function pointOf(board: SVGSVGElement, { clientX, clientY }: { clientX: number; clientY: number }): StrokePoint {
  const { left, top, width, height } = board.getBoundingClientRect()
  return [
    within(((clientX - left) / Math.max(1, width)) * STROKE_SPAN),
    within(((clientY - top) / Math.max(1, height)) * STROKE_SPAN),
  ]
}

/** The stroke a press means; null for none. */
function nearest({ strokes }: Drawable, [x, y]: StrokePoint): string | null {
  const offs = strokes.map(({ id, points }) => ({ id, off: offLine(points, x, y) }))
  const [first] = offs.toSorted((a, b) => a.off - b.off)
  return first && first.off <= NEAR ? first.id : null
}

/** How far a place is from a line, going along it in small steps. */
function offLine(points: readonly StrokePoint[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY
  points.forEach(([ax, ay], n) => {
    const [bx, by] = points[n + 1] ?? [ax, ay]
    const steps = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 100))
    for (let step = 0; step <= steps; step++)
      least = Math.min(least, Math.hypot(x - ax - ((bx - ax) * step) / steps, y - ay - ((by - ay) * step) / steps))
  })
  return least
}

function Cross({ at, ratio }: { readonly at: StrokePoint; readonly ratio: number }) {
  const [[cx, cy] = [0, 0]] = placesOf([at], ratio)
  const path = `M${cx - 40} ${cy}h80M${cx} ${cy - 40}v80`
  return (
    <g>
      <path className="map-halo" d={path} strokeWidth={12} />
      <path className="map-ink" d={path} strokeWidth={4} />
    </g>
  )
}
