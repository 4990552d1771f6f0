// The worker as text: it runs in a world of its own, outside of the bundle, so it is plain JavaScript with no imports.

import { addressOf, HOME } from '../_parts/address.ts'

/** Screens fetched when the worker is installed, so that each opens offline although it was never visited. */
const SCREENS = ['/', '/rack', '/due', '/crew', '/mine', '/wall']
/** Pages kept beyond those; the longest unused goes first. */
const PAGES_MAX = 60
/** A network that does not answer is as good as none. */
const WAIT_MS = 4000

/** The script for one build. */
export function worker(build: string): string {
  return `'use strict'
const BUILD = ${JSON.stringify(build)}
const FILES = 'talus-files-' + BUILD
const PAGES = 'talus-pages-' + BUILD
const HOME = ${JSON.stringify(HOME)}
const STATIC = ${JSON.stringify(addressOf('/_next/static/'))}
const SCREENS = ${JSON.stringify(SCREENS.map((path) => (path === '/' ? HOME : addressOf(path))))}
const PAGES_MAX = ${PAGES_MAX}
const WAIT_MS = ${WAIT_MS}

self.addEventListener('install', (event) => {
  event.waitUntil(self.skipWaiting().then(stockUp))
})

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('talus-') && name !== FILES && name !== PAGES) await caches.delete(name)
    }
    await self.clients.claim()
  })())
})

self.addEventListener('message', (event) => {
  if (event.data === 'forget') event.waitUntil(caches.delete(PAGES))
  if (event.data === 'stock up') event.waitUntil(stockUp())
  // Files that the page loaded before this worker was there.
  if (Array.isArray(event.data)) event.waitUntil(fetchFiles(event.data))
})

self.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== self.location.origin) return
  if (url.pathname.startsWith(STATIC)) event.respondWith(file(request))
  else if (request.mode === 'navigate') event.respondWith(page(request, url, event))
})

/** Files named by their content never change. */
async function file(request) {
  const cache = await caches.open(FILES)
  const kept = await cache.match(request)
  if (kept) return kept
  const response = await fetch(request)
  if (response.ok) await cache.put(request, response.clone())
  return response
}

/** A page: fresh if anybody answers in time, else as it was last. */
async function page(request, url, event) {
  const late = new AbortController()
  const timer = setTimeout(() => late.abort(), WAIT_MS)
  try {
    const response = await fetch(request, { signal: late.signal })
    if (isKeepable(response)) event.waitUntil(keep(url.pathname, response.clone()))
    return response
  } catch (error) {
    const cache = await caches.open(PAGES)
    const kept = await cache.match(url.pathname)
    if (kept) return kept
    // Never seen here: the Floor is home.
    if (url.pathname !== HOME && await cache.match(HOME)) return Response.redirect(HOME, 302)
    throw error
  } finally {
    clearTimeout(timer)
  }
}

/** A redirect or an error page is no page of ours to show later. */
function isKeepable(response) {
  return response.ok && !response.redirected && (response.headers.get('content-type') || '').startsWith('text/html')
}

async function keep(path, response) {
  const cache = await caches.open(PAGES)
  await cache.delete(path)
  await cache.put(path, response)
  const keys = await cache.keys()
  for (const old of keys.slice(0, Math.max(0, keys.length - PAGES_MAX - SCREENS.length))) await cache.delete(old)
}

async function fetchFiles(paths) {
  const ours = paths.filter((path) => typeof path === 'string' && path.startsWith(STATIC))
  await Promise.allSettled(ours.map((path) => file(new Request(path))))
}

/** Fetches the screens that are not here yet, and the files they name. */
async function stockUp() {
  const cache = await caches.open(PAGES)
  for (const path of SCREENS) {
    try {
      if (await cache.match(path)) continue
      const response = await fetch(path, { headers: { accept: 'text/html' } })
      if (!isKeepable(response)) continue
      const text = await response.clone().text()
      await keep(path, response)
      await fetchFiles([...new Set(text.match(/(?:\\/[a-z0-9-]+)*\\/_next\\/static\\/[\\w./~%-]+\\.(?:js|css|woff2)/g) || [])])
    } catch {
      // Offline already: what is there will do.
    }
  }
}
`
}
