'use client'
// Parts of the house and of screens that the first paint does not need: fetched once the board is open and the page has
// come to rest, so that they are there before the first press, offline too, and in nobody's way while it opens.
import { type ComponentType, useEffect, useState } from 'react'

type Load = () => Promise<unknown>

/** Parts that wait for the page to come to rest; null once it has. */
let waiting: Load[] | null = []

/** A component whose code comes later; nothing stands in its place until then. */
export function later<Props extends object>(load: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let part: ComponentType<Props> | null = null
  let coming: Promise<unknown> | null = null
  const fetchOnce: Load = () => {
    coming ??= load().then(
      (loaded) => {
        part = loaded
      },
      () => {
        // The network is away: the next one who needs it asks again.
        coming = null
      },
    )
    return coming
  }
  if (waiting) waiting.push(fetchOnce)
  else atRest(fetchOnce)
  // biome-ignore lint/correctness/noComponentHookFactories: made once a part, where its module is read
  return function Later(props: Props) {
    const [Part, setPart] = useState<ComponentType<Props> | null>(() => part)
    useEffect(() => {
      if (Part !== null) return
      let isGone = false
      painted(() => {
        if (isGone) return
        void fetchOnce().then(() => {
          if (!isGone) setPart(() => part)
        })
      })
      return () => {
        isGone = true
      }
    }, [Part])
    return Part === null ? null : <Part {...props} />
  }
}

/** The board is open: what comes later may come now, one after the other. */
export function fetchTheRest(): void {
  const loads = waiting ?? []
  waiting = null
  atRest(async () => {
    for (const load of loads) await load()
  })
}

/** After the frame that is being made: what is on the screen first is not held up by what comes later. */
function painted(call: () => void): void {
  if (waiting === null) call()
  else requestAnimationFrame(() => setTimeout(call))
}

/** Calls once the page has come to rest, or soon all the same. Safari has no idle callback; there a moment later will do. */
export function atRest(call: () => unknown): void {
  if (typeof window === 'undefined') return
  if ('requestIdleCallback' in window) window.requestIdleCallback(() => void call(), { timeout: 2000 })
  else setTimeout(() => void call(), 500)
}
