// How whoever sits at this machine speaks to the running server: a file in the data folder, readable by its owner
// alone, names the server's address and a secret; with it `npm run backup` and `npm run restore` have their errands
// done inside the one process that may touch the data.
import { randomBytes, timingSafeEqual } from 'node:crypto'
import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import type { IncomingMessage } from 'node:http'
import { join } from 'node:path'
import { z } from 'zod'
import type { Answer } from './http/api.ts'
import { readJson } from './http/body.ts'

const Running = z.strictObject({ pid: z.int(), url: z.string(), secret: z.string() })
/** What the file says. */
export type Running = z.infer<typeof Running>

/** Both errands name one file. */
const ErrandBody = z.strictObject({ file: z.string().max(4000) })
/** What the console is told: done, with a line for eyes, or why not. */
export const ErrandAnswer = z.union([z.strictObject({ done: z.string() }), z.strictObject({ failed: z.string() })])
export type ErrandAnswer = z.infer<typeof ErrandAnswer>

const fileIn = (folder: string) => join(folder, 'running.json')

/** The server that runs on a folder, as far as its file says; it may have died without taking the file away. */
export function runningOn(folder: string): Running | null {
  try {
    return Running.parse(JSON.parse(readFileSync(fileIn(folder), 'utf8')))
  } catch {
    return null
  }
}

export interface Console {
  /** Leaves the file once the address is known. */
  readonly announce: (url: string) => void
  readonly withdraw: () => void
  /** Answers an errand; null when the request does not carry the secret or names none. */
  readonly errand: (request: IncomingMessage, path: string) => Promise<Answer | null>
}

/** The server's end. `errands` do the work and answer a line for eyes; a throw's message is told instead. */
export function makeConsole(
  folder: string,
  errands: Readonly<Record<string, (file: string) => Promise<string>>>,
): Console {
  const secret = randomBytes(32).toString('base64url')
  const expected = Buffer.from(`Bearer ${secret}`)
  return {
    announce(url) {
      const running: Running = { pid: process.pid, url, secret }
      rmSync(fileIn(folder), { force: true })
      writeFileSync(fileIn(folder), JSON.stringify(running), { mode: 0o600 })
    },
    withdraw: () => rmSync(fileIn(folder), { force: true }),
    async errand(request, path) {
      const given = Buffer.from(request.headers.authorization ?? '')
      if (given.length !== expected.length || !timingSafeEqual(given, expected)) return null
      const name = path.slice('/console/'.length)
      const errand = Object.hasOwn(errands, name) ? errands[name] : undefined
      if (!errand || request.method !== 'POST') return null
      const read = await readJson(request)
      const body = ErrandBody.safeParse(read.ok ? read.value : null)
      if (!body.success) return { status: 400, body: { failed: 'The request is not an errand.' } }
      try {
        return { status: 200, body: { done: await errand(body.data.file) } }
      } catch (error) {
        return { status: 409, body: { failed: error instanceof Error ? error.message : String(error) } }
      }
    },
  }
}

/** The console's end: null when no server answers there. */
export async function ask({ url, secret }: Running, errand: string, file: string): Promise<ErrandAnswer | null> {
  try {
    const response = await fetch(`${url}/console/${errand}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', authorization: `Bearer ${secret}` },
      body: JSON.stringify({ file }),
    })
    return ErrandAnswer.parse(await response.json())
  } catch {
    return null
  }
}
