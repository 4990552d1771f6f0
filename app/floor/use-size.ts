'use client'
// How large the drawing may be: the width of its frame, the height of the window, the reader's text size. The plan is
// laid out anew when one of them changes, and at no other time.
import { type RefObject, useEffect, useState } from 'react'
import { useWidth } from '../_parts/controls/index.ts'
import type { PlanDensity } from '../_parts/room/index.ts'

export type PlanSize = { readonly width: number; readonly density: PlanDensity }

/** Below this many px a metre, a tablet's stools and names no longer fit beside each other. */
const LEAST_PX_PER_M = 40
const FULL_PX_PER_M = 54

/** A ref for the frame, and the plan's width and density in it. */
export function usePlanSize(
  room: { readonly widthM: number; readonly depthM: number } | undefined,
): readonly [RefObject<HTMLElement | null>, PlanSize] {
  const [frame, space] = useWidth<HTMLElement>(960)
  const [page, setPage] = useState({ width: 1280, height: 800, text: 1 })
  useEffect(() => {
    const measure = () => {
      const text = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16
      setPage({ width: window.innerWidth, height: window.innerHeight, text: Number.isFinite(text) ? text : 1 })
    }
    measure()
    window.addEventListener('resize', measure)
    return () => window.removeEventListener('resize', measure)
  }, [])
  const widthM = Math.max(1, room?.widthM ?? 16)
  const depthM = Math.max(1, room?.depthM ?? 10)
  if (page.width / page.text < 700) return [frame, { width: space, density: 'dot' }]
  // On a desk the whole room stays in sight; a small window pans instead of shrinking what must be read.
  const isDesk = page.width / page.text >= 1152
  const byHeight = isDesk ? (page.height - 300) / depthM : Number.POSITIVE_INFINITY
  const byWidth = (space - 18) / widthM
  const perM = Math.max(Math.min(byWidth, Math.max(byHeight, 46)), LEAST_PX_PER_M)
  const width = Math.floor(perM * widthM + 18)
  return [frame, { width, density: perM >= FULL_PX_PER_M ? 'full' : 'name' }]
}
