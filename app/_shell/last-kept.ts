'use client'
// When this person last had an edit kept here, across reloads: whoever comes back to the page within half a day sees at
// once that what they did before is on the server.
import { useEffect, useState } from 'react'
import { useNow, useWho } from '../_board/index.ts'

const PREFIX = 'talus.kept.'

/** The instant to show beside "kept": of now, else the one remembered; null when nothing was kept this half day. */
export function useLastKept(at: number | null): number | null {
  const name = `${PREFIX}${useWho()?.personId ?? ''}`
  const { ms } = useNow(60_000)
  const [remembered, setRemembered] = useState<number | null>(null)
  useEffect(() => {
    try {
      if (at === null) setRemembered(Number(localStorage.getItem(name)) || null)
      else localStorage.setItem(name, String(at))
    } catch {
      // A private window keeps nothing: then the mark has no time until the next edit.
    }
  }, [at, name])
  if (at !== null) return at
  const isRecent = remembered !== null && ms > 0 && Math.abs(ms - remembered) < DAY_MS / 2
  return isRecent ? remembered : null
}

const DAY_MS = 86_400_000
