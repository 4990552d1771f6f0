// A piece's whole record in a real browser: written, corrected, asked about and dated by several people at once; a note
// typed together; a jacket opened, a specimen made from it, laid to rest and brought back.
import type { Browser } from 'playwright'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { type RunningServer, startServer } from '../kit/server.ts'

/** A busy machine is slower than the lab's. */
const LIVE_MS = 60_000

let browser: Browser
let server: RunningServer
/** A specimen with a date, by its address. */
let dated: string

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer()
  const { page, context } = await visit(browser, server.url, 'thea', '/due')
  const link = page.getByRole('list', { name: 'Dates, most at risk first' }).getByRole('link').first()
  dated = (await link.getAttribute('href')) ?? ''
  await context.close()
})

afterAll(async () => {
  await browser?.close()
})

test('an entry, its correction and a date asked for are on the other screen at once', async () => {
  const staff = await visit(browser, server.url, 'zosia', dated)
  const reader = await visit(browser, server.url, 'ulrich', dated)
  await staff.page.getByRole('button', { name: 'Add to record' }).click()
  await staff.page.getByLabel('What was done, used or seen').fill('Consolidant, two coats, palate edge.')
  await staff.page.getByRole('button', { name: 'Add it' }).click()
  const record = reader.page.getByRole('list', { name: 'Treatment record, newest first' })
  await record.getByText('Consolidant, two coats, palate edge.').waitFor()
  // Researchers read and ask; nothing to write with is on their screen.
  expect(await reader.page.getByRole('button', { name: 'Add to record' }).count()).toBe(0)

  await staff.page
    .getByRole('button', { name: /^Correct / })
    .first()
    .click()
  await staff.page.getByLabel('What is right').fill('Three coats, not two.')
  await staff.page.getByRole('button', { name: 'Correct it' }).click()
  const line = record.getByRole('listitem').first()
  await line.getByText('Three coats, not two.').waitFor()
  expect(await line.getByText('Consolidant, two coats, palate edge.').count()).toBe(1)

  await reader.page.getByRole('button', { name: 'Ask for a date…' }).click()
  await reader.page.getByLabel('What for').fill('the train is booked')
  await reader.page.getByRole('button', { name: 'Ask for it' }).click()
  const manager = await visit(browser, server.url, 'thea', dated)
  const asked = manager.page.getByRole('list', { name: 'Dates' }).getByRole('listitem').filter({ hasText: 'the train' })
  await asked.getByRole('button', { name: 'Accept', exact: true }).click()
  const shown = reader.page.getByRole('list', { name: 'Dates' }).getByRole('listitem').filter({ hasText: 'the train' })
  await shown.getByText(/^accepted/).waitFor()

  await manager.page.getByRole('button', { name: 'Show it' }).click()
  const history = manager.page.getByRole('list', { name: 'History, newest first' })
  await history.getByText(/accepted the date of/).waitFor()
  await history.getByText(/corrected an entry on/).waitFor()
  expect([...staff.complaints, ...reader.complaints, ...manager.complaints]).toEqual([])
  await Promise.all([staff.context.close(), reader.context.close(), manager.context.close()])
})

test('a note is typed together and goes into the record by one act', async () => {
  const one = await visit(browser, server.url, 'thea', dated)
  const two = await visit(browser, server.url, 'zosia', dated)
  const field = (page: typeof one.page) => page.getByLabel('Typed together; not yet in the record')
  await field(one.page).fill('bone sound')
  await expect.poll(() => field(two.page).inputValue(), { timeout: LIVE_MS }).toBe('bone sound')
  await field(two.page).press('End')
  await field(two.page).pressSequentially(', rock soft')
  await expect.poll(() => field(one.page).inputValue(), { timeout: LIVE_MS }).toBe('bone sound, rock soft')
  await one.page.getByText('Zosia is typing here too.').waitFor()
  await one.page.getByRole('button', { name: 'Put it into the record…' }).click()
  await one.page.getByRole('button', { name: 'Add it' }).click()
  await two.page
    .getByRole('list', { name: 'Treatment record, newest first' })
    .getByText('bone sound, rock soft')
    .waitFor()
  await expect.poll(() => field(two.page).inputValue(), { timeout: LIVE_MS }).toBe('')
  await Promise.all([one.context.close(), two.context.close()])
})

test('the ceiling is raised only with a test patch and a reason, and both stand in the record', async () => {
  const { page, context } = await visit(browser, server.url, 'zosia', dated)
  await page.getByRole('button', { name: 'Change the force ceiling' }).click()
  await page.getByRole('button', { name: 'Go above it' }).click()
  const open = page.getByRole('button', { name: 'Open it' })
  expect(await open.isDisabled()).toBe(true)
  await page.getByLabel('Test patch').fill('left rim, 1 cm: rock parts cleanly')
  expect(await open.isDisabled()).toBe(true)
  await page.getByLabel('Reason').fill('needle does not move it')
  await open.click()
  await page.getByText(/escalated/).waitFor()
  await page
    .getByRole('list', { name: 'Treatment record, newest first' })
    .getByText(/left rim, 1 cm: rock parts cleanly/)
    .waitFor()
  await context.close()
})

test('a step is planned, finished and taken up again', async () => {
  const { page, context } = await visit(browser, server.url, 'zosia', dated)
  await page.getByRole('button', { name: 'Add a step…' }).click()
  await page.getByLabel('What is to be done').fill('Underside')
  await page.getByLabel('Low').fill('2')
  await page.getByLabel('Likely').fill('4')
  await page.getByLabel('High').fill('9')
  await page.getByRole('button', { name: 'Add the step' }).click()
  const row = page.getByRole('list', { name: 'Steps' }).getByRole('listitem').filter({ hasText: 'Underside' })
  await row.getByText('2 to 9 h left').last().waitFor()
  await row.getByRole('button', { name: 'Open step Underside' }).click()
  await page.getByRole('button', { name: 'It is done' }).click()
  await row.getByText('done', { exact: true }).waitFor()
  await row.getByRole('button', { name: 'Open step Underside' }).click()
  await page.getByRole('button', { name: 'Take it up again' }).click()
  await row.getByText('2 to 9 h left').last().waitFor()
  await context.close()
})

test('on a phone what is not for the bench is one line, opened by key or link, remembered, and whole on paper', async () => {
  const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }
  const { page, context } = await visit(browser, server.url, 'thea', dated, phone)
  const part = (name: RegExp) => page.getByRole('button', { name })
  // What a hand at the piece needs stands open.
  await page.getByText(/^no stronger than /).waitFor()
  await page.getByRole('button', { name: 'Add to record' }).waitFor()
  await page.getByRole('button', { name: 'Ask…' }).waitFor()
  await page.getByRole('list', { name: 'Steps' }).getByRole('listitem').first().waitFor()

  const size = page.getByText('Locality', { exact: true })
  await part(/^What it is .* cm × .* cm$/).focus()
  await page.keyboard.press('Enter')
  await size.waitFor()
  expect(await part(/^What it is/).getAttribute('aria-expanded')).toBe('true')
  // A link leads into a folded part.
  await part(/^Rock and bone /).tap()
  const assess = page.getByRole('button', { name: /^Assess/ })
  expect(await assess.filter({ hasText: '…' }).isVisible()).toBe(false)
  await page.getByRole('link', { name: 'To the assessments' }).tap()
  await assess.filter({ hasText: '…' }).waitFor()

  // The next Sheet of the visit is unfolded alike.
  await page.goto(`${server.url}/sheet/${await sealedJacket()}`)
  await size.waitFor()
  await part(/^Lifting and moving /).waitFor()
  const inLifting = page.getByText(/^Turning a jacket and lifts by several people/)
  expect(await inLifting.isVisible()).toBe(false)
  await page.emulateMedia({ media: 'print' })
  await inLifting.waitFor()
  await context.close()
})

test('a jacket is opened, a specimen made from it, laid to rest, read in the archive and brought back', async () => {
  const { page, context } = await visit(browser, server.url, 'thea', `/sheet/${await sealedJacket()}`)
  await page.getByRole('button', { name: 'Open the jacket…' }).click()
  const asked = page.getByText('The safety officer was asked')
  if ((await asked.count()) > 0) await asked.click()
  await page.getByRole('button', { name: 'It is opened' }).click()
  await page.getByText(/is opened\./).waitFor()
  await page.getByLabel('Number', { exact: true }).fill('ZZ99-001')
  await page.getByLabel('Name', { exact: true }).fill('Rib, left')
  for (const rating of ['Contrast of bone and rock', 'Soundness of the bone', 'Breakage'])
    await page.getByLabel(rating).selectOption('3')
  await page.getByRole('button', { name: 'Make the specimen' }).click()
  await page.getByRole('heading', { level: 1, name: /ZZ99-001/ }).waitFor()
  const path = new URL(page.url()).pathname

  await page.getByRole('button', { name: 'Lay to rest…' }).click()
  await page.getByRole('button', { name: 'Lay it to rest' }).click()
  await page.getByText('At rest in the archive').waitFor()
  expect(await page.getByRole('button', { name: 'Add to record' }).count()).toBe(0)
  const reader = await visit(browser, server.url, 'ulrich', path)
  await reader.page.getByRole('heading', { level: 1, name: /ZZ99-001/ }).waitFor()
  await reader.page.getByText('At rest in the archive').waitFor()

  await page.getByRole('button', { name: 'Bring it back to the board' }).click()
  await page.getByRole('button', { name: 'Add to record' }).waitFor()
  await reader.page.getByRole('button', { name: 'Ask for a date…' }).waitFor()
  await Promise.all([context.close(), reader.context.close()])
})

test('an address of nothing says so', async () => {
  const { page, context } = await visit(browser, server.url, 'thea', '/sheet/nothing-here')
  await page.getByText('There is no piece here under this address').waitFor()
  await context.close()
})

/** A sealed jacket on the board that nobody is to work on. */
async function sealedJacket(): Promise<string> {
  const board = await boardAs(server.url, 'thea')
  const records = board.records()
  const taken = new Set([...records.assignment.values()].map((turn) => turn.pieceId))
  const jacket = [...records.jacket.values()].find((one) => one.state === 'sealed' && !taken.has(one.id))
  board.close()
  if (!jacket) throw new Error('The demo lab has no sealed jacket on its board')
  return jacket.id
}
