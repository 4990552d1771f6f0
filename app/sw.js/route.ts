// The service worker's own script: a tablet that is offline when opened shows the app (and, from its own copy, the last
// board). Made once at build time; each build has its id, and a new worker drops the caches of older builds. Pages are
// fetched fresh whenever somebody answers and read from the cache only when nobody does; they are dropped at sign-out,
// since they know who was here. What the server computes (/api, /sync) never goes through here.
import { HOME } from '../_parts/address.ts'
import { worker } from './worker.ts'

export const dynamic = 'force-static'

// Evaluated while building: every build gets caches of its own.
const build = Date.now().toString(36)

export function GET(): Response {
  return new Response(worker(build), {
    headers: {
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'no-cache',
      'service-worker-allowed': HOME,
    },
  })
}
