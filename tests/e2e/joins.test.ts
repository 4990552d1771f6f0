// The joining tray in a real browser, by finger at 390 px: nine fragments laid out, measured, tried and joined, partly
// without a network, and read on another screen.
import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { startServer } from '../kit/server.ts'

let browser: Browser
let url: string
let sheet: string
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }

beforeAll(async () => {
  browser = await openBrowser()
  url = (await startServer()).url
  const { page, context } = await visit(browser, url, 'thea', '/due')
  const links = page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('link')
  sheet = (await links.first().getAttribute('href')) ?? ''
  await context.close()
})

afterAll(async () => {
  await browser?.close()
})

const cell = (page: Page, number: number) => page.getByRole('button', { name: new RegExp(`^Fragment ${number},`) })

/** Gives a fragment one break edge with a length and thickness. */
async function measure(page: Page, number: number, lengthMm: number, thicknessMm: number): Promise<void> {
  await cell(page, number).tap()
  await page.getByRole('button', { name: `Measure ${number}…` }).tap()
  const form = page.getByRole('dialog', { name: `Fragment ${number}` })
  await form.getByRole('button', { name: 'A break edge' }).tap()
  await form.getByLabel('Length, mm').fill(String(lengthMm))
  await form.getByLabel('Thickness there, mm').fill(String(thicknessMm))
  await form.getByRole('button', { name: 'Keep it' }).tap()
  await cell(page, number).tap()
}

test('nine fragments and two joins, by finger at 390 px and partly offline', async () => {
  const { page, context, complaints } = await visit(browser, url, 'zosia', sheet, phone)
  // Where nothing is joined it is one line of a phone, which says what lies there.
  await page.getByRole('button', { name: 'Fragments and joins none laid out', expanded: false }).tap()
  await page.getByRole('button', { name: 'Lay out several…' }).tap()
  await page.getByRole('button', { name: 'Lay them out' }).tap()
  await cell(page, 9).waitFor()
  await measure(page, 2, 31, 7.9)
  await measure(page, 5, 12, 4.1)
  await measure(page, 7, 31, 7.9)
  await measure(page, 8, 12, 4.2)
  // The two alike are proposed, with what speaks for them.
  await page.getByText(/^Try next: (2 and 7|5 and 8)$/).waitFor()
  await page.getByText(/because they are .* mm thick/).waitFor()

  await context.setOffline(true)
  await page.getByRole('button', { name: /^They fit: / }).tap()
  await page.getByText(/^Try next: (2 and 7|5 and 8)$/).waitFor()
  await page.getByRole('button', { name: /^They fit: / }).tap()
  await cell(page, 1).tap()
  await cell(page, 3).tap()
  await page.getByRole('button', { name: 'No fit: 1 and 3' }).tap()
  await context.setOffline(false)

  const assemblies = page.getByRole('list', { name: 'Assemblies' })
  await assemblies.getByText('2 + 7', { exact: true }).waitFor()
  await assemblies.getByText('5 + 8', { exact: true }).waitFor()
  await assemblies.getByRole('button', { name: 'Hold dry' }).first().tap()
  await assemblies.getByText(/held dry/).waitFor()
  await assemblies.getByRole('button', { name: 'Glue 2 and 7' }).tap()
  const glue = page.getByRole('dialog', { name: 'Glue 2 and 7' })
  await glue.getByLabel('Adhesive').fill('B-72 40 % in acetone')
  await glue.getByRole('button', { name: 'Glued', exact: true }).tap()
  await assemblies.getByText(/glued with B-72 40 % in acetone/).waitFor()

  await page.getByRole('button', { name: 'Fragments and joins 9 fragments, 2 joins', expanded: true }).waitFor()

  const reader = await visit(browser, url, 'thea', sheet)
  await reader.page.getByText(/Tried 3 of 36 pairs/).waitFor()
  await reader.page.getByText('All pairs').click()
  const row = reader.page
    .getByRole('row')
    .filter({ has: reader.page.getByRole('rowheader', { name: '3', exact: true }) })
  expect(await row.getByText('no fit').count()).toBe(1)
  // Nothing is wider than the phone.
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  expect(complaints.filter((one) => !one.includes('ERR_INTERNET_DISCONNECTED'))).toEqual([])
})

test('by keyboard alone: two chosen, not sure, and said to readers', async () => {
  const { page } = await visit(browser, url, 'zosia', sheet)
  await cell(page, 4).focus()
  await page.keyboard.press('Space')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  const unsure = page.getByRole('button', { name: 'Not sure: 4 and 6' })
  await unsure.focus()
  await page.keyboard.press('Enter')
  await page.getByRole('status').getByText('4 and 6: not sure.').waitFor({ state: 'attached' })
})
