// Answers said in words, where somebody sees them in a browser in place of a page.
import type { ServerResponse } from 'node:http'
import { barePolicy } from './headers.ts'

const AGAIN_S = 5

function inWords(response: ServerResponse, status: number, words: string, retryS: number | null = null): void {
  response.setHeader('content-security-policy', barePolicy)
  response.writeHead(status, {
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
    ...(retryS !== null && { 'retry-after': String(retryS) }),
  })
  response.end(`${words}\n`)
}

/** Pages come no faster than this. */
export function slowDown(response: ServerResponse, waitMs: number): void {
  const seconds = Math.ceil(waitMs / 1000)
  const words = `Too many pages were asked for from here. The next one can be had in ${seconds} s; nothing was changed.`
  inWords(response, 429, words, seconds)
}

/** The lab is being restored, is not to be opened, or too many others are open. */
export const notNow = (response: ServerResponse): void =>
  inWords(
    response,
    503,
    'This lab is not open just now. What was kept is safe, and what waits in your browser stays there. Try again in a moment; if it goes on, tell whoever runs Talus.',
    AGAIN_S,
  )

/** For whoever set up a name for the lab. */
export const misdirected = (response: ServerResponse): void =>
  inWords(response, 421, 'This lab does not go by that name. Whoever runs it can add it: npm start -- --hosts NAME')

/** Many labs are here, and none of that name. */
export const unknownLab = (response: ServerResponse): void =>
  inWords(
    response,
    404,
    'There is no lab at this address. Look at the link that you were given: it begins with the name of a lab, or goes on behind the name of this machine.',
  )
