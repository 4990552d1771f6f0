// Drawing up the week: the open days together, stepped through, one opened over its plan, one posted, then all others;
// a posted day stays as it is. By keyboard alone.
import type { Page } from 'playwright'
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { addDays } from '#lib/base'
import { visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const TODAY = '2026-03-12'
/** The machine may be busy. */
const SOON = { timeout: 60_000 }
/** A week takes many days' time, and the machine may be busy. */
const LATER = { timeout: 90_000 }

const lab = openedLab({ asIf: `${TODAY}T08:30` })

async function press(page: Page, name: string | RegExp, nth = 0): Promise<void> {
  await page.getByRole('button', { name }).nth(nth).focus(SOON)
  await page.keyboard.press('Enter')
}

test('the week is drawn up, stepped through and posted by keyboard alone; a posted day stays', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const { page, context, complaints } = await visit(lab.browser, lab.server.url, 'thea', '/', {
    viewport: { width: 1280, height: 900 },
  })
  await press(page, 'Draw up the week')
  await shown(page.getByRole('heading', { name: 'The week', level: 1 })).toBeVisible(SOON)
  await shown(page.getByRole('status').filter({ hasText: /^Drawn up, not posted$/ })).toBeVisible(LATER)
  await shown(page.getByText('Closed', { exact: true })).toHaveCount(1)
  const openDays = page.getByRole('button', { name: /^Post \w+day / })
  expect(await openDays.count()).toBe(6)
  await page.getByText('Who sits where').first().click(SOON)
  await shown(
    page
      .getByRole('listitem')
      .filter({ hasText: / at [A-Z]\d, on / })
      .first(),
  ).toBeVisible(SOON)

  // One day over its plan, with reasons; put away, one is back in the week.
  await press(page, /^Open /, 1)
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(LATER)
  await shown(page.getByRole('heading', { name: /seats? drawn up$/ })).toBeVisible(SOON)
  await press(page, 'Put it away')
  await shown(page.getByRole('heading', { name: 'The week', level: 1 })).toBeVisible(SOON)

  // The first day is posted; drawn again, it stays as it is and counts.
  await press(page, /^Post \w+day /)
  await within(board.until((records) => records.day.has(TODAY)))
  await shown(openDays).toHaveCount(5, SOON)
  const first = () => [...board.records().assignment.values()].filter(({ date }) => date === TODAY)
  const before = first()
  expect(before.length).toBeGreaterThan(10)
  await press(page, 'Draw again')
  await shown(page.getByRole('status').filter({ hasText: /^Drawn up, not posted$/ })).toBeVisible(LATER)
  await shown(page.getByText(/Stays as it is\.$/)).toBeVisible(SOON)
  await press(page, /^Post all five open days$/)
  await within(board.until((records) => [1, 2, 4, 5, 6].every((n) => records.day.has(addDays(TODAY, n)))))
  await shown(openDays).toHaveCount(0, SOON)
  expect(first()).toEqual(before)
  expect(complaints).toEqual([])
  board.close()
  await context.close()
})
