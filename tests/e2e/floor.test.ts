// The morning on the Floor in a real browser: by keyboard alone from nobody seated to a posted day that others see at
// once, somebody carried by hand, the command field, the room laid out with arrows, and a new lab led through its start.
import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { type RunningServer, startServer } from '../kit/server.ts'

let browser: Browser
let server: RunningServer
let manager: string
let volunteers: readonly string[]

const LONG_MS = 60_000

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer()
  const { people } = (await (await fetch(`${server.url}/api/demo`)).json()) as {
    readonly people: readonly { readonly id: string; readonly role: string }[]
  }
  manager = people.find((one) => one.role === 'manager')?.id ?? ''
  volunteers = people.filter((one) => one.role === 'volunteer').map((one) => one.id)
})

afterAll(async () => {
  await browser.close()
})

/** Tabs until the thing with the focus has this name; a keyboard has no other way. */
async function tabTo(page: Page, name: RegExp, most = 160): Promise<void> {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press('Tab')
    const found = await page.evaluate(() => {
      const on = document.activeElement
      return `${on?.getAttribute('aria-label') ?? ''} ${on?.textContent ?? ''}`.trim()
    })
    if (name.test(found)) return
  }
  throw new Error(`Tab never came to ${name}`)
}

test('a morning by keyboard alone: drawn up, held, redrawn, posted, and seen elsewhere', async () => {
  const own = await visit(browser, server.url, manager)
  const other = await visit(browser, server.url, volunteers[0] ?? '')
  await own.page.getByRole('heading', { name: /^This|^Morning|^Afternoon|^Evening/ }).waitFor()
  await tabTo(own.page, /^(Draw up|Redraw)$/)
  await own.page.keyboard.press('Enter')
  await own.page.getByText('Drawn up, not posted').waitFor({ timeout: LONG_MS })
  await own.page.getByRole('heading', { name: /drawn up|change/ }).waitFor()

  await tabTo(own.page, /^Hold /)
  await own.page.keyboard.press('Enter')
  await own.page.getByRole('heading', { name: 'Kept by every draw-up' }).waitFor()

  // Escape lifts the sheet and lays nothing away.
  await own.page.keyboard.press('Escape')
  await own.page.getByText('The proposal is lifted').waitFor()
  await own.page.getByRole('button', { name: 'Lay the sheet down' }).first().press('Enter')

  await own.page.getByRole('button', { name: 'Redraw' }).first().press('Enter')
  await own.page.getByText('Drawn up, not posted').waitFor({ timeout: LONG_MS })
  const post = own.page.getByRole('button', { name: 'Post', exact: true })
  // While better line-ups still come in there is nothing to post.
  await expect.poll(() => post.isEnabled()).toBe(true)
  await post.press('Enter')
  const posted = own.page.getByText(/^Posted \d\d:\d\d by /)
  const refused = own.page.getByText('Not posted.').locator('..')
  await posted.or(refused).first().waitFor()
  // A refusal is told in its own words here, not as a time that ran out.
  expect(await refused.allInnerTexts()).toEqual([])
  await other.page.getByText(/^Posted \d\d:\d\d by /).waitFor()
  expect(own.complaints).toEqual([])
  await Promise.all([own.context.close(), other.context.close()])
})

test('one tap says somebody is away, and Ctrl+Z takes it back', async () => {
  const { page, context } = await visit(browser, server.url, manager)
  const place = page.getByRole('button', { name: /^[A-Z]\d+, .* on [A-Z]{2}\d/ }).first()
  await place.press('Enter')
  const dock = page.getByRole('region', { name: /^[A-Z]\d/ })
  await dock.getByRole('button', { name: 'Away' }).first().click()
  await expect.poll(() => dock.getByRole('button', { name: 'Away' }).first().getAttribute('aria-pressed')).toBe('true')
  await page.keyboard.press('Control+z')
  await expect.poll(() => dock.getByRole('button', { name: 'Away' }).first().getAttribute('aria-pressed')).toBe('false')
  await context.close()
})

test('one key opens the command field, a code leads to its place', async () => {
  const { page, context } = await visit(browser, server.url, volunteers[1] ?? '')
  await page.getByRole('button', { name: /^M1, / }).waitFor()
  await page.keyboard.press('/')
  const field = page.getByRole('combobox')
  await expect.poll(() => field.evaluate((input) => input === document.activeElement)).toBe(true)
  await page.keyboard.type('m1')
  await page.getByRole('option', { name: /M1/ }).first().waitFor()
  await page.keyboard.press('Enter')
  await page.getByRole('region', { name: /^M1/ }).waitFor()
  await context.close()
})

test('the room is laid out with arrows, 5 cm a step, and taken back', async () => {
  const { page, context } = await visit(browser, server.url, manager, '/room')
  const place = page.getByRole('button', { name: /^J1, / }).first()
  await place.press('Enter')
  const field = page.getByLabel('From the left wall, m').first()
  const before = Number(await field.inputValue())
  await place.press('ArrowLeft')
  await expect.poll(async () => Number(await field.inputValue())).toBeCloseTo(before - 0.05)
  await page.getByRole('heading', { name: 'Room and places' }).click()
  await page.keyboard.press('Control+z')
  await expect.poll(async () => Number(await field.inputValue())).toBeCloseTo(before)
  await context.close()
})

test('the plan stays whole at every width, in the dark and without motion', async () => {
  for (const width of [390, 768, 1280, 1920]) {
    const { page, context, complaints } = await visit(browser, server.url, volunteers[2] ?? '', '/', {
      viewport: { width, height: 900 },
      colorScheme: width === 768 ? 'dark' : 'light',
      reducedMotion: 'reduce',
    })
    await page.getByRole('button', { name: /^B1, / }).waitFor()
    const wide = await page.evaluate(() => document.documentElement.scrollWidth)
    expect(wide, `page is no wider than ${width}`).toBeLessThanOrEqual(width)
    expect(complaints).toEqual([])
    await context.close()
  }
})

test('a new lab leads its manager from the link to the first place', async () => {
  const fresh = await startServer({ args: ['--new', 'Test lab'] })
  const link = await expect
    .poll(() => /https?:\/\/\S+\/join#\S+/.exec(fresh.said())?.[0] ?? '', { timeout: LONG_MS })
    .not.toBe('')
    .then(() => /https?:\/\/\S+\/join#\S+/.exec(fresh.said())?.[0] ?? '')
  const context = await browser.newContext()
  const page = await context.newPage()
  await page.goto(link)
  const name = page.getByLabel('Your first name')
  await page.getByRole('button', { name: 'Come in' }).waitFor()
  if (await name.isVisible()) await name.fill('Maren')
  await page.getByRole('button', { name: 'Come in' }).click()
  await page.getByRole('link', { name: 'Go on setting up' }).click()
  await page.getByRole('link', { name: 'Open the plan' }).click()
  const begin = page.getByRole('button', { name: /^Begin with a room/ })
  if (await begin.isVisible()) await begin.click()
  await page.getByRole('button', { name: /Add a place/ }).click()
  await page.getByRole('button', { name: /^microscope bench/ }).click()
  await page.getByRole('button', { name: /^M1, Microscope bench 1/ }).waitFor()
  await page.goto(`${fresh.url}/setup`)
  await page.getByRole('button', { name: 'Done, go on' }).click()
  await page.getByRole('button', { name: /The parts of your day/, expanded: true }).waitFor()
  await context.close()
})
