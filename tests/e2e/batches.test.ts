// A bottle by finger at 390 px: what to weigh stands there before it is weighed, an unsuited solvent is asked about, the
// batch is numbered, found by its label's address and thinned.
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }

const lab = openedLab()

test('a batch is made up, asked about, numbered, thinned and used up', async () => {
  const { page, context, complaints } = await visit(lab.browser, lab.server.url, 'zosia', '/batches', PHONE)
  const dialog = page.getByRole('dialog')
  await page.getByRole('button', { name: 'Make up a batch…' }).tap()
  await dialog.getByLabel('What', { exact: true }).selectOption('butyral')
  await dialog.getByLabel('Dissolved in').selectOption('acetone')
  await dialog.getByText(/polyvinyl butyral does not go into acetone/).waitFor()
  await dialog.getByLabel('Dissolved in').selectOption('ethanol')
  await dialog.getByLabel('How strong').fill('10')
  await dialog.getByLabel('How much, ml').fill('500')
  await dialog.getByText('Weigh 50 g of polyvinyl butyral; make up with ethanol to 500 ml.').waitFor()
  // Half a form survives a reload.
  await page.reload()
  await page.getByRole('button', { name: 'Make up a batch…' }).tap()
  await dialog.getByLabel('Polyvinyl butyral, g').fill('52.5')
  await dialog.getByLabel('In all, ml').fill('500')
  await dialog.getByLabel('Lot', { exact: true }).fill('8000')
  await dialog.getByText(/lot of polyvinyl butyral that was tested is 7731/).waitFor()
  expect(await dialog.getByRole('button', { name: 'It is made up' }).isDisabled()).toBe(true)
  await dialog.getByLabel('Why all the same').fill('the test runs')
  await dialog.getByRole('button', { name: 'It is made up' }).tap()
  await dialog.waitFor({ state: 'hidden' })

  const list = page.getByRole('list', { name: 'Batches in use, the newest first' })
  await list.getByRole('link', { name: 'Polyvinyl butyral in ethanol' }).first().tap()
  const whole = page.getByRole('region', { name: 'Batch 37' })
  await whole.getByText('10 % w/v of finished solution; as weighed 10.5').waitFor()
  await whole.getByText(/made all the same: the test runs/).waitFor()
  // Its address is what a label leads to.
  expect(page.url()).toMatch(/\/batches\?batch=[0-9a-z-]+$/)

  await whole.getByRole('button', { name: 'Thin it…' }).tap()
  await dialog.getByLabel('How strong').fill('2.5')
  await dialog.getByLabel('Wanted in all, ml').fill('200')
  await dialog.getByText(/^Take 50 ml of it and add 150 ml or 118\.[34] g of solvent\.$/).waitFor()
  await dialog.getByLabel('Of B 37, ml').fill('50')
  await dialog.getByLabel('Why all the same').fill('the same lot')
  await dialog.getByRole('button', { name: 'It is thinned' }).tap()
  await dialog.waitFor({ state: 'hidden' })
  await list.getByText(/^2.5 % w\/v of finished solution/).waitFor()
  await whole.getByRole('button', { name: 'Used up' }).tap()
  await whole.getByText(/^Used up, 12 March 2026, Zosia/).waitFor()
  expect(await list.getByText('B 37').count()).toBe(0)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  expect(complaints).toEqual([])
  await context.close()
})
