// A whole morning with the keyboard alone: whatever is pressed here is Tab, Shift+Tab, Enter, Space, arrows, Escape and
// letters; the mouse is never touched, and what has the focus is always to be seen.
import type { Browser, Page } from 'playwright'
import { expect as shown } from 'playwright/test'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, visit } from '../kit/browser.ts'
import { boardAs, type LiveClient } from '../kit/live-client.ts'
import { type RunningServer, startServer, within } from '../kit/server.ts'

const TODAY = '2026-03-12'
const SOON = { timeout: 60_000 }
let browser: Browser
let server: RunningServer
let board: LiveClient

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer()
  board = await boardAs(server.url, 'thea')
})
afterAll(async () => {
  board?.close()
  await browser?.close()
  await within(server.stop())
})

/** What has the focus, as a reader would name it, and whether its focus can be seen. */
async function focused(page: Page): Promise<{ readonly name: string; readonly isSeen: boolean }> {
  return page.evaluate(() => {
    const at = document.activeElement
    if (!(at instanceof HTMLElement || at instanceof SVGElement) || at === document.body)
      return { name: '', isSeen: true }
    const field = at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement || at instanceof HTMLSelectElement
    const label = field ? (at.labels?.[0]?.textContent ?? '') : ''
    const name = at.getAttribute('aria-label') ?? (label || (at.textContent ?? ''))
    // The ring may stand on the focused thing or on the frame that holds it.
    const rings = [at, at.parentElement, at.parentElement?.parentElement].map((one) => one && getComputedStyle(one))
    const isSeen =
      rings.some((style) => style && style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2) ||
      at instanceof SVGElement ||
      at.id === 'screen'
    return { name: name.replace(/\s+/g, ' ').trim(), isSeen }
  })
}

/** Tabs on until something of this name has the focus. */
async function tabTo(page: Page, name: RegExp, most = 160): Promise<void> {
  const passed: string[] = []
  for (let i = 0; i < most; i++) {
    const at = await focused(page)
    expect(at.isSeen, `the focus on “${at.name}” can be seen`).toBe(true)
    if (name.test(at.name)) return
    passed.push(at.name)
    await page.keyboard.press('Tab')
  }
  throw new Error(`${name} was not reached by Tab; passed ${passed.slice(0, 60).join(' | ')}`)
}

test('the manager draws up, holds, compares, redraws and posts by keyboard alone', async () => {
  const { page, context } = await visit(browser, server.url, 'thea', '/', { viewport: { width: 1280, height: 800 } })
  await page.getByRole('navigation').first().waitFor(SOON)
  // Straight to a person by the command field.
  await page.keyboard.press('/')
  await page.keyboard.type('amara')
  await page.getByRole('option').first().waitFor(SOON)
  // The first Escape empties the field, the second lays it down.
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await tabTo(page, /^Draw up$/)
  await page.keyboard.press('Enter')
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  // The button that began it is gone: the keyboard stands on what follows it, here and after posting.
  expect((await focused(page)).name).toBe('Redraw')
  await tabTo(page, /^Hold /)
  await page.keyboard.press('Enter')
  await shown(page.getByRole('button', { name: / is held$/ }).first()).toBeVisible(SOON)
  await page.keyboard.press('Shift+Tab')
  await tabTo(page, /^Redraw$/)
  await page.keyboard.press('Enter')
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  await tabTo(page, /^Post$/)
  await page.keyboard.press('Enter')
  await within(board.until((records) => records.day.has(TODAY)))
  await shown(page.getByText(/Posted/).first()).toBeVisible(SOON)
  await shown(page.getByRole('button', { name: 'Redraw', exact: true })).toBeFocused(SOON)
  await context.close()
})

test('a volunteer starts, writes a note, and finishes by keyboard alone', async () => {
  const turn = [...board.records().assignment.values()].find(
    (one) =>
      one.date === TODAY && one.shiftId === 'morning' && board.records().person.get(one.personId)?.role === 'volunteer',
  )
  expect(turn).toBeDefined()
  const who = turn?.personId ?? ''
  const { page, context } = await visit(browser, server.url, who, '/mine', { viewport: { width: 1280, height: 800 } })
  await page.getByRole('button', { name: 'Start', exact: true }).waitFor(SOON)
  await tabTo(page, /^Start$/)
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Finish', exact: true }).waitFor(SOON)
  // The button that was pressed is gone, and the next ones are at hand.
  await tabTo(page, /^Note$/, 4)
  await page.keyboard.press('Enter')
  await page.getByRole('dialog').waitFor(SOON)
  await tabTo(page, /What did you see or do/)
  await page.keyboard.type('Rock comes off in plates.')
  await tabTo(page, /Add to the record/)
  await page.keyboard.press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'hidden', ...SOON })
  await tabTo(page, /^Finish$/)
  await page.keyboard.press('Space')
  await page.getByRole('dialog').waitFor(SOON)
  await tabTo(page, /How did it go/)
  await page.keyboard.type('Two centimetres freed.')
  await tabTo(page, /Keep it/)
  await page.keyboard.press('Enter')
  await within(
    board.until((records) =>
      [...records.work.values()].some((one) => one.personId === who && one.state === 'finished'),
    ),
  )
  await context.close()
})

test('a place’s panel leaves the keyboard on the place when it is closed', async () => {
  const { page, context } = await visit(browser, server.url, 'thea', '/', { viewport: { width: 1280, height: 800 } })
  await page.getByRole('button', { name: /^M1, / }).waitFor(SOON)
  await tabTo(page, /^M1, /)
  await page.keyboard.press('Enter')
  const panel = page.getByRole('region', { name: /^M1/ })
  await panel.waitFor(SOON)
  await page.keyboard.press('Escape')
  await panel.waitFor({ state: 'hidden', ...SOON })
  expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toMatch(/^M1, /)
  await context.close()
})

test('a place is moved, turned and put back with arrow keys', async () => {
  const { page, context } = await visit(browser, server.url, 'thea', '/room', {
    viewport: { width: 1280, height: 800 },
  })
  const before = board.records().place.get('k1') ?? [...board.records().place.values()].find((one) => one.code === 'H1')
  expect(before).toBeDefined()
  await page.getByRole('navigation').first().waitFor(SOON)
  await tabTo(page, new RegExp(`^${before?.code}`))
  await page.keyboard.press('Enter')
  await page.keyboard.press('ArrowRight')
  await within(board.until((records) => records.place.get(before?.id ?? '')?.xM !== before?.xM))
  const moved = board.records().place.get(before?.id ?? '')
  // The room is drawn in steps of 5 cm.
  expect(Math.round(((moved?.xM ?? 0) - (before?.xM ?? 0)) * 100)).toBe(5)
  await page.keyboard.press('Control+z')
  await within(board.until((records) => records.place.get(before?.id ?? '')?.xM === before?.xM))
  await context.close()
})
