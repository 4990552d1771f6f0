'use client'
// What rests in the archive, asked of the server a moment after the last key; the newest question wins.
import { useEffect, useState } from 'react'
import type { StoneStage } from '../_parts/stone/index.ts'
import { get } from './http.ts'

/** One resting piece as the archive's search gives it. */
export type ArchiveHit = {
  readonly id: string
  readonly kind: 'jacket' | 'specimen'
  readonly number: string
  readonly name: string
  readonly stage: StoneStage
}

const none: readonly ArchiveHit[] = []
const PAUSE_MS = 250

/** The archive's answer to what is typed; empty until it came, and for fewer than two letters. */
export function useArchive(typed: string): readonly ArchiveHit[] {
  const [found, setFound] = useState<{ readonly typed: string; readonly hits: readonly ArchiveHit[] }>()
  const wanted = typed.trim()
  useEffect(() => {
    if (wanted.length < 2) return
    let isOver = false
    const timer = setTimeout(() => {
      void get<{ readonly items: readonly ArchiveHit[] }>(`/api/archive?limit=8&q=${encodeURIComponent(wanted)}`).then(
        (answer) => {
          if (!isOver && answer.ok) setFound({ typed: wanted, hits: answer.body.items })
        },
      )
    }, PAUSE_MS)
    return () => {
      isOver = true
      clearTimeout(timer)
    }
  }, [wanted])
  return found?.typed === wanted ? found.hits : none
}
