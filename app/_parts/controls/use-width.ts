'use client'
// How wide a drawing may be: axes and pipes are drawn to the space they have, not stretched.
import { type RefObject, useLayoutEffect, useRef, useState } from 'react'

/** A ref for the frame (class `measured`, so that the drawing never widens it) and its width in px. */
export function useWidth<Frame extends HTMLElement>(before: number): readonly [RefObject<Frame | null>, number] {
  const frame = useRef<Frame>(null)
  const [width, setWidth] = useState(before)
  useLayoutEffect(() => {
    const element = frame.current
    if (element === null) return
    const measure = () => {
      const now = Math.floor(element.getBoundingClientRect().width)
      if (now > 0) setWidth(now)
    }
    measure()
    const watcher = new ResizeObserver(measure)
    watcher.observe(element)
    return () => watcher.disconnect()
  }, [])
  return [frame, width]
}
