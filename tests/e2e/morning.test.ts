// A whole morning with four people at once, each in a window of their own: somebody is late, the day is drawn up, held,
// redrawn and posted, two reach for one jacket in the same instant, work is started and finished, a researcher sees it
// grow; in the middle of it the server is killed as a crash does it, and nothing that was kept is missing.
import type { Browser, Page } from 'playwright'
import { expect as shown } from 'playwright/test'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { onSlowNetwork, openBrowser, visit } from '../kit/browser.ts'
import { boardAs, type LiveClient } from '../kit/live-client.ts'
import { type RunningServer, startServer, within } from '../kit/server.ts'

const TODAY = '2026-03-12'
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true }
const SOON = { timeout: 60_000 }

let browser: Browser
let server: RunningServer

beforeAll(async () => {
  browser = await openBrowser()
  server = await startServer()
})
afterAll(async () => {
  await browser?.close()
  await within(server.stop())
})

const kept = (page: Page) => shown(page.getByRole('status').filter({ hasText: /^kept/ }).first()).toBeVisible(SOON)

test('a morning of four people, with a crash in the middle of it', async () => {
  const board = await boardAs(server.url, 'thea')
  const thea = await visit(browser, server.url, 'thea', '/', { viewport: { width: 1440, height: 900 } })
  const amara = await visit(browser, server.url, 'amara', '/mine', phone)
  const dov = await visit(browser, server.url, 'dov', '/rack', phone)
  const ulrich = await visit(browser, server.url, 'ulrich', '/due', { viewport: { width: 1280, height: 800 } })

  // Somebody says on the phone that they come later; the manager's Floor says so within a blink.
  await amara.page.getByRole('button', { name: 'I am in' }).waitFor({ state: 'hidden', ...SOON })
  await amara.page.getByRole('button', { name: 'I come later' }).click(SOON)
  await amara.page.getByRole('dialog').getByRole('button', { name: 'Say so' }).click(SOON)
  await kept(amara.page)
  await shown(thea.page.getByText(/Amara/).first()).toBeVisible(SOON)
  await shown(thea.page.getByText(/late/).first()).toBeVisible(SOON)
  await within(board.until((records) => records.attendance.get(`${TODAY}.morning.amara`)?.state === 'late'))

  // Two reach for the same jacket before anything is posted.
  const { piece, first, second } = await contested(board)
  const one = await visit(browser, server.url, first, '/rack', phone)
  const two = await visit(browser, server.url, second, '/rack', phone)
  const networks = [await onSlowNetwork(one.page), await onSlowNetwork(two.page)]
  for (const { page } of [one, two])
    await page.getByRole('searchbox', { name: 'Number, place, words' }).fill(piece, SOON)
  const button = (page: Page) => page.getByRole('button', { name: `Claim ${piece}` })
  await Promise.all([one, two].map(({ page }) => button(page).waitFor(SOON)))
  // Neither has heard of the other's claim when theirs goes out.
  for (const { hold } of networks) hold()
  await Promise.all([one, two].map(({ page }) => button(page).click()))
  for (const { release } of networks) release()
  const taken = (records: ReturnType<LiveClient['records']>) =>
    [...records.assignment.values()].filter(
      (turn) => turn.date === TODAY && turn.how === 'claimed' && numberOf(records, turn.pieceId) === piece,
    )
  await within(board.until((records) => taken(records).length > 0))
  const claims = taken(board.records())
  expect(claims).toHaveLength(1)
  const winner = claims[0]?.personId === first ? first : second
  const loserPage = winner === first ? two.page : one.page
  const winnerPage = winner === first ? one.page : two.page
  const winnerName = board.records().person.get(winner)?.name ?? ''
  // The other is told at once, by name.
  await shown(loserPage.getByText(new RegExp(`${winnerName}.*(has|since)`)).first()).toBeVisible(SOON)

  // Draw up, hold one, redraw, post.
  const { page } = thea
  await page.getByRole('button', { name: 'Draw up', exact: true }).click(SOON)
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  await page
    .getByRole('button', { name: /^Hold / })
    .first()
    .click(SOON)
  await kept(page)
  await page.getByRole('button', { name: 'Redraw' }).first().click(SOON)
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  await page.getByRole('button', { name: 'Post', exact: true }).click(SOON)
  await within(board.until((records) => records.day.has(TODAY)))
  await kept(page)
  const posted = [...board.records().assignment.values()].filter((turn) => turn.date === TODAY)
  expect(posted.length).toBeGreaterThan(8)
  // The claim was kept through the draw-up.
  expect(posted.some((turn) => turn.personId === winner && turn.how === 'claimed')).toBe(true)

  // The winner starts on the phone. Then the server dies, with the work just kept.
  await winnerPage.goto(`${server.url}/mine`)
  await winnerPage.getByRole('button', { name: 'Start', exact: true }).click(SOON)
  await kept(winnerPage)
  await within(board.until((records) => [...records.work.values()].some((work) => work.personId === winner)))
  const before = board.records()
  const port = new URL(server.url).port
  await server.kill()
  // Out of touch, somebody types on: it is held on the phone and sent when the server is back.
  await winnerPage.getByRole('button', { name: 'Note' }).click(SOON)
  await winnerPage.getByRole('dialog').getByRole('textbox').fill('Rib end is loose under the left edge.')
  await winnerPage.getByRole('button', { name: 'Add to the record' }).click(SOON)
  await shown(winnerPage.getByText(/held here/).first()).toBeVisible(SOON)

  server = await startServer({ data: server.data, env: { PORT: port, TALUS_AS_IF: '2026-03-12T10:40' } })
  const again = await boardAs(server.url, 'thea')
  const after = again.records()
  for (const kind of ['assignment', 'attendance', 'work', 'day', 'step', 'specimen', 'jacket'] as const) {
    for (const [id, record] of before[kind]) expect(after[kind].get(id), `${kind} ${id}`).toEqual(record)
  }
  await kept(winnerPage)

  // Finish; the researcher sees it on the Sheet.
  const pieceId = claims[0]?.pieceId ?? ''
  await ulrich.page.goto(`${server.url}/sheet/${pieceId}`)
  await shown(ulrich.page.getByText('Rib end is loose under the left edge.').first()).toBeVisible(SOON)
  await winnerPage.getByRole('button', { name: 'Finish', exact: true }).click(SOON)
  const sheet = winnerPage.getByRole('dialog')
  await sheet.getByLabel('How did it go?').fill('Freed the rim, 3 cm.')
  await sheet.getByRole('button', { name: 'Keep it' }).click(SOON)
  await kept(winnerPage)
  await within(
    again.until((records) =>
      [...records.work.values()].some((work) => work.personId === winner && work.state === 'finished'),
    ),
  )
  await shown(ulrich.page.getByText('Freed the rim, 3 cm.').first()).toBeVisible(SOON)
  for (const visitor of [thea, amara, dov, ulrich, one, two]) await visitor.context.close()
  board.close()
  again.close()
})

function numberOf(records: ReturnType<LiveClient['records']>, pieceId: string): string {
  return records.specimen.get(pieceId)?.number ?? records.jacket.get(pieceId)?.fieldNumber ?? ''
}

/** A piece for one pair of hands, and two free people it fits, by what each one's own rules say. */
async function contested(board: LiveClient): Promise<{ piece: string; first: string; second: string }> {
  const { fitForMe } = await import('#lib/rules')
  const records = board.records()
  const free = [...records.person.values()].filter(
    (person) =>
      person.role === 'volunteer' &&
      person.id !== 'amara' &&
      records.attendance.get(`${TODAY}.morning.${person.id}`)?.state === 'in' &&
      !records.assignment.has(`${TODAY}.morning.${person.id}`),
  )
  const seen = new Map<string, string>()
  for (const person of free) {
    for (const fit of fitForMe(records, { personId: person.id }, TODAY, 'morning')) {
      const way = fit.ways[0]
      if (!way || records.step.get(way.stepId)?.peopleMax !== 1) continue
      const other = seen.get(fit.pieceId)
      if (other !== undefined) return { piece: numberOf(records, fit.pieceId), first: other, second: person.id }
      seen.set(fit.pieceId, person.id)
    }
  }
  throw new Error('The demo has no piece that fits two free people; expected at least one.')
}
