// The session on a real browser: sockets, IndexedDB, tabs, clock, chance. Loaded after the page has painted, so that
// Yjs and the acts of the lab are not in its way.
import { originHere } from '../../_parts/address.ts'
import type { Identity, Ports } from '../core/ports.ts'
import { Session } from '../core/session.ts'
import { socketLines } from './line.ts'
import { forgetPages, openOffline, stockUpPages } from './offline.ts'
import { openShelf } from './shelf.ts'
import { openTabs } from './tabs.ts'
import { uploads } from './uploads.ts'
import { whoAmI } from './who.ts'

const LAST_KEY = 'talus:last'
/** A hidden tab paints no frames; what came in is laid out at least this often. */
const FRAME_MAX_MS = 60

/** Opens the session of this tab; `close` ends it and everything that woke it. */
export function openSession(): { readonly session: Session; readonly close: () => void } {
  const session = new Session(browserPorts())
  const shown = () => {
    if (document.visibilityState === 'visible') session.nudge()
    else session.secure()
  }
  const nudge = () => session.nudge()
  const secure = () => session.secure()
  document.addEventListener('visibilitychange', shown)
  window.addEventListener('online', nudge)
  window.addEventListener('pageshow', nudge)
  window.addEventListener('pagehide', secure)
  session.start()
  openOffline(console.error)
  // Pages cached for nobody, or for somebody else, are fetched again once it is known who is here.
  let stockedFor: string | null = null
  const stopStocking = session.shown.who.subscribe(() => {
    const personId = session.shown.who.get()?.personId ?? null
    if (personId !== null && personId !== stockedFor) stockUpPages()
    stockedFor = personId
  })
  // For whoever measures: when the board was there.
  const stopMarking = session.shown.records.subscribe(() => {
    if (session.shown.records.get().lab.size === 0) return
    performance.mark('talus:open')
    stopMarking()
  })
  return {
    session,
    close: () => {
      stopStocking()
      stopMarking()
      document.removeEventListener('visibilitychange', shown)
      window.removeEventListener('online', nudge)
      window.removeEventListener('pageshow', nudge)
      window.removeEventListener('pagehide', secure)
      session.stop()
    },
  }
}

function browserPorts(): Ports {
  const report = (error: unknown) => console.error(error)
  const origin = originHere().replace(/^http/, 'ws')
  return {
    clock: {
      now: () => Date.now(),
      after: (ms, call) => {
        const timer = setTimeout(call, ms)
        return () => clearTimeout(timer)
      },
    },
    chance: () => crypto.getRandomValues(new Uint8Array(1))[0] ?? 0,
    openLine: socketLines({ origin, backoffMaxMs: 2000 + Math.random() * 3000, report }),
    openShelf: (identity) => openShelf(identity, report),
    openTabs: (identity) => openTabs(identity, report),
    uploads,
    askWho: whoAmI,
    last: { get: readLast, set: writeLast },
    nextFrame: (call) => {
      let isDone = false
      const once = () => {
        if (isDone) return
        isDone = true
        clearTimeout(timer)
        cancelAnimationFrame(frame)
        call()
      }
      const timer = setTimeout(once, FRAME_MAX_MS)
      const frame = requestAnimationFrame(once)
    },
    report,
    forgetPages,
  }
}

function readLast(): Identity | null {
  try {
    const last: unknown = JSON.parse(localStorage.getItem(LAST_KEY) ?? 'null')
    // Written by writeLast; anything else here is as good as nothing.
    return typeof last === 'object' && last !== null && 'lab' in last && 'role' in last ? (last as Identity) : null
  } catch {
    return null
  }
}

function writeLast(identity: Identity | null): void {
  try {
    if (identity) localStorage.setItem(LAST_KEY, JSON.stringify(identity))
    else localStorage.removeItem(LAST_KEY)
  } catch {
    // Without storage the next visit simply starts from nothing.
  }
}
