// Hindsight: from Due, the manager sees what the forecasts were worth; a volunteer is told that it is not for them.
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

test('the manager comes from Due, reads the sentence, and finds the plot’s figures as a table', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/due')
  await page.getByRole('link', { name: 'How good the forecasts were' }).click()
  await page.getByText(/^Of \d+ finished steps, \d+ took hours within the window/).waitFor()
  const plot = page.getByRole('img', { name: /below the low end \d+ % of \d+, should be 10 %/ })
  expect(await plot.isVisible()).toBe(true)
  await page.getByText('The same as a table').click()
  const rows = page.getByRole('table').first().getByRole('row')
  expect(await rows.count()).toBe(4)
  const said = (await plot.getAttribute('aria-label')) ?? ''
  const share = /below the middle (\d+) %/.exec(said)?.[1]
  expect(await rows.nth(2).textContent()).toContain(`(${share} %)`)
  await page.getByRole('link', { name: 'Back to the dates' }).click()
  await page.getByRole('list', { name: 'Dates, most at risk first' }).waitFor()
  await context.close()
})

test('a volunteer is told for whom it is, and gets no figures', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'amara', '/due/hindsight')
  await page.getByText('This page is for the manager and the preparators.').waitFor()
  expect(await page.getByRole('table').count()).toBe(0)
  await context.close()
})
