'use client'
// Identity that stays while nothing changes, for parts that paint again only when what they are given is another.
import { useCallback, useLayoutEffect, useRef } from 'react'
import { share } from '#lib/base'

/** A value with the identity it had, all the way down, wherever it says what it said before. Plain values only. */
export function useShared<T>(fresh: T): T {
  const held = useRef(fresh)
  held.current = share(held.current, fresh)
  return held.current
}

/** A handler that stays the same function and always does what the latest painting wants done. */
export function useHandler<Args extends readonly unknown[], Result>(
  handler: (...args: Args) => Result,
): (...args: Args) => Result {
  const latest = useRef(handler)
  useLayoutEffect(() => {
    latest.current = handler
  })
  return useCallback((...args: Args) => latest.current(...args), [])
}
