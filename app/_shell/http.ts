// Calls to our own server that are not edits of the board: who I am, sign out, PIN, invitations. Every write carries
// the header that a page from elsewhere cannot set.

import { addressOf } from '../_parts/address.ts'

/** What came back, or why not. */
export type Answer<T> = { readonly ok: true; readonly body: T } | { readonly ok: false; readonly status: number }

/** Reads. */
export const get = <T>(path: string): Promise<Answer<T>> => call<T>(path, { method: 'GET' })

/** Writes. */
export const post = <T>(path: string, body: unknown): Promise<Answer<T>> =>
  call<T>(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-talus': '1' },
    body: JSON.stringify(body),
  })

async function call<T>(path: string, init: RequestInit): Promise<Answer<T>> {
  try {
    const response = await fetch(addressOf(path), { ...init, credentials: 'same-origin' })
    if (!response.ok) return { ok: false, status: response.status }
    const text = await response.text()
    // The server is our own; its answers are typed where they are asked for.
    return { ok: true, body: (text === '' ? null : JSON.parse(text)) as T }
  } catch {
    return { ok: false, status: 0 }
  }
}
