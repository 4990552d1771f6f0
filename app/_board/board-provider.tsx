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
const OpeningContext = createContext<Promise<Session | null>>(Promise.resolve(null))

/** The session of this tab; null until it is loaded. */
export const useSessionOrNull = (): Session | null => useContext(BoardContext)

/** The session of this tab as soon as it is loaded; null when it cannot be. For what must not be missed by pressing early. */
export const useSessionSoon = (): Promise<Session | null> => useContext(OpeningContext)

/** What the session shows; an empty board until it is loaded. */
export const useShown = (): Shown => useContext(BoardContext)?.shown ?? nothing

/** Wraps every screen that reads or changes the board. */
export function BoardProvider({ children }: { readonly children: ReactNode }) {
  const [session, setSession] = useState<Session | null>(null)
  const [{ soon, tell }] = useState(promised<Session | null>)
  useEffect(() => {
    let isGone = false
    let close = () => {}
    loading?.then(
      ({ openSession }) => {
        if (isGone) return
        const opened = openSession()
        close = opened.close
        setSession(opened.session)
        tell(opened.session)
      },
      (error: unknown) => {
        console.error(error)
        tell(null)
      },
    )
    return () => {
      isGone = true
      close()
    }
  }, [tell])
  return (
    <BoardContext value={session}>
      <OpeningContext value={soon}>{children}</OpeningContext>
    </BoardContext>
  )
}

/** A promise, and the way to keep it. */
function promised<T>(): { readonly soon: Promise<T>; readonly tell: (value: T) => void } {
  let tell = (_value: T) => {}
  const soon = new Promise<T>((done) => {
    tell = done
  })
  return { soon, tell }
}
