// The edits whose way to paint the board bench times, on the screens where people make them: a tick on Crew, a tick
// and a hold on the Floor, a place pushed in the room, a claim on My shift. Each press is checked to have shown its
// change, and there and back again leaves the lab as it was.
import type { Locator, Page } from 'playwright'
import { pressAndPaint } from './board-page.ts'

export interface Presser {
  /** Goes to the screen where the presses are made. */
  readonly open: (page: Page, url: string) => Promise<void>
  /** One press, which the next one takes back; answers what kind of edit it was. */
  readonly press: (page: Page) => Promise<string>
}

/** Between presses, so that the receipt of the last one has come and the next frame is its own. */
const PAUSE_MS = 250

/** The edits of somebody who manages the morning. */
export const managersPresses: readonly Presser[] = [
  {
    open: async (page, url) => {
      await page.goto(`${url}/crew`)
      await page
        .getByRole('button', { name: / is in$/ })
        .first()
        .waitFor()
    },
    press: (page) => toggle(page, 'tick on Crew', page.getByRole('button', { name: / is in$/ }).nth(2)),
  },
  {
    open: openPlace,
    press: (page) =>
      toggle(page, 'tick on Floor', dock(page).getByRole('button', { name: 'Here', exact: true }).first()),
  },
  {
    open: openPlace,
    press: (page) =>
      toggle(
        page,
        'hold',
        dock(page)
          .getByRole('button', { name: /^(Hold|Held)$/ })
          .first(),
      ),
  },
  {
    open: async (page, url) => {
      await page.goto(`${url}/room`)
      await page.locator('svg g[role=button]').first().waitFor()
    },
    press: pushPlace(),
  },
]

/** The edit of a volunteer without a seat. */
export const volunteersPresses: readonly Presser[] = [
  {
    open: async (page, url) => {
      await page.goto(`${url}/mine`)
      await claimOrBack(page).waitFor()
    },
    press: async (page) => {
      const button = claimOrBack(page)
      const before = await button.textContent()
      const isBack = before?.includes('Hand it back') === true
      await pressAndPaint(page, button)
      await page.waitForTimeout(PAUSE_MS)
      expectChange(before, await claimOrBack(page).textContent(), 'claim')
      return isBack ? 'claim handed back' : 'claim'
    },
  },
]

const dock = (page: Page): Locator => page.locator('section[aria-labelledby=dock-heading]')
const claimOrBack = (page: Page): Locator => page.getByRole('button', { name: /^(Claim |Hand it back)/ }).first()

async function openPlace(page: Page, url: string): Promise<void> {
  await page.goto(url)
  // A place with somebody at it says what they work on.
  await page
    .getByRole('button', { name: /^[A-Z]+\d+, .* on / })
    .first()
    .press('Enter')
  await dock(page).waitFor()
}

async function toggle(page: Page, kind: string, button: Locator): Promise<string> {
  const before = await button.getAttribute('aria-pressed')
  await pressAndPaint(page, button)
  await page.waitForTimeout(PAUSE_MS)
  expectChange(before, await button.getAttribute('aria-pressed'), kind)
  return kind
}

/** Pushes a place by 5 cm and back, with the arrows. */
function pushPlace(): (page: Page) => Promise<string> {
  let isPushed = false
  return async (page) => {
    const place = page.locator('svg g[role=button]').first()
    const at = () => place.locator('rect').first().getAttribute('x')
    const before = await at()
    await pressAndPaint(page, place, isPushed ? 'ArrowLeft' : 'ArrowRight')
    isPushed = !isPushed
    await page.waitForTimeout(PAUSE_MS)
    expectChange(before, await at(), 'place moved')
    return 'place moved'
  }
}

function expectChange(before: unknown, after: unknown, kind: string): void {
  if (before === after) throw new Error(`Got a press (${kind}) that shows no change; expected one`)
}
