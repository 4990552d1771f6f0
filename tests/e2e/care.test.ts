// What the manager says of the work and of who may do it, in a real browser: a lift put into the equation and refused where
// it does not speak, a tool's figures with what is unknown, a path drawn up, and a claim that waits for the induction.
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { claimableFor } from '#lib/views'
import { ShiftId } from '#lib/words'
import { onSlowNetwork, visit } from '../kit/browser.ts'
import { boardAs } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const TODAY = '2026-03-12'
const SOON = { timeout: 60_000 }
const desk = { viewport: { width: 1280, height: 900 } }
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true }

const lab = openedLab()

test('a lift is worked out on the Sheet, and refused in plain words where the equation does not speak', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const jacket = [...board.records().jacket.values()].find(({ mass }) => (mass.weighedKg ?? mass.highKg) >= 33)
  if (!jacket) throw new Error('no heavy jacket is on the board')
  const { page, complaints, context } = await visit(lab.browser, lab.server.url, 'thea', `/sheet/${jacket.id}`, desk)
  const open = page.getByRole('button', { name: 'Work out a lift…' })
  await open.click(SOON)
  const form = page.getByRole('dialog')
  const say = form.getByRole('status')
  const fill = async (label: string, value: string) =>
    form.getByRole('spinbutton', { name: label, exact: true }).fill(value)
  await shown(say).toHaveText('All figures are needed.')
  // No measure is asked for before it says no.
  await fill('People who lift', '2')
  await shown(say).toHaveText(
    'The lifting equation does not apply: more than one person lifts. Use mechanical aid, or have it assessed.',
  )
  await fill('People who lift', '1')
  await form.getByText('With one hand', { exact: true }).click()
  await shown(say).toContainText('it is lifted with one hand. Use mechanical aid')
  await form.getByText('With one hand', { exact: true }).click()
  // The manual's ideal lift: every multiplier 1, so the limit is the load constant of 23 kg.
  await fill('Load, kg', '11.5')
  await fill('Hands from between the ankles, H, cm', '25')
  await fill('Hands above the floor at the start, V, cm', '75')
  await fill('How far up or down, D, cm', '25')
  await form.getByLabel('Grip').selectOption('good')
  await shown(say).toHaveText('Lifting index 0.5. Recommended weight limit 23.0 kg.')
  await form.getByRole('button', { name: 'Keep it on the Sheet' }).click()
  await shown(form).toHaveCount(0)
  await page.getByText('Lifting index 0.5. Recommended weight limit 23.0 kg.').click(SOON)
  await shown(
    page.getByText(/= 23 · 1\.00 · 1\.00 · .* = 23\.0 kg\. LI = 11\.5 \/ 23\.0 = 0\.50\. NIOSH 94-110/),
  ).toBeVisible()
  // What it was refused for is kept as well, with its measures.
  await open.click()
  await fill('People who lift', '2')
  await fill('Hands above the floor at the start, V, cm', '20')
  await fill('How far up or down, D, cm', '60')
  await form.getByRole('button', { name: 'Keep it on the Sheet' }).click()
  await shown(page.getByText(/^The lifting equation does not apply: more than one person lifts/)).toBeVisible(SOON)
  // A volunteer reads both, and has no form.
  const own = await visit(lab.browser, lab.server.url, 'amara', `/sheet/${jacket.id}`, phone)
  await own.page.getByRole('button', { name: /^Lifting and moving/, expanded: false }).tap(SOON)
  await shown(own.page.getByText(/^The lifting equation does not apply: more than one person lifts/)).toBeVisible(SOON)
  await shown(own.page.getByRole('button', { name: 'Work out a lift…' })).toHaveCount(0)
  expect([...complaints, ...own.complaints]).toEqual([])
  board.close()
  await Promise.all([context.close(), own.context.close()])
})

test('a tool’s figures carry K, basis and date; what nobody knows is unknown and not nought', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const toolOf = (id: string) =>
    board
      .records()
      .lab.get('lab')
      ?.techniques.find((one) => one.id === id)
  const { page, complaints, context } = await visit(lab.browser, lab.server.url, 'thea', '/settings', desk)
  const ladder = page.getByRole('listitem').filter({ has: page.locator('summary') })
  const tool = (name: string) => ladder.filter({ hasText: name }).first()
  await shown(tool('Hammer and chisel, saw').getByText('vibration unknown, noise unknown')).toBeVisible(SOON)
  const fine = tool('Fine air scribe')
  await fine.locator('summary').click()
  const vibration = fine.getByRole('group', { name: 'Vibration' })
  const keep = async (label: string, value: string) => {
    const field = vibration.getByLabel(label, { exact: true })
    await field.fill(value)
    await field.press('Enter')
  }
  await keep('Vibration total value, m/s²', '3.4')
  await keep('Its uncertainty K, m/s²', '1.1')
  await vibration.getByLabel('The vibration figure was').selectOption('declared')
  await keep('Declared or measured on', '2026-02-02')
  await keep('Where the vibration figure is from', 'the sheet that came with it')
  await within(
    board.until(() => {
      const { vibrationMs2, vibrationKMs2, vibrationBasis, vibrationOn, vibrationSource } = toolOf('fine-scribe') ?? {}
      return (
        JSON.stringify([vibrationMs2, vibrationKMs2, vibrationBasis, vibrationOn, vibrationSource]) ===
        JSON.stringify([3.4, 1.1, 'declared', '2026-02-02', 'the sheet that came with it'])
      )
    }),
  )
  const noise = fine.getByRole('group', { name: 'Noise' })
  const level = noise.getByLabel('Sound level at the ear, dB(A)')
  const samples = noise.getByLabel('Samples at the ear while it runs, dB(A)')
  await samples.fill('80 eighty')
  await samples.press('Enter')
  await shown(noise.getByText(/^Not kept: up to 30 levels/)).toBeVisible()
  await samples.fill('83 85 86')
  await samples.press('Enter')
  // 10·lg((10^8.3 + 10^8.5 + 10^8.6) / 3) = 84.8.
  await noise.getByRole('button', { name: /^Take 84\.8/ }).click()
  await shown(level).toHaveValue('84.8')
  // Left empty it is unknown again, everywhere.
  await level.fill('')
  await level.press('Enter')
  await within(board.until(() => toolOf('fine-scribe')?.noiseDba === null))
  await shown(fine.getByText(/noise unknown/)).toBeVisible()
  expect(toolOf('fine-scribe')?.vibrationMs2).toBe(3.4)
  // A limit in air of the lab's own, with its text and who entered it; a second one of the kind is refused.
  for (const said of ['A newer text', 'Another one']) {
    await page.getByRole('button', { name: 'Add a limit…' }).click()
    const form = page.getByRole('dialog', { name: 'Limit in air' })
    await form.getByLabel('Over 8 hours, µg/m³').fill('40')
    await form.getByLabel('Text it stands in').fill(said)
    await form.getByRole('button', { name: 'Keep it' }).click()
    if (said !== 'A newer text') await shown(form.getByText(/There is such a limit for respirable/)).toBeVisible()
  }
  await page.keyboard.press('Escape')
  const own = page.getByRole('list', { name: 'Limits in air of the lab’s own' }).getByRole('listitem')
  await shown(own).toHaveText([/silica, limit 40 µg\/m³.*A newer text; entered by Thea, 12 March 2026/])
  // Samples that were kept before are held against it at once.
  const ledger = await visit(lab.browser, lab.server.url, 'zosia', '/crew?person=zosia', phone)
  await ledger.page.getByText(/^Air samples, /).click(SOON)
  await shown(ledger.page.getByText(/limit 40 µg\/m³, A newer text, the lab’s own/)).toBeVisible(SOON)
  await ledger.context.close()
  expect(complaints).toEqual([])
  board.close()
  await context.close()
})

test('a path is drawn up in the settings, given to a volunteer, and its first step is on their phone', async () => {
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/settings', desk)
  const own = await visit(lab.browser, lab.server.url, 'hamish', '/mine', phone)
  const { page } = manager
  await page.getByRole('button', { name: 'Add a path' }).click(SOON)
  await page.locator('summary').filter({ hasText: 'Path 3' }).click()
  const name = page.getByLabel('Name of the path').last()
  await name.fill('Plaster work')
  await name.press('Enter')
  const steps = page.getByRole('list', { name: 'Steps of Plaster work' })
  await steps.getByLabel('Step 1', { exact: true }).selectOption('skill housing 1')
  await steps.getByRole('button', { name: 'Add a step' }).click()
  await shown(steps.getByLabel('Step 2', { exact: true })).toHaveValue('skill housing 2')
  await steps.getByRole('button', { name: 'Add a step' }).click()
  await steps.getByLabel('Step 3', { exact: true }).selectOption('skill joining 4')
  await steps.getByRole('button', { name: 'Step 3 earlier' }).click()
  await shown(steps.getByLabel('Step 2', { exact: true })).toHaveValue('skill joining 4')
  await steps.getByRole('button', { name: 'Remove step 3' }).click()
  await shown(steps.getByRole('combobox')).toHaveCount(2)
  await page.goto(`${lab.server.url}/crew?person=hamish`)
  await page.getByLabel('Path they follow').selectOption({ label: 'Plaster work' }, SOON)
  const path = own.page.getByRole('region', { name: 'Learning path' })
  await shown(path.getByText('Next on your path, plaster work')).toBeVisible(SOON)
  expect([...manager.complaints, ...own.complaints]).toEqual([])
  await Promise.all([manager.context.close(), own.context.close()])
})

test('a claim is refused for want of an item of the induction, and works once staff have ticked it', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const shiftId = ShiftId.parse('morning')
  const person = [...board.records().person.values()].find(
    ({ id, role, isActive }) =>
      // Amara is held: what is kept for somebody is the office's to know.
      role === 'volunteer' &&
      isActive &&
      id !== 'amara' &&
      claimableFor(board.records(), id, TODAY, shiftId).length > 0,
  )
  const piece = person && claimableFor(board.records(), person.id, TODAY, shiftId)[0]
  if (!person || !piece) throw new Error('nobody could claim anything this morning')
  const own = await visit(lab.browser, lab.server.url, person.id, '/mine', phone)
  const slow = await onSlowNetwork(own.page)
  const claims = own.page.getByRole('list', { name: 'You could claim' })
  const claim = claims.getByRole('button', { name: /^Claim / }).first()
  await shown(claim).toBeVisible(SOON)
  // Everybody else has been through it, or the lab would be refused to ask it of those with a seat today.
  const { induction = [] } = board.records().lab.get('lab') ?? {}
  const item = { id: 'masks', name: 'Dust masks', isRequired: true, from: TODAY }
  const ask = (over: object) => ({
    kind: 'setLab' as const,
    patch: { induction: [...induction, { ...item, ...over }] },
  })
  expect(await within(board.act(ask({ isRequired: false })))).toBeNull()
  const others = [...board.records().person.values()].filter((one) => one.role !== 'researcher' && one.isActive)
  const personIds = others.flatMap(({ id }) => (id === person.id ? [] : [id]))
  expect(await within(board.act({ kind: 'tickInduction', itemId: item.id, personIds, isDone: true }))).toBeNull()
  // That it is asked for from today on has not reached the phone when it claims.
  slow.hold()
  expect(await within(board.act(ask({})))).toBeNull()
  await claim.click()
  slow.release()
  const refused = own.page.getByRole('region', { name: 'Not kept' })
  await shown(refused.getByText(/has not been through “Dust masks” yet/)).toBeVisible(SOON)
  await shown(own.page.getByText('Not put to work before “Dust masks”.')).toBeVisible(SOON)
  await shown(claims).toHaveCount(0)
  await refused.getByRole('button', { name: 'Seen' }).click()
  // The Rack says why no piece is theirs yet.
  await own.page.goto(`${lab.server.url}/rack?fit=me`)
  await shown(own.page.getByText('Not put to work before “Dust masks”.')).toBeVisible(SOON)
  await own.page.getByRole('button', { name: 'Show all that waits, with why' }).click()
  await shown(own.page.getByText(/You have not been through “Dust masks” yet/).first()).toBeVisible(SOON)
  await own.page.goto(`${lab.server.url}/mine`)
  const staff = await visit(lab.browser, lab.server.url, 'emeka', `/crew?person=${person.id}`, desk)
  await staff.page.getByRole('button', { name: `${person.name} has been through Dust masks` }).click(SOON)
  await claim.click(SOON)
  await within(board.until((records) => records.assignment.has(`${TODAY}.morning.${person.id}`)))
  expect([...own.complaints, ...staff.complaints]).toEqual([])
  board.close()
  await Promise.all([own.context.close(), staff.context.close()])
})
