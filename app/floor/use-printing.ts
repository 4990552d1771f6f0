'use client'
// Paper is not the window: what is printed is laid out anew when the browser says that it is about to look.
import { useEffect, useState } from 'react'
import { flushSync } from 'react-dom'

/** True while the browser lays out pages for paper; the drawing is laid out for them before it looks. */
export function usePrinting(): boolean {
  const [isPrinting, setPrinting] = useState(false)
  useEffect(() => {
    const before = () => flushSync(() => setPrinting(true))
    const after = () => setPrinting(false)
    window.addEventListener('beforeprint', before)
    window.addEventListener('afterprint', after)
    return () => {
      window.removeEventListener('beforeprint', before)
      window.removeEventListener('afterprint', after)
    }
  }, [])
  return isPrinting
}
