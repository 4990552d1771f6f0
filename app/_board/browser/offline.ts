// Registers the service worker, in production only: while developing, a cache between the code and the screen only
// misleads.

import { addressOf, HOME } from '../../_parts/address.ts'

/** After this long a page has loaded what it needs. */
const LOADED_MS = 4000

/** Makes the app open offline from now on. */
export function openOffline(report: (error: unknown) => void): void {
  if (process.env.NODE_ENV !== 'production' || !('serviceWorker' in navigator)) return
  navigator.serviceWorker
    // Without a stroke at its end, since the first page has none below a path.
    .register(addressOf('/sw.js'), { scope: HOME })
    .then(() => navigator.serviceWorker.ready)
    .then((registration) => {
      setTimeout(() => registration.active?.postMessage(loadedFiles()), LOADED_MS)
    })
    .catch(report)
}

/** Files of the build that this page has loaded, scripts that come later than the page included. */
function loadedFiles(): readonly string[] {
  const paths = performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname)
  return paths.filter((path) => path.startsWith(addressOf('/_next/static/')))
}

/** Drops cached pages: they know who was here. */
export function forgetPages(): void {
  if (!('serviceWorker' in navigator)) return
  void navigator.serviceWorker.getRegistration().then((found) => found?.active?.postMessage('forget'))
}

/** Fetches the screens for whoever is here now. */
export function stockUpPages(): void {
  if (!('serviceWorker' in navigator)) return
  void navigator.serviceWorker.getRegistration().then((found) => found?.active?.postMessage('stock up'))
}
