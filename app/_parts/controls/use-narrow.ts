'use client'
// Whether everything stands in one column, on a phone or a bench tablet: then length is what keeps people from finding.
import { useSyncExternalStore } from 'react'

/** Below the desk breakpoint of `globals.css`; paper is wide, whatever it is printed from. */
const NARROW = 'screen and (max-width: 71.99rem)'

/** True on a phone and a tablet; false until the page has painted once. */
export const useNarrow = (): boolean => useSyncExternalStore(onChange, isNarrowNow, () => false)

const isNarrowNow = () => matchMedia(NARROW).matches

function onChange(tell: () => void): () => void {
  const query = matchMedia(NARROW)
  query.addEventListener('change', tell)
  return () => query.removeEventListener('change', tell)
}
