// The crew in a real browser: one tick seen elsewhere, a sign-off asked for and given, days changed from one's own
// phone, somebody new let in by a link, and figures of one person kept from the others.
import type { Page } from 'playwright'
import { expect, test } from 'vitest'
import { pretend, visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

/** A busy machine is slower than the lab's. */
const LIVE_MS = 60_000

const desk = { viewport: { width: 1440, height: 900 } }
const phone = { viewport: { width: 390, height: 844 } }

const lab = openedLab()

test('one press ticks somebody in, everywhere, and a second clears it', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  const other = await visit(lab.browser, lab.server.url, 'emeka', '/crew', desk)
  const tick = manager.page
    .getByRole('table')
    .getByRole('button', { name: / is in$/ })
    .first()
  const name = (await tick.getAttribute('aria-label')) ?? ''
  const there = other.page.getByRole('table').getByRole('button', { name, exact: true })
  const before = await tick.getAttribute('aria-pressed')
  await tick.click()
  await expect
    .poll(() => there.getAttribute('aria-pressed'), { timeout: LIVE_MS })
    .toBe(before === 'true' ? 'false' : 'true')
  await tick.click()
  await expect.poll(() => there.getAttribute('aria-pressed'), { timeout: LIVE_MS }).toBe(before)
  await Promise.all([manager.context.close(), other.context.close()])
})

test('the whole round on one sheet: late with a time, then left to the title', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  await page.getByRole('button', { name: 'Tick who is in' }).click()
  const row = page.getByRole('list', { name: 'Who is in' }).getByRole('listitem').first()
  const name = (await row.locator('.font-strong').first().textContent()) ?? ''
  await row.getByRole('button', { name: 'Late…' }).click()
  await page.getByLabel('Expected at, where it is known').fill('10:15')
  await page.getByRole('button', { name: 'Note it' }).click()
  await row.getByText('due 10:15').waitFor()
  await page.keyboard.press('Escape')
  await expect.poll(() => page.getByRole('heading', { level: 1 }).textContent(), { timeout: LIVE_MS }).toContain(name)
  await context.close()
})

test('a sign-off is asked for on a phone and given on a desk', async () => {
  const own = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=amara', phone)
  const ask = own.page.getByRole('button', { name: /^Ask for a sign-off in / }).first()
  const technique = ((await ask.getAttribute('aria-label')) ?? '').replace('Ask for a sign-off in ', '')
  await ask.click()
  await own.page.getByLabel('What you have done so far').fill('three shifts beside Zosia')
  await own.page.getByRole('button', { name: 'Ask', exact: true }).click()
  await own.page
    .getByText(/^You ask for a sign-off/)
    .first()
    .waitFor()

  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  const asked = manager.page.getByRole('list', { name: 'Sign-offs asked for' }).getByRole('listitem')
  await asked.filter({ hasText: 'three shifts beside Zosia' }).getByRole('link', { name: 'Look' }).click()
  await manager.page.getByText('Amara asks: three shifts beside Zosia').waitFor()
  await manager.page.getByText('2 Works alone').click()
  await manager.page.getByRole('button', { name: 'Sign off', exact: true }).click()
  const row = own.page.getByRole('listitem').filter({ hasText: technique })
  await row.getByText(/signed off by Thea/).waitFor()
  await Promise.all([own.context.close(), manager.context.close()])
})

test('one’s own days change from the phone', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=amara', phone)
  const cell = page.getByRole('button', { name: 'Monday morning' })
  const before = await cell.getAttribute('aria-pressed')
  await cell.click()
  await expect
    .poll(() => cell.getAttribute('aria-pressed'), { timeout: LIVE_MS })
    .toBe(before === 'true' ? 'false' : 'true')
  await page.getByRole('button', { name: 'Away or extra…' }).click()
  await page.getByLabel('On, or from').fill('2026-04-06')
  await page.getByLabel('To, where it is several days').fill('2026-04-08')
  await page.getByRole('button', { name: 'Note it' }).click()
  const list = page.getByRole('list', { name: 'Exceptions ahead' })
  await list.getByText('Monday 6 April').waitFor()
  await list.getByRole('button', { name: /^Take back away on Monday 6 April/ }).click()
  await expect.poll(() => list.getByText('Monday 6 April').count(), { timeout: LIVE_MS }).toBe(0)
  await context.close()
})

test('figures and contacts of others are not on a volunteer’s screen', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'amara', '/crew?person=zosia', phone)
  await page.getByRole('heading', { level: 1, name: /Zosia/ }).waitFor()
  for (const hidden of ['Today’s exposure', 'How to reach them', 'Getting in'])
    expect(await page.getByRole('heading', { name: hidden }).count(), hidden).toBe(0)
  expect(await page.getByRole('heading', { name: /^Hours in/ }).count()).toBe(0)
  expect(await page.getByRole('button', { name: /^Sign off/ }).count()).toBe(0)
  await page.goto(`${lab.server.url}/crew?person=amara`)
  await page.getByRole('heading', { name: 'Today’s exposure' }).waitFor()
  await page.getByText('Published vibration points; local codes decide.').waitFor()
  await context.close()
})

test('a private note is on managers’ screens and never on the way to anybody else', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew?person=hamish', desk)
  const notes = manager.page.getByRole('list', { name: 'Private notes about Hamish, newest first' })
  await notes.getByText(/^Good hands\./).waitFor()
  await manager.page.getByRole('button', { name: 'Write a private note about Hamish' }).click()
  await manager.page.getByLabel('Note', { exact: true }).fill('Asked for the saw. Not before May.')
  await manager.page.getByRole('button', { name: 'Keep it' }).click()
  await notes.getByText('Asked for the saw. Not before May.').waitFor()

  const staff = await visit(lab.browser, lab.server.url, null, '/crew', desk)
  let heard = ''
  const offices: string[] = []
  staff.page.on('websocket', (socket) => {
    if (socket.url().includes('/sync/office')) offices.push(socket.url())
    socket.on('framereceived', ({ payload }) => {
      heard += typeof payload === 'string' ? payload : payload.toString('latin1')
    })
  })
  await pretend(staff.context, lab.server.url, 'emeka')
  await staff.page.goto(`${lab.server.url}/crew?person=hamish`)
  await staff.page.getByText('see the sealed card in the office').waitFor()
  await manager.page.getByRole('button', { name: 'Write a private note about Hamish' }).click()
  await manager.page.getByLabel('Note', { exact: true }).fill('Told him so.')
  await manager.page.getByRole('button', { name: 'Keep it' }).click()
  await notes.getByText('Told him so.').waitFor()
  await manager.page.getByText(/^kept/).first().waitFor()
  expect(await staff.page.getByRole('heading', { name: 'Private notes' }).count()).toBe(0)
  expect(offices.length).toBeGreaterThan(0)
  expect(heard).toContain('see the sealed card in the office')
  for (const secret of ['Good hands', 'Asked for the saw', 'Told him so', 'Do not say so yet'])
    expect(heard, secret).not.toContain(secret)
  await Promise.all([manager.context.close(), staff.context.close()])
})

test('somebody new is added and comes in by their link', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  await manager.page.getByRole('button', { name: 'Add a person…' }).click()
  await manager.page.getByLabel('First name').fill('Quill')
  await manager.page.getByRole('button', { name: 'Add them' }).click()
  await manager.page.getByRole('heading', { level: 1, name: 'Quill' }).waitFor()
  await manager.page.getByText(/^kept/).first().waitFor()
  await manager.page.getByRole('button', { name: 'Invite link…' }).click()
  await manager.page.getByRole('button', { name: 'Make the link' }).click()
  const link = await manager.page.getByRole('textbox', { name: 'Link' }).inputValue()
  expect(link).toMatch(/\/join#[\w-]{43}$/)

  const fresh = await lab.browser.newContext(phone)
  const page = await fresh.newPage()
  await page.goto(link)
  const name = page.getByLabel('Your first name')
  await expect.poll(() => name.inputValue(), { timeout: LIVE_MS }).toBe('Quill')
  await name.fill('Quilla')
  await page.getByRole('button', { name: 'Come in' }).click()
  await page.getByRole('navigation', { name: 'Ways' }).waitFor()
  await page.goto(`${lab.server.url}/crew?person=amara`)
  await page.getByRole('heading', { level: 1, name: /Amara/ }).waitFor()
  expect(await page.getByRole('heading', { name: 'Today’s exposure' }).count()).toBe(0)
  await manager.page.getByRole('heading', { level: 1, name: 'Quilla' }).waitFor()
  await Promise.all([manager.context.close(), fresh.close()])
})

test('whoever comes in before the board’s code is there is in all the same', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  const made = await manager.context.request.post(`${lab.server.url}/api/invite`, {
    data: { personId: 'amara' },
    headers: { 'x-talus': '1' },
  })
  const { link } = (await made.json()) as { link: string }
  const fresh = await lab.browser.newContext(phone)
  const page = await fresh.newPage()
  // Scripts that the page does not name are the board's: they come after the press. Its first question, who is here,
  // reaches the server before the link is used, and is answered after it.
  const named = await (await fresh.request.get(`${lab.server.url}/join`)).text()
  const pressed = promised()
  const asked = promised()
  const joined = promised()
  await page.route('**/_next/static/**', async (route) => {
    const { pathname } = new URL(route.request().url())
    if (pathname.endsWith('.js') && !named.includes(pathname)) await pressed.promise
    await route.continue()
  })
  await page.route('**/api/join', async (route) => {
    pressed.keep()
    await asked.promise
    await route.continue()
  })
  await page.route('**/api/me', async (route) => {
    const response = await route.fetch()
    asked.keep()
    await joined.promise
    await route.fulfill({ response })
  })
  page.on('response', (response) => {
    if (response.url().endsWith('/api/join')) setTimeout(joined.keep, 300)
  })
  await page.goto(link, { waitUntil: 'commit' })
  await page.getByRole('button', { name: 'Come in' }).click()
  await page.getByRole('navigation', { name: 'Ways' }).waitFor()
  await Promise.all([manager.context.close(), fresh.close()])
})

/** A promise, and the way to keep it. */
function promised(): { readonly promise: Promise<void>; readonly keep: () => void } {
  let keep = () => {}
  const promise = new Promise<void>((done) => {
    keep = done
  })
  return { promise, keep }
}

test('a lost phone is signed out from another device, or by the manager, and shows nothing any more', async () => {
  const lost = await visit(lab.browser, lab.server.url, 'esme', '/crew', { ...phone, isMobile: true, hasTouch: true })
  await lost.page.getByRole('heading', { level: 1 }).waitFor()
  const own = await visit(lab.browser, lab.server.url, 'esme', '/', phone)
  await own.page.getByRole('button', { name: /me, light, sign out$/ }).click()
  await own.page.getByRole('button', { name: /^Where I am signed in/ }).click()
  await own.page.getByText('this one').waitFor()
  await own.page
    .getByRole('button', { name: /^Sign out: / })
    .first()
    .click()
  await own.page.getByText('You are signed in nowhere else.').waitFor()
  const isOut = (page: Page) => page.getByText('Choose whom to be').waitFor()
  await isOut(lost.page)
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew?person=esme', desk)
  await manager.page.getByRole('button', { name: 'Sign out everywhere…' }).click()
  await manager.page.getByRole('button', { name: 'Sign them out' }).click()
  await isOut(own.page)
  await Promise.all([lost, own, manager].map(({ context }) => context.close()))
})
