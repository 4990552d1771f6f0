'use client'
// Puts the live board under the screens. The session (Yjs, the acts, the sockets) is loaded beside the page and in the
// browser only; until it is there, and on the server, the hooks show an empty board that is "opening".
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react'
import type { Session } from './core/session.ts'
import { Shown } from './core/shown.ts'

/** Asked for as soon as this runs, so that it travels while React takes over the page. */
const loading = typeof window === 'undefined' ? null : import('./browser/open.ts')
const nothing = new Shown()
const BoardContext = createContext<Session | null>(null)

/** The session of this tab; null until it is loaded. */
export const useSessionOrNull = (): Session | null => useContext(BoardContext)

/** What the session shows; an empty board until it is loaded. */
export const useShown = (): Shown => useContext(BoardContext)?.shown ?? nothing

/** Wraps every screen that reads or changes the board. */
export function BoardProvider({ children }: { readonly children: ReactNode }) {
  const [session, setSession] = useState<Session | null>(null)
  useEffect(() => {
    let isGone = false
    let close = () => {}
    loading?.then(({ openSession }) => {
      if (isGone) return
      const opened = openSession()
      close = opened.close
      setSession(opened.session)
    })
    return () => {
      isGone = true
      close()
    }
  }, [])
  return <BoardContext value={session}>{children}</BoardContext>
}
