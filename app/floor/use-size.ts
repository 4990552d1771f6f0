'use client'
// How large the drawing may be: the width of its frame, the height of the window, the reader's text size. The plan is
// laid out anew when one of them changes, and at no other time.
import { type RefCallback, useCallback, useEffect, useRef, useState } from 'react'
import type { PlanDensity } from '../_parts/room/index.ts'
import { printPxPerM, printScale } from './print-scale.ts'
import { usePrinting } from './use-printing.ts'

export type PlanSize = { readonly width: number; readonly density: PlanDensity }

/** Below this many px a metre, a tablet's stools and names no longer fit beside each other. */
const LEAST_PX_PER_M = 40
const FULL_PX_PER_M = 54
/** Walls on both sides. */
const WALLS_PX = 18
/** Header, day and air on a desk, so that the whole room stays in sight. */
const AROUND_PX = 252

/** A ref for the frame, which may come and go, and the plan's width and density in it. */
export function usePlanSize(
  room: { readonly widthM: number; readonly depthM: number } | undefined,
): readonly [RefCallback<HTMLElement>, PlanSize] {
  const [frame, space] = useFrameWidth()
  const page = usePage()
  const widthM = Math.max(1, room?.widthM ?? 16)
  const depthM = Math.max(1, room?.depthM ?? 10)
  const isPrinting = usePrinting()
  if (isPrinting) {
    const perM = printPxPerM(printScale({ widthM, depthM }))
    const density = perM >= FULL_PX_PER_M ? 'full' : perM >= LEAST_PX_PER_M ? 'name' : 'dot'
    return [frame, { width: Math.round(perM * widthM + WALLS_PX), density }]
  }
  const isPhone = page.width / page.text < 700
  const known = space ?? Math.min(page.width - 32, 1000)
  if (isPhone) return [frame, { width: known, density: 'dot' }]
  const isDesk = page.width / page.text >= 1152
  const byHeight = isDesk ? (page.height - AROUND_PX) / depthM : Number.POSITIVE_INFINITY
  const byWidth = (known - WALLS_PX) / widthM
  // A small window pans instead of shrinking what must be read.
  const perM = Math.max(Math.min(byWidth, Math.max(byHeight, 46)), LEAST_PX_PER_M)
  return [frame, { width: Math.floor(perM * widthM + WALLS_PX), density: perM >= FULL_PX_PER_M ? 'full' : 'name' }]
}

/** The width of whatever the ref is put on; null until it is measured. */
export function useFrameWidth(): readonly [RefCallback<HTMLElement>, number | null] {
  const [width, setWidth] = useState<number | null>(null)
  const watcher = useRef<ResizeObserver | null>(null)
  const frame = useCallback((element: HTMLElement | null) => {
    watcher.current?.disconnect()
    if (!element) return
    const measure = () => setWidth(Math.floor(element.getBoundingClientRect().width))
    watcher.current = new ResizeObserver(measure)
    watcher.current.observe(element)
    measure()
  }, [])
  return [frame, width]
}

/** The window, and the reader's text size over the usual one. */
function usePage() {
  const [page, setPage] = useState({ width: 1280, height: 800, text: 1 })
  useEffect(() => {
    const measure = () => {
      // The tablet's own type is a tenth larger by design; only what the reader adds counts here.
      const text = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16
      const own = window.innerWidth >= 704 && window.innerWidth < 1152 ? 1.1 : 1
      setPage({ width: window.innerWidth, height: window.innerHeight, text: Number.isFinite(text) ? text / own : 1 })
    }
    measure()
    window.addEventListener('resize', measure)
    return () => window.removeEventListener('resize', measure)
  }, [])
  return page
}
