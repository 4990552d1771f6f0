// The newest season any screen has heard, so that all of them tell the same chances. Held by the tab; nothing is asked
// from here.
import { useSyncExternalStore } from 'react'
import type { SeasonAnswer } from '#lib/season'

let last: SeasonAnswer | null = null
const listeners = new Set<() => void>()

/** Notes a season that came. */
export function noteSeason(season: SeasonAnswer): void {
  last = season
  for (const tell of listeners) tell()
}

/** The newest season heard in this tab; null before the first. */
export function useLastSeason(): SeasonAnswer | null {
  return useSyncExternalStore(subscribe, get, nothing)
}

function subscribe(tell: () => void): () => void {
  listeners.add(tell)
  return () => listeners.delete(tell)
}
const get = () => last
const nothing = () => null
