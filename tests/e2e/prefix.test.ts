// The lab below a path that a proxy keeps for it, as where one host name serves many programs: pages, calls, sockets,
// files, links and the copy for offline all stay below it. The pages are built for the path when it starts.
import { expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { startServer, within } from '../kit/server.ts'

const PREFIX = '/talus'
const desk = { viewport: { width: 1440, height: 900 } }

test('below a path everything is asked for below it, and works, offline too', async () => {
  const server = await startServer({ env: { TALUS_PREFIX: PREFIX } })
  const browser = await openBrowser()
  expect(new URL(server.url).pathname).toBe(PREFIX)
  const { page, context, complaints } = await visit(browser, server.url, 'thea', '', desk)
  const asked: string[] = []
  page.on('request', (request) => asked.push(new URL(request.url()).pathname))
  page.on('websocket', (socket) => asked.push(new URL(socket.url()).pathname))

  // The Floor, its choice of a place in the address, and what is done by one seen by another.
  await page.reload()
  await page.getByRole('button', { name: /^M1, / }).first().click()
  await expect.poll(() => new URL(page.url()).pathname + new URL(page.url()).search).toBe(`${PREFIX}?place=m1`)
  const other = await visit(browser, server.url, 'emeka', '/crew', desk)
  await page.getByRole('link', { name: 'Crew', exact: true }).click()
  const tick = page
    .getByRole('table')
    .getByRole('button', { name: / is in$/ })
    .first()
  const name = (await tick.getAttribute('aria-label')) ?? ''
  const there = other.page.getByRole('table').getByRole('button', { name, exact: true })
  const before = await there.getAttribute('aria-pressed')
  await tick.click()
  await expect.poll(() => there.getAttribute('aria-pressed')).not.toBe(before)

  // A link to hand on, a file, a photograph's address, a page that leads on.
  const told = await page.evaluate(async (prefix) => {
    const headers = { 'content-type': 'application/json', 'x-talus': '1' }
    const body = JSON.stringify({ personId: 'dov' })
    return (await fetch(`${prefix}/api/invite`, { method: 'POST', headers, body })).json()
  }, PREFIX)
  expect(told.link).toMatch(new RegExp(`^${server.url}/join#`))
  await page.goto(`${server.url}/out`)
  const address = await page
    .getByRole('link', { name: /^Take out: / })
    .first()
    .getAttribute('href')
  expect(address).toMatch(new RegExp(`^${PREFIX}/api/out/`))
  expect((await context.request.get(new URL(address ?? '', server.url).href)).status()).toBe(200)

  // Nothing was asked for beside it, and beside it there is nothing but what a machine asks of the process.
  expect(asked.length).toBeGreaterThan(10)
  expect(asked.filter((path) => path !== PREFIX && !path.startsWith(`${PREFIX}/`))).toEqual([])
  const { origin } = new URL(server.url)
  const statuses = ['/', '/talusx', '/api/me', '/_next/static/x.js', '/health'].map(
    async (path) => (await fetch(origin + path)).status,
  )
  expect(await Promise.all(statuses)).toEqual([404, 404, 404, 404, 200])

  // The copy for a day without a network is of the same addresses.
  await page.goto(server.url)
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null)
  await expect
    .poll(() => page.evaluate(async (path) => (await caches.match(path)) !== undefined, `${PREFIX}/rack`))
    .toBe(true)
  expect(complaints).toEqual([])
  await context.setOffline(true)
  await page.goto(`${server.url}/rack`)
  await page.getByRole('heading', { level: 1, name: 'Rack' }).waitFor()
  await browser.close()
  expect((await within(server.stop())).code).toBe(0)
})
