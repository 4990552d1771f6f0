// A browser and a demo lab of its own for all tests of a file, closed after the last of them.
import type { Browser } from 'playwright'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser } from './browser.ts'
import { type RunningServer, startServer, within } from './server.ts'

/** Opens both before the file's first test. `asIf` is the lab's local time then; a weekday's morning where it is left out. */
export function openedLab({ asIf }: { readonly asIf?: string } = {}): {
  readonly browser: Browser
  readonly server: RunningServer
} {
  let browser: Browser | undefined
  let server: RunningServer | undefined
  beforeAll(async () => {
    browser = await openBrowser()
    server = await startServer(asIf === undefined ? {} : { env: { TALUS_AS_IF: asIf } })
  })
  afterAll(async () => {
    await browser?.close()
    if (server) await within(server.stop())
  })
  const opened = <T>(it: T | undefined): T => {
    if (it === undefined) throw new Error('The lab is open while tests run')
    return it
  }
  return {
    get browser() {
      return opened(browser)
    },
    get server() {
      return opened(server)
    },
  }
}
