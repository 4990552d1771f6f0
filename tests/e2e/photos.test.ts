// A photograph in a real browser: added without a network, lost half-way, gone on with after a reload, seen by another;
// what is no photograph refused with the reason.
import type { Page } from 'playwright'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

/** Noise, so that it is long for its pixels and goes in several pieces. */
const aPhoto = () =>
  sharp({
    create: {
      ...{ width: 1500, height: 1000, channels: 3, background: '#888' },
      noise: { type: 'gaussian', mean: 128, sigma: 60 },
    },
  })
    .jpeg({ quality: 92 })
    .toBuffer()

async function datedSheet(): Promise<string> {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/due')
  const links = page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('link')
  const sheet = (await links.first().getAttribute('href')) ?? ''
  await context.close()
  return sheet
}

const choose = (page: Page, name: string, mimeType: string, buffer: Buffer) =>
  page.getByLabel('Add photographs…').setInputFiles({ name, mimeType, buffer })

test('a photograph added offline and lost half-way comes whole, and another person looks at it', async () => {
  const sheet = await datedSheet()
  const { page, context } = await visit(lab.browser, lab.server.url, 'zosia', sheet)
  await page.getByRole('heading', { name: 'Photographs' }).waitFor()

  await choose(page, 'photo.jpg', 'image/jpeg', Buffer.from('#!/bin/sh\necho renamed\n'.repeat(40)))
  await page.getByRole('button', { name: 'Add one photograph' }).click()
  await page.getByText('It is no JPEG, PNG or WebP picture, whatever it is called.').waitFor()
  await page.getByRole('button', { name: 'Close' }).click()

  const bytes = await aPhoto()
  await context.setOffline(true)
  await choose(page, 'skull.jpg', 'image/jpeg', bytes)
  await page.getByRole('dialog').getByLabel('View').selectOption('dorsal')
  await page.getByLabel('Scale bar in it, mm').fill('50')
  await page.getByLabel('What it shows').fill('The left orbit')
  await page.getByRole('button', { name: 'Add one photograph' }).click()
  const way = page.getByRole('list', { name: 'On their way from this device' })
  await way.getByText('Dorsal: The left orbit').waitFor()
  await way.getByText(/^Held on this device/).waitFor()

  // The first piece comes, and then the network is gone again.
  const sent: string[] = []
  await context.route('**/api/uploads/**', async (route) => {
    const offset = new URL(route.request().url()).searchParams.get('offset')
    if (route.request().method() === 'PUT') sent.push(offset ?? '')
    if (offset !== null && offset !== '0') await route.abort()
    else await route.continue()
  })
  await context.setOffline(false)
  await expect.poll(() => sent.length, { timeout: 30_000 }).toBeGreaterThan(1)
  expect(sent[0]).toBe('0')
  await context.unroute('**/api/uploads/**')
  const before = sent.length
  page.on('request', (request) => {
    if (request.method() === 'PUT') sent.push(new URL(request.url()).searchParams.get('offset') ?? '')
  })
  await page.reload()
  const look = { name: 'Look at Dorsal: The left orbit' }
  await page.getByRole('button', look).waitFor({ timeout: 60_000 })
  await way.waitFor({ state: 'detached' })
  // What had come was not sent again.
  expect(sent.length).toBeGreaterThan(before)
  expect(sent.slice(before)).not.toContain('0')

  const reader = await visit(lab.browser, lab.server.url, 'ulrich', sheet)
  await reader.page.getByRole('button', look).click()
  const dialog = reader.page.getByRole('dialog', { name: 'Dorsal: The left orbit' })
  await dialog.getByText('Scale bar 50 mm.').waitFor()
  const picture = dialog.getByRole('img')
  await expect.poll(() => picture.evaluate((img) => (img as HTMLImageElement).naturalWidth)).toBeGreaterThan(1000)
  // Researchers look; nothing to change it with is on their screen.
  expect(await dialog.getByRole('button', { name: 'Withdraw it' }).count()).toBe(0)

  await page.getByRole('button', look).click()
  await page.getByRole('button', { name: 'Correct what is said…' }).click()
  await page.getByRole('dialog').getByLabel('View').selectOption('left lateral')
  await page.getByRole('button', { name: 'Correct it' }).click()
  await reader.page.getByRole('dialog', { name: 'Left lateral: The left orbit' }).waitFor()
  await page.getByRole('button', { name: 'Withdraw it' }).click()
  await reader.page.getByRole('button', { name: 'Look at Left lateral: The left orbit' }).waitFor({ state: 'detached' })
  await page.getByText('Withdrawn: 1').waitFor()
})
