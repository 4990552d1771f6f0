// A call as a span: how it was asked, the name of what it was for, how it was answered. A path can hold a secret, a piece
// or what somebody typed, so that none is told: its name is one of a list.
import type { IncomingMessage, ServerResponse } from 'node:http'
import { noTraces, type Span, type Traces } from '../traces.ts'
import { calendarTokenOf, calls } from './api.ts'
import { outPathOf } from './out.ts'
import { photoPathOf } from './photos.ts'

/** Pages and what else of `app` has an address of its own, as their folders are called. */
const pages = new Set([
  ...['/', '/batches', '/crew', '/due', '/due/hindsight', '/join', '/labels', '/mine', '/out', '/p/[id]', '/print'],
  ...['/rack', '/room', '/safety', '/season', '/settings', '/setup', '/sheet/[id]', '/sw.js', '/wall'],
])
const own = new Set(['/health', '/ready', ...calls.map((call) => call.slice(call.indexOf('/')))])

/** The name of what a path asks for. */
export function routeOf(path: string): string {
  if (own.has(path) || pages.has(path)) return path
  if (path.startsWith('/_next/')) return '/_next/[file]'
  if (path.startsWith('/console/')) return '/console/[errand]'
  const photo = photoPathOf(path)
  if (photo) return `/api/${photo.what}/[hash]`
  if (calendarTokenOf(path)) return '/api/calendar/[secret]'
  if (outPathOf(path)) return '/api/out/[file]'
  const page = path.replace(/^(\/[^/]+)\/[^/]+$/, '$1/[id]')
  return pages.has(page) ? page : 'other'
}

/** Begins the span of a call; it ends with the answer. */
export function spanOf(traces: Traces, request: IncomingMessage, response: ServerResponse): Span {
  if (traces === noTraces) return noTraces
  const method = request.method ?? 'GET'
  const [path = ''] = (request.url ?? '').split('?')
  const { traceparent } = request.headers
  const route = routeOf(path)
  const facts = { 'http.request.method': method, 'http.route': route }
  const spans = traces.askedBy(typeof traceparent === 'string' ? traceparent : undefined)
  const span = spans.begin(`${method} ${route}`, facts)
  // Also when whoever asked is gone before there was an answer.
  response.once('close', () => {
    if (response.headersSent) span.note({ 'http.response.status_code': response.statusCode })
    span.end(response.statusCode >= 500)
  })
  return span
}
