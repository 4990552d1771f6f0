// What the work does to the people, in a real browser: figures with their formula for those they concern, checks done on
// one screen and seen on another, cautions read once, and incidents and samples that reach nobody else on any page.
import { unzipSync } from 'fflate'
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { techniqueOfStep } from '#lib/rules'
import { claimableFor } from '#lib/views'
import { ShiftId } from '#lib/words'
import { pretend, visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const LIVE_MS = 60_000
const TOMORROW = '2026-03-13'

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

test('a posted day to come stands on the person’s page, opens to its formula, and reaches nobody else', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const records = board.records()
  const shiftId = ShiftId.parse('morning')
  const [turn] = [...records.person.values()].flatMap(({ id, role }) =>
    role !== 'volunteer' || id === 'dov'
      ? []
      : claimableFor(records, id, TOMORROW, shiftId, 100)
          .filter(({ stepId }) => (techniqueOfStep(records, stepId)?.vibrationMs2 ?? 0) > 0)
          .map(({ pieceId, stepId, placeId }) => ({ shiftId, personId: id, pieceId, stepId, placeId })),
  )
  const technique = turn && techniqueOfStep(records, turn.stepId)
  const person = turn && records.person.get(turn.personId)
  if (!turn || !technique || !person) throw new Error('nobody could be planned at an air scribe tomorrow')
  const post = { kind: 'post' as const, date: TOMORROW, assignments: [turn], note: '' }
  expect(await within(board.act(post))).toBeNull()
  board.close()
  const list = `Planned exposure of ${person.name}, by day`
  for (const [who, options] of [
    [person.id, phone],
    ['thea', desk],
  ] as const) {
    const { page, context, complaints } = await visit(
      lab.browser,
      lab.server.url,
      who,
      `/crew?person=${person.id}`,
      options,
    )
    const day = page.getByRole('list', { name: list }).getByRole('listitem').filter({ hasText: 'Tomorrow, 13 March' })
    await day
      .getByText(/of vibration, \d+(\.\d)? dB\(A\)/)
      .first()
      .click()
    await shown(day.getByText(`Morning: ${technique.name}`)).toBeVisible()
    await shown(day.getByText(`√(${technique.vibrationMs2}²·`)).toContainText('ISO 5349-1:2001')
    await shown(day.getByText('Directive 2003/10/EC')).toBeVisible()
    expect(await day.textContent()).not.toMatch(/\bsafe\b/i)
    expect(complaints).toEqual([])
    await context.close()
  }
  const own = await visit(lab.browser, lab.server.url, person.id, '/mine', phone)
  await shown(own.page.getByText(/^Tomorrow, 13 March, planned: \d+ of \d+ points/)).toBeVisible()
  await own.context.close()
  for (const who of ['dov', 'emeka', 'tamsin']) {
    const { page, context } = await visit(lab.browser, lab.server.url, who, `/crew?person=${person.id}`, desk)
    // What comes as late as the figures would is there.
    if (who !== 'tamsin') await page.getByRole('heading', { name: 'Brings along' }).waitFor()
    else await page.getByRole('heading').or(page.locator('.notice')).first().waitFor()
    for (const title of ['Planned exposure', 'Today’s exposure'])
      await shown(page.getByRole('heading', { name: title })).toHaveCount(0)
    expect(await page.content()).not.toContain(list)
    await context.close()
  }
})

/** Every page there is; what is not theirs says so, and must say no more. */
const everyPage = [
  ...['/', '/rack', '/due', '/due/hindsight', '/crew', '/crew?person=zosia', '/crew?person=hamish', '/mine', '/season'],
  ...['/safety', '/batches', '/out', '/room', '/settings', '/setup', '/labels', '/wall'],
]
const everyFile = [
  'everything.jsonl',
  'backlog.csv',
  'specimens.csv',
  'darwin-core.zip',
  'incidents.csv',
  'incidents.json',
]

/** Everything that reaches one person on these pages, by every socket, call and file. */
async function heardBy(who: string, pages: readonly string[]): Promise<string> {
  const { page, context } = await visit(lab.browser, lab.server.url, null, '/', desk)
  const heard: string[] = []
  page.on('websocket', (socket) => {
    socket.on('framereceived', ({ payload }) => {
      heard.push(typeof payload === 'string' ? payload : payload.toString('utf8'))
    })
  })
  page.on('response', async (response) => {
    if (response.url().includes('/api/')) heard.push(await response.text().catch(() => ''))
  })
  await pretend(context, lab.server.url, who)
  for (const path of pages) {
    await page.goto(lab.server.url + path)
    await page.getByRole('heading').or(page.locator('.notice')).first().waitFor()
    heard.push(await page.content())
  }
  for (const path of [...everyFile.map((file) => `out/${file}`), 'log?of=changes&after=0', 'log?of=reads&after=0']) {
    const answer = await context.request.get(`${lab.server.url}/api/${path}`)
    heard.push(
      ...(path.endsWith('.zip') && answer.ok()
        ? Object.values(unzipSync(await answer.body())).map((bytes) => Buffer.from(bytes).toString('utf8'))
        : [await answer.text()]),
    )
  }
  await context.close()
  return heard.join('\n')
}

test('an incident is told, stands at once, and is told anew beside the old one', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/safety', desk)
  await manager.page.getByText(/air hose came off/).waitFor()
  await manager.page.getByRole('button', { name: 'Tell of something…' }).click()
  await manager.page.getByLabel('What happened').fill('PLANTED the sling slipped a hand’s width')
  await manager.page.getByRole('button', { name: 'Tell it' }).click()
  const told = manager.page.getByRole('list', { name: 'Incidents, newest first' }).getByRole('listitem')
  await told
    .filter({ hasText: 'PLANTED' })
    .getByRole('button', { name: /^Correct what was told/ })
    .click()
  await manager.page.getByLabel('What was done about it').fill('PLANTED taken out of use')
  await manager.page.getByRole('button', { name: 'Tell it anew' }).click()
  await shown(told.filter({ hasText: 'PLANTED taken out of use' })).toHaveCount(1)
  await shown(told.filter({ hasText: 'corrected since' })).toHaveCount(1)
  await manager.page.getByText(/^kept/).first().waitFor()
  await manager.context.close()
})

const health = ['air hose came off', 'invented sample', 'cyclone and filter', 'PLANTED']
const notes = ['Good hands', 'Let him sit beside Zosia']
const contacts = ['sealed card in the office']

test('the search for private words finds those that somebody may read', async () => {
  const all = await heardBy('thea', ['/safety', '/crew?person=zosia', '/crew?person=hamish'])
  for (const secret of [...health, ...notes, ...contacts]) expect(all, secret).toContain(secret)
})

// A preparator, a volunteer, a researcher and the screen in the room.
test.each([
  ['emeka', [...health, ...notes]],
  ['dov', [...health, ...notes, ...contacts]],
  ['tamsin', [...health, ...notes, ...contacts]],
  ['wall', [...health, ...notes, ...contacts]],
])('no page, message, answer or file carries private words of others to %s', async (who, secrets) => {
  const board = await boardAs(lab.server.url, 'thea')
  const sheet = [...board.records().specimen.keys()][0] ?? ''
  board.close()
  const heard = await heardBy(who, [...everyPage, `/sheet/${sheet}`, `/print?ids=${sheet}`])
  expect(heard.length).toBeGreaterThan(10_000)
  expect(secrets.filter((secret) => heard.includes(secret))).toEqual([])
})

test('the printed line-up carries the cautions of its work with their places, and the place shows them', async () => {
  const { page, context } = await visit(lab.browser, lab.server.url, 'thea', '/', desk)
  const printed = page.getByRole('region', { name: 'Cautions of this shift', includeHidden: true })
  await shown(printed).toHaveCount(1, { timeout: LIVE_MS })
  // A print pressed in the first instant has them: they come in one paint with the plan.
  await page.addInitScript(() => {
    new MutationObserver((_, seen) => {
      if (document.querySelector('.floor-plan') === null) return
      document.documentElement.dataset.first = document.querySelector('.floor-print-cautions') ? 'with' : 'without'
      seen.disconnect()
    }).observe(document, { childList: true, subtree: true })
  })
  await page.reload()
  await shown(page.locator('html')).toHaveAttribute('data-first', 'with', { timeout: LIVE_MS })
  await shown(printed).toHaveCount(1, { timeout: LIVE_MS })
  await shown(printed).toBeHidden()
  await page.emulateMedia({ media: 'print' })
  await shown(printed).toBeVisible()
  await shown(printed).toContainText('Stone dust: extraction arm on and close')
  await shown(printed).toContainText('Local rules and the safety officer decide.')
  expect(await printed.textContent()).not.toMatch(/\bsafe\b/i)
  await context.close()
})
