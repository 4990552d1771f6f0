// The exposure map in a real browser: two people draw on one view, one of them without a network, one by keyboard; both
// have both strokes in the end; a reader sees what they say.
import type { Page } from 'playwright'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const lab = openedLab()

async function openMap(page: Page) {
  await page.getByLabel('View', { exact: true }).selectOption('dorsal')
  await page.getByRole('button', { name: 'Draw on it…' }).click()
  const dialog = page.getByRole('dialog', { name: 'Dorsal, on paper' })
  await dialog.waitFor()
  return dialog
}

test('strokes of two people merge, one drawn offline, and who may wipe one out does', async () => {
  const due = await visit(lab.browser, lab.server.url, 'thea', '/due')
  const links = due.page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('link')
  const sheet = (await links.first().getAttribute('href')) ?? ''
  const { page: manager } = due
  await manager.goto(lab.server.url + sheet)
  const hand = await visit(lab.browser, lab.server.url, 'zosia', sheet)
  const reader = await visit(lab.browser, lab.server.url, 'ulrich', sheet)

  const drawing = await openMap(hand.page)
  await hand.context.setOffline(true)
  await drawing.getByText('Bone shows here', { exact: true }).click()
  const board = drawing.getByRole('application')
  const box = await board.boundingBox()
  if (!box) throw new Error('The board is there')
  await hand.page.mouse.move(box.x + box.width * 0.2, box.y + box.height * 0.2)
  await hand.page.mouse.down()
  await hand.page.mouse.move(box.x + box.width * 0.5, box.y + box.height * 0.3, { steps: 8 })
  await hand.page.mouse.move(box.x + box.width * 0.8, box.y + box.height * 0.8, { steps: 8 })
  await hand.page.mouse.up()
  const strokes = drawing.getByRole('list', { name: 'Strokes' }).getByRole('listitem')
  await strokes.filter({ hasText: 'Bone shows here, from the upper left to the lower right' }).waitFor()

  const keyed = await openMap(manager)
  await keyed.getByText('Do not go here', { exact: true }).click()
  await keyed.getByRole('application').focus()
  for (const key of ['ArrowLeft', 'Space', 'ArrowRight', 'ArrowRight', 'ArrowDown', 'Space', 'Enter'])
    await manager.keyboard.press(key)
  const others = keyed.getByRole('list', { name: 'Strokes' }).getByRole('listitem')
  await others.filter({ hasText: 'Do not go here, at the middle' }).waitFor()

  await hand.context.setOffline(false)
  for (const list of [strokes, others]) await expect.poll(() => list.count(), { timeout: 30_000 }).toBe(2)
  const map = reader.page.getByRole('img', { name: /^Exposure map, Dorsal, on paper\. / })
  await expect
    .poll(() => map.getAttribute('aria-label'))
    .toBe('Exposure map, Dorsal, on paper. bone shows here: one stroke; do not go here: one stroke.')
  expect(await reader.page.getByRole('button', { name: 'Draw on it…' }).count()).toBe(0)

  await others.filter({ hasText: 'Bone shows here' }).getByRole('button', { name: 'Wipe out' }).click()
  await expect.poll(() => strokes.count()).toBe(1)
})
