// What the work does to the people, in a real browser: figures with their formula for those they concern, checks done on
// one screen and seen on another, cautions read once, and incidents and samples that reach nobody else on any page.
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { pretend, visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const LIVE_MS = 60_000

const desk = { viewport: { width: 1280, height: 900 } }
const phone = { viewport: { width: 390, height: 844 } }

const lab = openedLab()

test('a check done on one screen is good on another', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/safety', desk)
  const other = await visit(lab.browser, lab.server.url, 'amara', '/safety', phone)
  const name = 'Extraction arm at A1'
  const due = (page: typeof manager.page) =>
    page.getByRole('list', { name: 'Checks before use' }).getByText(name, { exact: false })
  await due(manager.page).first().waitFor()
  await due(other.page).first().waitFor()
  await other.page
    .getByRole('button', { name: `${name}: checked, good` })
    .first()
    .click()
  await expect.poll(() => due(manager.page).count(), { timeout: LIVE_MS }).toBe(0)
  await Promise.all([manager.context.close(), other.context.close()])
})

test('figures open to their formula; days and samples kept come to the person and the manager', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'zosia', '/crew?person=zosia', desk)
  await page.getByRole('heading', { name: 'Today’s exposure' }).waitFor()
  await page.getByText(/^Air samples, /).click()
  await page.getByText(/silica 12\.3 µg\/m³ over 8 h/).waitFor()
  await page.getByText(/^Days before, /).click()
  await page
    .getByText(/A\(8\) \d+\.\d m\/s², \d+ points/)
    .first()
    .waitFor()
  await context.close()
})

test('no page, message or answer carries the private figures, incidents and contacts of others', async () => {
  const secrets = ['air hose came off', 'invented sample', 'cyclone and filter']
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/safety', desk)
  await manager.page.getByText(/air hose came off/).waitFor()
  await manager.page.getByRole('button', { name: 'Tell of something…' }).click()
  await manager.page.getByLabel('What happened').fill('PLANTED the sling slipped a hand’s width')
  await manager.page.getByRole('button', { name: 'Tell it' }).click()
  await manager.page.getByText(/^kept/).first().waitFor()
  await manager.context.close()
  secrets.push('PLANTED')
  // A preparator, a volunteer, a researcher and the screen in the room.
  for (const who of ['emeka', 'dov', 'tamsin', 'wall']) {
    const { page, context } = await visit(lab.browser, lab.server.url, null, '/', desk)
    let heard = ''
    page.on('websocket', (socket) => {
      socket.on('framereceived', ({ payload }) => {
        heard += typeof payload === 'string' ? payload : payload.toString('utf8')
      })
    })
    page.on('response', async (response) => {
      if (response.url().includes('/api/')) heard += await response.text().catch(() => '')
    })
    await pretend(context, lab.server.url, who)
    const paths =
      who === 'wall' ? ['/wall'] : ['/', '/rack', '/due', '/crew', '/crew?person=zosia', '/mine', '/season', '/safety']
    for (const path of paths) {
      await page.goto(lab.server.url + path)
      await page.getByRole('heading').first().waitFor()
      heard += await page.content()
    }
    expect(heard.length, who).toBeGreaterThan(10_000)
    for (const secret of secrets) expect(heard.includes(secret), `${secret} reached ${who}`).toBe(false)
    await context.close()
  }
})

test('the printed line-up carries the cautions of its work with their places, and the place shows them', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/', desk)
  const printed = page.getByRole('region', { name: 'Cautions of this shift', includeHidden: true })
  await shown(printed).toHaveCount(1, { timeout: LIVE_MS })
  await shown(printed).toBeHidden()
  await page.emulateMedia({ media: 'print' })
  await shown(printed).toBeVisible()
  await shown(printed).toContainText('Stone dust: extraction arm on and close')
  await shown(printed).toContainText('Local rules and the safety officer decide.')
  expect(await printed.textContent()).not.toMatch(/\bsafe\b/i)
  await context.close()
})
