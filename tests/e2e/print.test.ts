// The records of several pieces are printed together, each on pages of its own, whole.
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

test('two pieces are chosen and each begins a page with its number', async () => {
  const { page, complaints } = await visit(lab.browser, lab.server.url, 'zosia', '/print')
  const numbers: string[] = []
  for (const word of ['skull', 'vertebra']) {
    await page.getByRole('searchbox', { name: 'Which piece' }).fill(word)
    const first = page.getByRole('list', { name: 'Found' }).getByRole('button').first()
    numbers.push((await first.locator('.inked').textContent()) ?? '')
    await first.click()
  }
  const sheets = page.getByRole('article')
  for (const [n, number] of numbers.entries()) {
    await sheets.nth(n).getByRole('heading', { level: 1 }).getByText(number, { exact: true }).waitFor()
    await sheets.nth(n).getByRole('heading', { name: 'Treatment record' }).waitFor()
  }
  await page.emulateMedia({ media: 'print' })
  expect(await sheets.nth(1).evaluate((one) => getComputedStyle(one).breakBefore)).toBe('page')
  expect(await page.getByRole('button', { name: 'Print', exact: true }).first().isVisible()).toBe(false)
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
  expect((pdf.match(/\/Type\s*\/Page\b/g) ?? []).length).toBeGreaterThanOrEqual(2)
  expect(complaints).toEqual([])
})
