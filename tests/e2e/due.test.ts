// Will it be ready? The season's chances on Due, a date tried before it is moved, what would help, and what a researcher
// gets to see of it, in a real browser.
import type { Page } from 'playwright'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

/** A busy machine is slower than the lab's. */
const COUNT_MS = 120_000

const lab = openedLab()

/** Due with the futures counted; the first row is the one most at risk. */
async function counted(page: Page) {
  await page.getByText(/ways the next 52 weeks may go/).waitFor({ timeout: COUNT_MS })
  return page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('listitem').first()
}

test('a date is tried by buttons and arrows, and stands where it stood until it is moved', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/due')
  const other = await visit(lab.browser, lab.server.url, 'zosia', '/due')
  const row = await counted(manager.page)
  const theirs = await counted(other.page)
  const before = await theirs.getByText(/^exhibit, /).textContent()
  const slider = row.getByRole('slider', { name: /^Try another date for / })
  await row.getByRole('button', { name: /^Try another date for / }).click()
  const was = await slider.getAttribute('aria-valuetext')
  await row.getByRole('button', { name: 'A week later' }).click()
  await row.getByText('Only tried; the date stands where it stood.').waitFor()
  await slider.focus()
  await manager.page.keyboard.press('ArrowRight')
  await expect.poll(() => slider.getAttribute('aria-valuetext')).not.toBe(was)
  // Ten weeks at a press: far enough for the chance to be another one.
  await manager.page.keyboard.press('Shift+ArrowRight')
  await expect.poll(() => slider.getAttribute('aria-valuetext')).toMatch(/in 10|as good as sure/)
  expect(await theirs.getByText(/^exhibit, /).textContent()).toBe(before)
  await manager.page.keyboard.press('Escape')
  await expect.poll(() => slider.getAttribute('aria-valuetext')).toBe(was)

  await row.getByRole('button', { name: /^Try another date for / }).click()
  await row.getByRole('button', { name: 'A week later' }).click()
  await row.getByRole('button', { name: /^Move the date to / }).click()
  await expect.poll(() => theirs.getByText(/^exhibit, /).textContent(), { timeout: COUNT_MS }).not.toBe(before)
  expect([manager.complaints, other.complaints]).toEqual([[], []])
  await manager.context.close()
  await other.context.close()
})

test('what would help comes with what it gains and what it costs others', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/due')
  const row = await counted(page)
  await row.getByRole('button', { name: /^What would help / }).click()
  const helps = row.getByRole('list', { name: /best first$/ }).getByRole('listitem')
  await row.getByText(/^Tried (\d+) of \1, each in the same/).waitFor({ timeout: COUNT_MS })
  const told = await helps.allTextContents()
  expect(told.length).toBeGreaterThan(0)
  for (const one of told) expect(one).toMatch(/(becomes|stays) .*(in a hundred more)\..*(No other date changes|then)/)
  await context.close()
})

test('a researcher sees their own dates alone, asks with the chance in sight, and is told of nobody else’s', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'ulrich', '/due')
  await counted(page)
  expect(await page.getByRole('button', { name: /^What would help/ }).count()).toBe(0)
  await page.getByRole('button', { name: 'Ask for a date' }).click()
  const form = page.getByRole('dialog', { name: 'Ask for a date' })
  const piece = form.getByLabel('Piece')
  await piece.selectOption({ index: 1 })
  await form.getByLabel('Ready by').fill(`${new Date().getFullYear() + 2}-01-15`)
  await form.getByText(/ready by 15 January/).waitFor({ timeout: COUNT_MS })
  expect(await form.getByText('Other dates:').count()).toBe(0)
  await page.goto(`${lab.server.url}/season`)
  await page.getByText('The season is for those who plan it.').waitFor()
  await context.close()
})

test('the season says what runs short in figures too, and which jackets to open', async () => {
  const { page, context, complaints } = await visit(lab.browser, lab.server.url, 'thea', '/season')
  const short = page.getByRole('list', { name: 'What runs short, what dated pieces wait for most first' })
  await short.getByRole('listitem').first().waitFor({ timeout: COUNT_MS })
  const drawn = await short.getByRole('img').first().getAttribute('aria-label')
  expect(drawn).toMatch(/in a hundred of its/)
  await page.getByText('The figures as a table').click()
  const table = page.getByRole('table')
  await expect.poll(() => table.getByRole('row').count()).toBe(53)
  await expect
    .poll(() =>
      page
        .getByRole('list', { name: /^Sealed jackets of the season/ })
        .getByRole('listitem')
        .count(),
    )
    .toBeGreaterThan(3)
  expect(complaints).toEqual([])
  await context.close()
})

test('a Sheet says where its hours come from', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/due')
  const row = await counted(page)
  await row.getByRole('link').first().click()
  await page.getByText('Where these hours come from').click()
  await page.getByText(/Learned from the lab’s own steps/).waitFor()
  await page
    .getByText(/ left(; typed in as .*)?\.$/)
    .first()
    .waitFor()
  await context.close()
})
