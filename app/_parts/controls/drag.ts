'use client'
// Moving something by hand: pointer, or arrows on the keyboard. Escape puts it back. What is moved and where
// it may go is the caller's; a drag is never the only way (see choose.tsx).
import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'

export type DragStep = { readonly dx: number; readonly dy: number }

export type DragOptions = {
  /** How far it has come since it was taken up, in px. */
  readonly onDrag: (moved: DragStep) => void
  /** Laid down here. */
  readonly onDrop: (moved: DragStep) => void
  /** Put back where it was. */
  readonly onCancel?: () => void
  /** One arrow key; with Shift ten times as far. In px. */
  readonly keyStep?: number
  readonly isOff?: boolean
}

/** A press that wanders less than this is a press, not a drag. */
const threshold = 5

/** Handlers for the thing one takes up, and whether it is in the hand now. */
export function useDrag({ onDrag, onDrop, onCancel, keyStep = 8, isOff = false }: DragOptions) {
  const [isHeldNow, setHeldNow] = useState(false)
  const from = useRef<{ readonly x: number; readonly y: number; moved: boolean } | null>(null)

  const stop = () => {
    from.current = null
    setHeldNow(false)
  }
  const movedTo = (event: PointerEvent): DragStep => {
    const start = from.current
    return start === null ? { dx: 0, dy: 0 } : { dx: event.clientX - start.x, dy: event.clientY - start.y }
  }

  const handlers = {
    onPointerDown: (event: PointerEvent<Element>) => {
      if (isOff || event.button !== 0) return
      from.current = { x: event.clientX, y: event.clientY, moved: false }
      event.currentTarget.setPointerCapture(event.pointerId)
    },
    onPointerMove: (event: PointerEvent<Element>) => {
      const start = from.current
      if (start === null) return
      const moved = movedTo(event)
      if (!start.moved && Math.hypot(moved.dx, moved.dy) < threshold) return
      start.moved = true
      setHeldNow(true)
      onDrag(moved)
    },
    onPointerUp: (event: PointerEvent<Element>) => {
      const start = from.current
      if (start === null) return
      const moved = movedTo(event)
      const hasMoved = start.moved
      stop()
      if (hasMoved) onDrop(moved)
    },
    onPointerCancel: () => {
      if (from.current === null) return
      stop()
      onCancel?.()
    },
    onKeyDown: (event: KeyboardEvent<Element>) => {
      if (event.key === 'Escape' && from.current !== null) {
        event.preventDefault()
        stop()
        onCancel?.()
        return
      }
      const direction = arrows[event.key]
      if (isOff || direction === undefined) return
      event.preventDefault()
      const far = event.shiftKey ? keyStep * 10 : keyStep
      onDrop({ dx: direction.dx * far, dy: direction.dy * far })
    },
  }
  return { handlers, isHeldNow }
}

const arrows: Readonly<Record<string, DragStep>> = {
  ArrowLeft: { dx: -1, dy: 0 },
  ArrowRight: { dx: 1, dy: 0 },
  ArrowUp: { dx: 0, dy: -1 },
  ArrowDown: { dx: 0, dy: 1 },
}
