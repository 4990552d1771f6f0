// The path below which a proxy shows the lab. It is taken off as a request comes in, so that nothing behind needs to know
// of it, and put back for what does: Next, whose pages are built for it, and another process that is asked instead.
import type { IncomingMessage } from 'node:http'

/** Takes the prefix off; false for what was asked for outside of it, which stays as it is. */
export function takeOff(request: IncomingMessage, prefix: string): boolean {
  const url = request.url ?? ''
  if (prefix === '') return true
  if (!url.startsWith(prefix) || !/^($|[/?])/.test(url.slice(prefix.length))) return false
  const rest = url.slice(prefix.length)
  request.url = rest.startsWith('/') ? rest : `/${rest}`
  return true
}

/** The path as it was asked for; Next knows its first page without a stroke at the end. */
export function putBack(url: string, prefix: string): string {
  return prefix !== '' && /^\/($|\?)/.test(url) ? prefix + url.slice(1) : prefix + url
}
