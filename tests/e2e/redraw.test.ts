// Looking ahead before letting go, by hand and by keyboard; and a shift in which something happens: somebody is missing,
// a place breaks. The day is drawn again with few changes, posted with one press, and whoever has another place now is
// told on the phone.
import type { Browser, Page } from 'playwright'
import { expect as shown } from 'playwright/test'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'

import { freshFolder, type RunningServer, startServer, within } from '../kit/server.ts'

const TODAY = '2026-03-12'
const SOON = { timeout: 20_000 }
const desk = { viewport: { width: 1440, height: 900 } }

let browser: Browser
let server: RunningServer

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer({
    data: freshFolder(),
    env: { TALUS_AS_IF: `${TODAY}T09:25`, TALUS_ZONE: 'Europe/Lisbon' },
  })
})
afterAll(async () => {
  await browser?.close()
  await within(server.stop())
})

/** Takes a stool by the hand and holds it over the middle of another place, without letting go. */
async function holdOver(page: Page, from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 3 })
  await page.mouse.move(to.x, to.y, { steps: 3 })
}

const middleOf = async (page: Page, name: RegExp): Promise<{ x: number; y: number }> => {
  const box = await page.getByRole('button', { name }).first().boundingBox()
  if (!box) throw new Error(`${name} is not on the plan`)
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

test('before letting go one sees what would follow, by hand and by keyboard', async () => {
  const { page, context, complaints } = await visit(browser, server.url, 'thea', '/', desk)
  await page.getByRole('button', { name: 'Draw up' }).click(SOON)
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  const slip = page.locator('[data-ahead]')
  const hands = page.locator('svg[aria-hidden] circle.cursor-grab')
  const grip = await hands.last().boundingBox()
  if (!grip) throw new Error('nobody can be taken by the hand')
  // Over the room place by place: each is answered, one way or the other.
  const seen = new Set<string>()
  for (const code of ['H1', 'J1', 'M1', 'M3']) {
    await holdOver(
      page,
      { x: grip.x + grip.width / 2, y: grip.y + grip.height / 2 },
      await middleOf(page, new RegExp(`^${code}\\b`)),
    )
    if ((await slip.count()) > 0) {
      await shown(slip).toHaveAttribute('data-ahead', /yes|no/, SOON)
      seen.add((await slip.getAttribute('data-ahead')) ?? '')
      expect(await slip.textContent()).toMatch(/(for the day|cannot be)/)
    }
    // Laid down on nothing: all is as it was.
    await page.mouse.move(5, 5)
    await page.mouse.up()
    await shown(slip).toHaveCount(0)
  }
  expect(seen.size).toBeGreaterThan(0)
  await shown(page.getByText('Wish noted')).toHaveCount(0)

  // The same from the list, by keyboard alone: the row with the focus says what choosing it would bring.
  const first = page.getByRole('button', { name: /^Change 1 / })
  await first.focus()
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Move…' }).first().focus()
  await page.keyboard.press('Enter')
  const dialog = page.getByRole('dialog')
  await dialog.locator('button.choice:enabled').first().focus(SOON)
  await shown(dialog.getByRole('status')).toContainText(/(for the day|cannot be)/, SOON)
  await page.keyboard.press('Escape')
  expect(complaints).toEqual([])
  await context.close()
}, 120_000)
