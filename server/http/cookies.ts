// The one cookie: the session's secret, out of reach of scripts and of other sites' requests. Its name carries the lab,
// since labs on several ports of one machine share one cookie jar; `__Host-` where the connection is known to be https.
import { SESSION_MS } from '../door/sessions.ts'

/** Name of a lab's session cookie. */
export const cookieName = (labId: string, isSecure: boolean): string =>
  `${isSecure ? '__Host-' : ''}talus-${labId.slice(-12)}`

/** The session's secret out of a Cookie header; null when there is none. */
export function readCookie(header: string | undefined, name: string): string | null {
  for (const part of header?.split(';') ?? []) {
    const at = part.indexOf('=')
    if (at > 0 && part.slice(0, at).trim() === name) return part.slice(at + 1).trim()
  }
  return null
}

/** The Set-Cookie header that keeps a secret, or forgets it (null). */
export function setCookie(name: string, token: string | null, isSecure: boolean): string {
  // The session itself ends on the server; the cookie may outlive it.
  const age = token === null ? 0 : Math.round((SESSION_MS * 5) / 1000)
  return `${name}=${token ?? ''}; Path=/; HttpOnly; SameSite=Lax; Max-Age=${age}${isSecure ? '; Secure' : ''}`
}
