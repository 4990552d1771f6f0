// The records of several pieces are printed together, each on pages of its own, whole.
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
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
  // The same pieces as a file of the server's, for somebody who only reads.
  const address = await page.getByRole('link', { name: 'Take out as PDF' }).getAttribute('href')
  const reader = await visit(lab.browser, lab.server.url, 'ulrich', '/print')
  const answer = await reader.context.request.get(lab.server.url + address)
  expect([answer.status(), answer.headers()['content-type']]).toEqual([200, 'application/pdf'])
  const { numPages, getPage } = await readPdf(await answer.body())
  expect(numPages).toBeGreaterThanOrEqual(2)
  expect(await getPage(1)).toContain(numbers[0])
  await reader.context.close()
  await page.emulateMedia({ media: 'print' })
  expect(await sheets.nth(1).evaluate((one) => getComputedStyle(one).breakBefore)).toBe('page')
  expect(await page.getByRole('button', { name: 'Print', exact: true }).first().isVisible()).toBe(false)
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
  expect((pdf.match(/\/Type\s*\/Page\b/g) ?? []).length).toBeGreaterThanOrEqual(2)
  expect(complaints).toEqual([])
})

async function readPdf(bytes: Buffer) {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  const getPage = async (n: number) => {
    const { items } = await (await pdf.getPage(n)).getTextContent()
    return items.map((item) => ('str' in item ? item.str : '')).join(' ')
  }
  return { numPages: pdf.numPages, getPage }
}
