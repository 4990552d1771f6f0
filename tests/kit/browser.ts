// A real Chromium for browser tests. Each person gets a window with cookies and storage of their own; in the demo lab
// they are whoever the test names.
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright'

/** How long a page may take for what is asked of it: a bound for a slow machine, not a measure. */
const PATIENCE_MS = 60_000

/** Starts the browser that `npm test` found; on its own, a test takes Debian's. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.TALUS_CHROMIUM ?? '/usr/bin/chromium-headless-shell',
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

/** A page that is closed while it opens a socket says so, and one that waits has styles it fetched ahead unused. */
const isOfTheTest = (line: string): boolean =>
  line.includes('WebSocket is closed before the connection') || line.includes('was preloaded using link preload')

/** Whatever `visit` opened in this file. */
const opened = new Set<Page>()

/** What stands on each page that is open still: address and words, for a test that failed. */
export async function saidOnScreens(): Promise<string[]> {
  const open = [...opened].filter((page) => !page.isClosed())
  return Promise.all(
    open.map(async (page) => {
      const words = await page.locator('body').innerText({ timeout: 5000 }).catch(String)
      return `${page.url()}: ${words.replace(/\s+/g, ' ').slice(0, 1500)}`
    }),
  )
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
  context.setDefaultTimeout(PATIENCE_MS)
  if (personId !== null) await pretend(context, url, personId)
  const page = await context.newPage()
  opened.add(page)
  const complaints: string[] = []
  page.on('pageerror', (error) => complaints.push(String(error)))
  page.on('console', (message) => {
    const isComplaint = message.type() === 'error' || message.type() === 'warning'
    if (isComplaint && !isOfTheTest(message.text())) complaints.push(message.text())
  })
  await page.goto(url + path)
  return { context, page, complaints }
}

/** Opens the page again with what the server tells it held back between `hold` and `release`: a slow network, for a race that must happen. */
export async function onSlowNetwork(page: Page): Promise<{ readonly hold: () => void; readonly release: () => void }> {
  let waiting: (() => void)[] | null = null
  await page.routeWebSocket(/.*/, (socket) => {
    const server = socket.connectToServer()
    server.onMessage((message) => {
      if (waiting) waiting.push(() => socket.send(message))
      else socket.send(message)
    })
  })
  await page.reload()
  return {
    hold: () => {
      waiting ??= []
    },
    release: () => {
      const late = waiting ?? []
      waiting = null
      for (const send of late) send()
    },
  }
}

/** Chooses whom to be in the demo lab. */
export async function pretend(context: BrowserContext, url: string, personId: string): Promise<void> {
  const answer = await context.request.post(`${url}/api/demo`, { data: { personId }, headers: { 'x-talus': '1' } })
  if (!answer.ok()) throw new Error(`The demo lab did not let ${personId} in: ${answer.status()}`)
}
