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

/** How far an answer has come. `unasked`: fewer than two letters are typed. */
export type ArchiveAnswer = {
  readonly state: 'unasked' | 'asking' | 'found' | 'out of reach'
  readonly hits: readonly ArchiveHit[]
}

const none: readonly ArchiveHit[] = []
const unasked: ArchiveAnswer = { state: 'unasked', hits: none }
const asking: ArchiveAnswer = { state: 'asking', hits: none }
const PAUSE_MS = 250

/** The archive's answer to what is typed. */
export function useArchive(typed: string): ArchiveAnswer {
  const [found, setFound] = useState<{ readonly typed: string; readonly answer: ArchiveAnswer }>()
  const wanted = typed.trim()
  useEffect(() => {
    if (wanted.length < 2) return
    let isOver = false
    const timer = setTimeout(() => {
      void get<{ readonly items: readonly ArchiveHit[] }>(`/api/archive?limit=8&q=${encodeURIComponent(wanted)}`).then(
        (answer) => {
          if (isOver) return
          const told: ArchiveAnswer = answer.ok
            ? { state: 'found', hits: answer.body.items }
            : { state: 'out of reach', hits: none }
          setFound({ typed: wanted, answer: told })
        },
      )
    }, PAUSE_MS)
    return () => {
      isOver = true
      clearTimeout(timer)
    }
  }, [wanted])
  if (wanted.length < 2) return unasked
  return found?.typed === wanted ? found.answer : asking
}
