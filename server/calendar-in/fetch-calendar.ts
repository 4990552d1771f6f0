// Fetches somebody's calendar from an https address of theirs and hands its text back; nothing of it is kept or logged. A
// name is looked up once, and the connection goes to the very address that was found to be public, so that a name cannot
// point elsewhere a moment later. Redirects are gone through by the same door.
import { lookup as lookUp } from 'node:dns'
import type { RequestOptions } from 'node:https'
import { request } from 'node:https'
import { isIP, type LookupFunction } from 'node:net'
import type { CalendarRefused } from '#lib/words'
import { isPublicAddress } from './addresses.ts'

/** Longest calendar, bytes: years of a busy person's. */
const BYTES_MAX = 4 * 1024 * 1024
/** For all of it, redirects included. */
const WAIT_MS = 10_000
const REDIRECTS_MAX = 3

export type FetchedCalendar = { readonly text: string } | { readonly refused: CalendarRefused }

/** What goes out to the network; a test hands in its own. */
export interface Outside {
  readonly lookUp: typeof lookUp
  readonly request: typeof request
}

/** The calendar behind an address, or why there is none. */
export async function fetchCalendar(
  address: string,
  outside: Outside = { lookUp, request },
  waitMs = WAIT_MS,
): Promise<FetchedCalendar> {
  const signal = AbortSignal.timeout(waitMs)
  let next = urlOf(address)
  for (let redirects = 0; redirects <= REDIRECTS_MAX; redirects++) {
    if (!next) return { refused: 'not-https' }
    const got = await getOnce(next, outside, signal)
    if (!('location' in got)) return got
    next = urlOf(got.location, next)
  }
  return { refused: 'no-answer' }
}

/** An https address without a name and password in it; `webcal:` means https. */
function urlOf(address: string, base?: URL): URL | null {
  try {
    const url = new URL(address.trim().replace(/^webcals?:/i, 'https:'), base)
    const isPlain = url.protocol === 'https:' && url.username === '' && url.password === '' && url.port === ''
    return isPlain ? url : null
  } catch {
    return null
  }
}

function getOnce(
  url: URL,
  outside: Outside,
  signal: AbortSignal,
): Promise<FetchedCalendar | { readonly location: string }> {
  return new Promise((done) => {
    const host = url.hostname.replace(/^\[|\]$/g, '')
    // A number is never looked up, so the guard at the look-up would not see it.
    if (isIP(host) !== 0 && !isPublicAddress(host)) return done({ refused: 'not-public' })
    let isPrivate = false
    const guarded: LookupFunction = (name, options, found) =>
      outside.lookUp(name, { ...options, all: true }, (error, addresses) => {
        if (error) return found(error, [])
        isPrivate = addresses.length === 0 || !addresses.every((one) => isPublicAddress(one.address))
        if (isPrivate) return found(new Error('Not a public address'), [])
        const [first] = addresses
        if (options.all || !first) found(null, addresses)
        else found(null, first.address, first.family)
      })
    const options: RequestOptions = {
      lookup: guarded,
      signal,
      // A connection of its own: none that is open already, and none that is left open.
      agent: false,
      headers: { accept: 'text/calendar', 'accept-encoding': 'identity' },
    }
    const failed = () => done({ refused: isPrivate ? 'not-public' : 'no-answer' })
    const asked = outside.request(url, options, (response) => {
      const { statusCode = 0, headers } = response
      if (statusCode >= 300 && statusCode < 400 && headers.location) {
        response.destroy()
        return done({ location: headers.location })
      }
      if (statusCode !== 200) {
        response.destroy()
        return done({ refused: 'no-answer' })
      }
      const parts: Buffer[] = []
      let size = 0
      response.on('data', (part: Buffer) => {
        parts.push(part)
        size += part.length
        if (size <= BYTES_MAX) return
        response.destroy()
        done({ refused: 'too-much' })
      })
      response.on('error', failed)
      response.on('end', () => {
        const text = Buffer.concat(parts).toString('utf8')
        // Whatever else lies behind an address is not handed on.
        done(/^\uFEFF?\s*BEGIN:VCALENDAR/i.test(text) ? { text } : { refused: 'not-a-calendar' })
      })
    })
    asked.on('error', failed)
    asked.end()
  })
}
