// Whom to train comes from the season's own futures, in a real browser: when hands run short, the lab is told of whom.
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const SOON = { timeout: 60_000 }
const desk = { viewport: { width: 1280, height: 800 } }

const lab = openedLab()

test('whom to train is worked out for what the season waits for most', async () => {
  // Three of four stay away from next week on, so that the season waits for hands.
  const board = await boardAs(lab.server.url, 'thea')
  const crew = [...board.records().person.values()].filter(({ role, isActive }) => role !== 'researcher' && isActive)
  for (const [n, person] of crew.entries()) {
    if (n % 4 === 0) continue
    const spells = [{ from: '2026-03-16', to: '2026-08-31', pattern: [] }]
    expect(await within(board.act({ kind: 'setSpells', personId: person.id, spells }))).toBeNull()
  }
  board.close()
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  await shown(manager.page.getByRole('heading', { name: /^Short of hands: / })).toBeVisible(SOON)
  await manager.page.getByRole('button', { name: 'Whom to train' }).click()
  await shown(manager.page.getByText('Playing the season.')).toHaveCount(0, SOON)
  const rows = manager.page.getByRole('list', { name: /^Whom to train for / }).getByRole('listitem')
  const none = manager.page.getByText(/^(Nobody is one level short of|No sign-off helps) /)
  await shown(rows.or(none).first()).toBeVisible(SOON)
  expect(manager.complaints).toEqual([])
  await manager.context.close()
})
