// A label is chosen, seen, printed at its true size, and its code leads to the Sheet.
import jsQR from 'jsqr'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

async function readCode(png: Buffer): Promise<string> {
  const { data, info } = await sharp(png)
    .resize({ width: 600, kernel: 'nearest' })
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true })
  return jsQR(new Uint8ClampedArray(data), info.width, info.height)?.data ?? ''
}

test('a label of a piece is printed at its size, and whoever scans it stands before its Sheet', async () => {
  const { page, complaints } = await visit(lab.browser, lab.server.url, 'zosia', '/labels')
  await page.getByRole('searchbox', { name: 'Which piece' }).fill('skull')
  const first = page.getByRole('list', { name: 'Found' }).getByRole('button').first()
  const number = (await first.locator('.inked').textContent()) ?? ''
  await first.click()
  const label = page.getByRole('list', { name: 'Labels' }).getByRole('listitem')
  await label.getByText(number, { exact: true }).waitFor()
  const address = await readCode(await label.getByRole('img').screenshot())
  expect(address).toMatch(new RegExp(`^${lab.server.url}/p/[0-9a-z-]+$`))
  // 60 × 40 mm in points of 1/72 inch.
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
  const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/g)].map(([, w, h]) =>
    [w, h].map((one) => Math.round(Number(one))),
  )
  expect(boxes).toEqual([[170, 113]])
  await page.goto(address)
  await page.getByRole('heading', { level: 1 }).getByText(number, { exact: true }).waitFor()
  expect(new URL(page.url()).pathname).toMatch(/^\/sheet\//)
  expect(complaints).toEqual([])
})
