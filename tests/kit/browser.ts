// A real Chromium for browser tests. Each person gets a window with cookies and storage of their own; in the demo lab
// they are whoever the test names.
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright'

/** Starts the browser that `npm test` found; on its own, a test takes the machine's. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.TALUS_CHROMIUM ?? '/usr/bin/chromium',
    // As root, Chromium's own sandbox cannot start.
    args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
  })
}

/** Somebody with a window. */
export interface Visitor {
  readonly context: BrowserContext
  readonly page: Page
  /** Errors and warnings the page wrote to its console, and failures of its scripts. */
  readonly complaints: readonly string[]
}

/** Opens a window as a person of the demo lab (or `wall`, or nobody: null) and goes to `path`. */
export async function visit(
  browser: Browser,
  url: string,
  personId: string | null,
  path = '/',
  options: BrowserContextOptions = {},
): Promise<Visitor> {
  const context = await browser.newContext(options)
  if (personId !== null) await pretend(context, url, personId)
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('pageerror', (error) => complaints.push(String(error)))
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  await page.goto(url + path)
  return { context, page, complaints }
}

/** Chooses whom to be in the demo lab. */
export async function pretend(context: BrowserContext, url: string, personId: string): Promise<void> {
  const answer = await context.request.post(`${url}/api/demo`, { data: { personId }, headers: { 'x-talus': '1' } })
  if (!answer.ok()) throw new Error(`The demo lab did not let ${personId} in: ${answer.status()}`)
}
