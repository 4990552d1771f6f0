// Makes the README's picture: the demo lab as a manager finds it on a posted morning, in a real browser.
// Run: npm run picture
import { join } from 'node:path'
import { openBrowser, visit } from './kit/browser.ts'
import { root, startServer } from './kit/server.ts'

/** Starts the demo at a fixed moment, posts its morning and photographs the Floor. */
export async function run(): Promise<void> {
  const server = await startServer({ env: { TALUS_AS_IF: '2026-03-12T09:40', TALUS_ZONE: 'Europe/Lisbon' } })
  const browser = await openBrowser()
  const { page } = await visit(browser, server.url, 'thea', '/', {
    viewport: { width: 1440, height: 900 },
    deviceScaleFactor: 1.5,
    reducedMotion: 'reduce',
  })
  await page.getByRole('button', { name: 'Draw up', exact: true }).click()
  await page.getByText('Drawn up, not posted').first().waitFor()
  await page.getByRole('button', { name: 'Post', exact: true }).click()
  await page
    .getByText(/^Posted/)
    .first()
    .waitFor()
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: join(root, 'demo/floor.png') })
  await browser.close()
  await server.stop()
}
