// What newcomers go through and how people learn: a required item keeps somebody from work until it is ticked, the next
// step of a path is on one's phone, a holiday is entered there, and who did not come is for managers alone.
import { mkdirSync } from 'node:fs'
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { pretend, visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const SOON = { timeout: 60_000 }
const desk = { viewport: { width: 1280, height: 800 } }
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true }

const lab = openedLab()

test('what the lab requires of newcomers is on their own screen, and ticked by staff for all or for one', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/settings', desk)
  await manager.page.getByRole('button', { name: 'Add an item' }).click(SOON)
  const added = manager.page.getByRole('group', { name: /^Item \d/ })
  await added.getByLabel('Asked for from').fill('2026-03-16')
  await added.getByLabel('Item').fill('Dust masks')
  await added.getByLabel('Item').press('Enter')
  await shown(manager.page.getByRole('button', { name: /^Tick all .* for Dust masks/ })).toBeVisible(SOON)
  const own = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=amara', phone)
  const items = own.page.getByRole('list', { name: 'Induction of Amara' })
  await shown(items.getByText('required from Monday 16 March')).toBeVisible(SOON)
  // Nobody but staff ticks.
  await shown(items.getByRole('button')).toHaveCount(0)
  await manager.page.getByRole('button', { name: /^Tick all .* for Dust masks/ }).click()
  await shown(items.getByText(/^Thea, .*12 March/)).toBeVisible(SOON)
  // Taken back on her page, it is open again on her phone.
  await manager.page.goto(`${lab.server.url}/crew?person=amara`)
  await manager.page.getByRole('button', { name: 'Take back Dust masks' }).click(SOON)
  await shown(items.getByText('required from Monday 16 March')).toBeVisible(SOON)
  expect([...own.complaints, ...manager.complaints]).toEqual([])
  await Promise.all([own.context.close(), manager.context.close()])
})

test('the next step of a path is on one’s phone, and moves on with a sign-off elsewhere', async () => {
  const own = await visit(lab.browser, lab.server.url, 'amara', '/mine', phone)
  const path = own.page.getByRole('region', { name: 'Learning path' })
  await shown(path.getByText('Next on your path, fine work')).toBeVisible(SOON)
  const before = await path.locator('.named').textContent()
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  const learning = manager.page.getByRole('list', { name: 'Learning', exact: true })
  await shown(learning.getByText('Amara', { exact: true })).toBeVisible(SOON)
  await learning.getByRole('link', { name: 'Look at Amara' }).click()
  const steps = manager.page.getByRole('list', { name: 'Steps of Fine work' })
  const next = steps.getByRole('listitem').filter({ hasText: 'Next: ' })
  await shown(next).toHaveCount(1, SOON)
  if (process.env.TALUS_SHOTS) {
    mkdirSync(process.env.TALUS_SHOTS, { recursive: true })
    await own.page.screenshot({ path: `${process.env.TALUS_SHOTS}/mine-390.png`, fullPage: true })
    for (const width of [390, 768, 1280, 1920]) {
      await manager.page.setViewportSize({ width, height: 900 })
      await manager.page.screenshot({ path: `${process.env.TALUS_SHOTS}/person-${width}.png`, fullPage: true })
    }
  }
  await manager.page.getByLabel('Path they follow').selectOption({ label: 'Putting together' })
  await shown(own.page.getByText('Next on your path, putting together')).toBeVisible(SOON)
  expect(await path.locator('.named').textContent()).not.toBe(before)
  expect([...own.complaints, ...manager.complaints]).toEqual([])
  await Promise.all([own.context.close(), manager.context.close()])
})

test('a holiday entered on the phone is on the manager’s desk', async () => {
  const own = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=amara', phone)
  await own.page.getByRole('button', { name: 'Term or holiday…' }).click(SOON)
  await own.page.getByLabel('First day').fill('2026-04-06')
  await own.page.getByLabel('Last day').fill('2026-04-01')
  await shown(own.page.getByText('The last day is before the first.')).toBeVisible(SOON)
  await own.page.getByLabel('Last day').fill('2026-04-17')
  await own.page.getByRole('button', { name: 'Keep it' }).click()
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew?person=amara', desk)
  const spells = manager.page.getByRole('list', { name: 'Terms and holidays ahead' })
  await shown(spells.getByText('does not come')).toBeVisible(SOON)
  await own.page.getByRole('button', { name: /^Take back Monday 6 April/ }).click()
  await shown(spells.getByRole('listitem')).toHaveCount(0, SOON)
  expect([...own.complaints, ...manager.complaints]).toEqual([])
  await Promise.all([own.context.close(), manager.context.close()])
})

test('who did not come is one tap of the manager’s, and reaches nobody else', async () => {
  // Late and due at 10:15 in the demo lab's morning.
  const board = await boardAs(lab.server.url, 'thea')
  const staff = await visit(lab.browser, lab.server.url, null, '/crew', desk)
  let heard = ''
  staff.page.on('websocket', (socket) => {
    socket.on('framereceived', ({ payload }) => {
      heard += typeof payload === 'string' ? payload : payload.toString('latin1')
    })
  })
  await pretend(staff.context, lab.server.url, 'emeka')
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew?person=farid', desk)
  await manager.page.getByRole('button', { name: 'Did not come', exact: true }).first().click(SOON)
  const list = manager.page.getByRole('list', { name: 'When Farid did not come' })
  const noted = list.getByRole('button', { name: 'Take back that Farid did not come on Thursday 12 March' })
  await shown(noted).toBeVisible(SOON)
  await manager.page.getByText(/^kept/).first().waitFor(SOON)
  // Away is everybody's to know, as with any tick.
  await within(board.until((records) => records.attendance.get('2026-03-12.morning.farid')?.state === 'away'))
  await staff.page.goto(`${lab.server.url}/crew?person=farid`)
  await shown(staff.page.getByRole('heading', { level: 1, name: /Farid/ })).toBeVisible(SOON)
  await shown(staff.page.getByRole('button', { name: 'Away', exact: true }).first()).toHaveAttribute(
    'aria-pressed',
    'true',
    SOON,
  )
  await shown(staff.page.getByText('Did not come')).toHaveCount(0)
  expect(heard).toContain('2026-03-12.morning.farid')
  expect(heard.toLowerCase()).not.toContain('noshow')
  await noted.click()
  await shown(noted).toHaveCount(0, SOON)
  expect(manager.complaints).toEqual([])
  board.close()
  await Promise.all([staff.context.close(), manager.context.close()])
})

test('one’s own calendar brings its busy half-days after a look, and nothing else of it', async () => {
  const own = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=amara', phone)
  let sent = ''
  own.page.on('websocket', (socket) => {
    socket.on('framesent', ({ payload }) => {
      sent += typeof payload === 'string' ? payload : payload.toString('latin1')
    })
  })
  await own.page.reload()
  await own.page.getByRole('button', { name: 'From my calendar…' }).click(SOON)
  // An address inside is not fetched, and said so.
  await own.page.getByLabel('Or its https address').fill('https://127.0.0.1/calendar.ics')
  await own.page.getByRole('button', { name: 'Look', exact: true }).click()
  await shown(own.page.getByText('inside a private network')).toBeVisible(SOON)
  const event = ['BEGIN:VEVENT', 'UID:a', 'SUMMARY:PLANT-surgery', 'DTSTART:20260316T100000', 'DURATION:PT1H']
  const file = ['BEGIN:VCALENDAR', ...event, 'RRULE:FREQ=WEEKLY;COUNT=2', 'END:VEVENT', 'END:VCALENDAR', ''].join(
    '\r\n',
  )
  await own.page
    .getByLabel('Calendar file')
    .setInputFiles({ name: 'my.ics', mimeType: 'text/calendar', buffer: Buffer.from(file) })
  const preview = own.page.getByRole('list', { name: 'Half-days that would be noted as away' })
  await shown(preview.getByRole('listitem')).toHaveText([/Monday 16 March/, /Monday 23 March/], SOON)
  if (process.env.TALUS_SHOTS)
    await own.page.screenshot({ path: `${process.env.TALUS_SHOTS}/calendar-390.png`, fullPage: true })
  const ahead = own.page.getByRole('list', { name: 'Exceptions ahead' })
  await own.page.getByRole('button', { name: 'Note two half-days as away' }).click()
  await shown(ahead.getByText('Monday 23 March')).toBeVisible(SOON)
  expect(sent).not.toContain('PLANT')
  // A calendar that says nothing takes its days back.
  await own.page.getByRole('button', { name: 'From my calendar…' }).click()
  await own.page.getByLabel('Calendar file').setInputFiles({
    ...{ name: 'my.ics', mimeType: 'text/calendar' },
    buffer: Buffer.from('BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n'),
  })
  await own.page.getByRole('button', { name: 'Keep that' }).click(SOON)
  await shown(ahead.getByText('Monday 23 March')).toHaveCount(0, SOON)
  expect(own.complaints).toEqual([])
  await own.context.close()
})
