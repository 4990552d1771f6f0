// axe on every screen, as whoever it is made for, in both themes, on a phone and on a desk: it must find nothing.
import type { Browser } from 'playwright'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { violations } from '../kit/axe.ts'
import { openBrowser, visit } from '../kit/browser.ts'
import { type RunningServer, startServer, within } from '../kit/server.ts'

/** Screens, and what must be on them before they are looked at. */
const screens: readonly {
  readonly name: string
  readonly as: string
  readonly path: string
  readonly sees: string
  readonly isHoused?: boolean
}[] = [
  { name: 'Floor', as: 'thea', path: '/', sees: 'text=/^Draw up$/' },
  { name: 'Floor of a volunteer', as: 'amara', path: '/', sees: 'role=main' },
  { name: 'Rack', as: 'amara', path: '/rack', sees: 'role=list[name="Waiting"]' },
  { name: 'Due', as: 'thea', path: '/due', sees: 'role=list[name="Dates, most at risk first"]' },
  { name: 'Hindsight', as: 'thea', path: '/due/hindsight', sees: 'text=Where the ends fell' },
  { name: 'Crew', as: 'thea', path: '/crew', sees: 'role=heading[level=1]' },
  { name: 'Sheet', as: 'thea', path: '/sheet/SPECIMEN', sees: 'role=heading[level=1]' },
  { name: 'Sheet of a researcher', as: 'ulrich', path: '/sheet/SPECIMEN', sees: 'role=heading[level=1]' },
  { name: 'My shift', as: 'amara', path: '/mine', sees: 'text=morning' },
  { name: 'Wall', as: 'wall', path: '/wall', sees: 'role=complementary', isHoused: false },
  { name: 'Batches', as: 'thea', path: '/batches', sees: 'role=list[name="Materials of the lab"]' },
  { name: 'Room', as: 'thea', path: '/room', sees: 'role=heading[level=1]' },
  { name: 'Settings', as: 'thea', path: '/settings', sees: 'role=heading[level=1]' },
  { name: 'Door', as: '', path: '/', sees: 'text=Choose', isHoused: false },
]
const sizes = { phone: { width: 390, height: 844 }, desk: { width: 1280, height: 800 } } as const

let browser: Browser
let server: RunningServer
let specimen: string

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer()
  const { page, context } = await visit(browser, server.url, 'thea', '/due')
  const link = page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('link').first()
  specimen = ((await link.getAttribute('href')) ?? '').replace('/sheet/', '')
  await context.close()
})
afterAll(async () => {
  await browser?.close()
  await within(server.stop())
})

for (const { name, as, path, sees, isHoused = true } of screens) {
  test(`axe finds nothing on ${name}, in both themes, on a phone and on a desk`, async () => {
    const found: string[] = []
    const { page, context, complaints } = await visit(
      browser,
      server.url,
      as || null,
      path.replace('SPECIMEN', specimen),
      {
        viewport: sizes.phone,
        colorScheme: 'light',
        reducedMotion: 'reduce',
      },
    )
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport)
      await page.emulateMedia({ colorScheme: 'light' })
      await page.locator(sees).first().waitFor()
      // Past the opening, where the house stands around the screen.
      if (isHoused) await page.getByRole('navigation').first().waitFor()
      await page.locator('h1').first().waitFor({ state: 'attached' })
      for (const problem of await violations(page)) found.push(`${size} light: ${problem}`)
      // A theme changes colours and nothing else.
      await page.emulateMedia({ colorScheme: 'dark' })
      for (const problem of await violations(page, ['color-contrast'])) found.push(`${size} dark: ${problem}`)
    }
    expect(complaints, `console of ${name}`).toEqual([])
    expect(found).toEqual([])
    await context.close()
  })
}
