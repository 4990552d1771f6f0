// The backlog comes in from a spreadsheet, is found in the archive, and the same file takes it out again.
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

test('a spreadsheet is looked at, brought in, found and taken out again', async () => {
  const { page } = await visit(lab.browser, lab.server.url, 'thea', '/rack')
  await page.getByRole('button', { name: 'From a spreadsheet…' }).click()
  const dialog = page.getByRole('dialog', { name: 'From a spreadsheet' })
  const rows = Array.from({ length: 600 }, (_row, i) => `Z-${1000 + i};Far gully;0${1 + (i % 9)}.05.2019`)
  const text = ['Field number;Locality;Date', ...rows, ';Far gully;13.05.2019'].join('\n')
  await dialog
    .getByLabel('File')
    .setInputFiles({ name: 'backlog.csv', mimeType: 'text/csv', buffer: Buffer.from(text) })
  await dialog.getByText('Line 602, Field number: empty').waitFor()
  await dialog.getByRole('button', { name: 'Bring in 600 jackets' }).click()
  await dialog.getByText('Kept in the archive.').waitFor()
  const found = async () => {
    const answer = await page.request.get(new URL('/api/archive?limit=8&q=Z-1599', lab.server.url).href)
    return ((await answer.json()) as { readonly items: readonly unknown[] }).items.length
  }
  expect(await found()).toBe(1)
  await dialog.getByRole('button', { name: 'Take out what this file brought in' }).click()
  await dialog.getByText('Taken out again').waitFor()
  expect(await found()).toBe(0)
})
