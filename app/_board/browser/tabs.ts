// The other tabs of the same person: a BroadcastChannel to tell them, a Web Lock to decide which one sends. The tab
// that comes into view takes the lock over: a phone may freeze a hidden tab while it holds the lock, and the one in
// the hand must not wait for it. Browsers without locks let every tab send: ids make that harmless, only wasteful.
import { type Identity, keyOf, type TabMessage, type Tabs } from '../core/ports.ts'

/** Joins the tabs of one person. */
export function openTabs(identity: Identity, report: (error: unknown) => void): Tabs {
  const name = `talus:${keyOf(identity)}`
  const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(name) : null
  return {
    send: (message) => channel?.postMessage(message),
    listen: (hear) => {
      const heard = (event: MessageEvent) => hear(event.data as TabMessage)
      channel?.addEventListener('message', heard)
      return () => {
        channel?.removeEventListener('message', heard)
        channel?.close()
      }
    },
    lead: (changed) => {
      if (!('locks' in navigator)) {
        changed(true)
        return () => {}
      }
      return holdLead(name, changed, report)
    },
  }
}

function holdLead(name: string, changed: (isLeading: boolean) => void, report: (error: unknown) => void): () => void {
  let isStopped = false
  let letGo: (() => void) | null = null

  const hold = () => {
    if (isStopped) return Promise.resolve()
    changed(true)
    return new Promise<void>((resolve) => {
      letGo = resolve
    })
  }
  const request = (steal: boolean) => {
    navigator.locks.request(name, steal ? { steal } : {}, hold).catch((error: unknown) => {
      letGo = null
      changed(false)
      // Stolen by the tab that came into view: wait in line for it to close.
      if (error instanceof DOMException && error.name === 'AbortError') {
        if (!isStopped) request(false)
      } else report(error)
    })
  }
  const shown = () => {
    if (document.visibilityState === 'visible' && !letGo && !isStopped) request(true)
  }
  document.addEventListener('visibilitychange', shown)
  request(document.visibilityState === 'visible')
  return () => {
    isStopped = true
    document.removeEventListener('visibilitychange', shown)
    letGo?.()
  }
}
