'use client'
// What may come a moment after the rest: painted in a pass of its own once the first is on the screen, so that what
// one came for is there first.
import { type ReactNode, useDeferredValue } from 'react'

/** Its children are not in the first painting of a screen; they follow at once. */
export function AfterPaint({ children }: { readonly children: ReactNode }) {
  return useDeferredValue(true, false) ? children : null
}
