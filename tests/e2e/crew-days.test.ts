// Who comes and what they can do, seen from two screens at once: days changed on the phone reach the manager's posted
// line-up, a sign-off opens a claim elsewhere, and a turn goes from hand to hand.
import type { Page } from 'playwright'
import { expect as shown } from 'playwright/test'
import { expect, test } from 'vitest'
import { applyOp, judgeOp, type Op, parseOp } from '#lib/ops'
import { claimableFor } from '#lib/views'
import { PersonId, type Records, withChanges } from '#lib/words'
import { visit } from '../kit/browser.ts'
import { boardAs, type LiveClient } from '../kit/live-client.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { within } from '../kit/server.ts'

const TODAY = '2026-03-12'
/** The machine may be busy. */
const SOON = { timeout: 60_000 }
const desk = { viewport: { width: 1280, height: 800 } }
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true }
const when = { at: `${TODAY}T09:25:00.000Z`, date: TODAY, minute: 565 }

const lab = openedLab()

const opOf = (body: object): Op => {
  const { op } = parseOp({ id: 'op-try', ...body })
  if (!op) throw new Error('not an op')
  return op
}

/** Somebody free this morning, a technique they lack, and a piece that would be theirs to claim with it. */
function opensAClaim(records: Records) {
  const thea = { personId: PersonId.parse('thea'), role: 'manager' as const }
  for (const person of records.person.values()) {
    // Amara is held: what is kept for somebody is the office's to know.
    if (person.role !== 'volunteer' || !person.isActive || person.id === 'amara') continue
    const before = claimableFor(records, person.id, TODAY, 'morning' as never, 500)
    for (const { id: techniqueId, name } of records.lab.get('lab')?.techniques ?? []) {
      if (person.skills.some((skill) => skill.techniqueId === techniqueId)) continue
      const op = opOf({ kind: 'signOff', personId: person.id, techniqueId, level: 2, expiresOn: null })
      if (judgeOp(records, op, thea, when).length > 0) continue
      const after = withChanges(records, applyOp(records, op, thea, when))
      const shownThen = claimableFor(after, person.id, TODAY, 'morning' as never)
      const opened = shownThen.find((one) => !before.some((other) => other.pieceId === one.pieceId))
      const piece = opened && records.specimen.get(opened.pieceId)
      if (piece) return { person, technique: { id: techniqueId, name }, piece }
    }
  }
  throw new Error('no sign-off would open a claim; expected one in the demo lab')
}

test('a sign-off on the desk opens a claim on a phone at once', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const { person, technique, piece } = opensAClaim(board.records())
  const own = await visit(lab.browser, lab.server.url, person.id, '/mine', phone)
  const claim = own.page.getByRole('button', { name: `Claim ${piece.number}`, exact: true })
  await shown(
    own.page
      .getByRole('list', { name: 'You could claim' })
      .or(own.page.getByText('Nothing that waits suits you'))
      .first(),
  ).toBeVisible(SOON)
  await shown(claim).toHaveCount(0)
  const path = `/crew?person=${person.id}&technique=${technique.id}`
  const manager = await visit(lab.browser, lab.server.url, 'thea', path, desk)
  await manager.page.getByText('2 Works alone').click(SOON)
  await manager.page.getByLabel('A word on it, for staff').fill('calm with the tool')
  await manager.page.getByRole('button', { name: 'Sign off', exact: true }).click()
  await claim.click(SOON)
  await within(board.until((records) => records.assignment.get(`${TODAY}.morning.${person.id}`)?.pieceId === piece.id))
  // What was signed stays on record for staff, with its word.
  await manager.page.getByRole('button', { name: `Sign off ${technique.name}`, exact: true }).click(SOON)
  await manager.page.getByText('Signed before, 1').click(SOON)
  await shown(manager.page.getByText(/calm with the tool/)).toBeVisible(SOON)
  await own.page.getByRole('button', { name: 'Hand it back' }).click(SOON)
  await within(board.until((records) => !records.assignment.has(`${TODAY}.morning.${person.id}`)))
  expect([...own.complaints, ...manager.complaints]).toEqual([])
  board.close()
  await Promise.all([own.context.close(), manager.context.close()])
})

async function postToday(page: Page, board: LiveClient): Promise<void> {
  await page.getByRole('button', { name: 'Draw up', exact: true }).click(SOON)
  await shown(page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  await page.getByRole('button', { name: 'Post', exact: true }).click(SOON)
  await within(
    board.until((records) => records.day.has(TODAY)),
    60_000,
  )
}

test('days changed on the phone: the posted line-up asks the manager for a redraw, which one press posts', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/', desk)
  await postToday(manager.page, board)
  const turn = [...board.records().assignment.values()].find((one) => {
    const person = board.records().person.get(one.personId)
    return one.date === TODAY && one.shiftId === 'afternoon' && one.how === 'drawn' && person?.role === 'volunteer'
  })
  const person = turn && board.records().person.get(turn.personId)
  if (!turn || !person) throw new Error('no volunteer is seated this afternoon')
  const own = await visit(lab.browser, lab.server.url, person.id, `/crew?person=${person.id}`, phone)
  await own.page.getByRole('button', { name: 'Away or extra…' }).click(SOON)
  await own.page.getByLabel('On, or from').fill(TODAY)
  await own.page.getByRole('button', { name: 'Note it' }).click()
  const row = manager.page.getByRole('listitem').filter({ hasText: `${person.name} is away` })
  await row.getByRole('link', { name: 'Redraw' }).click(SOON)
  await shown(manager.page.getByText('Drawn up, not posted').first()).toBeVisible(SOON)
  await manager.page.getByRole('button', { name: 'Post', exact: true }).click(SOON)
  await within(
    board.until((records) => (records.day.get(TODAY)?.times ?? 0) > 1),
    60_000,
  )
  expect(board.records().assignment.has(turn.id)).toBe(false)
  expect([...own.complaints, ...manager.complaints]).toEqual([])
  board.close()
  await Promise.all([own.context.close(), manager.context.close()])
})

/** An offered turn that somebody else, without a seat in that shift, may take. */
function takeable(records: Records) {
  for (const turn of records.assignment.values()) {
    const owner = records.person.get(turn.personId)
    if (!owner || turn.date !== TODAY || turn.shiftId !== 'afternoon' || owner.role !== 'volunteer') continue
    const offer = opOf({ kind: 'offerSwap', assignmentId: turn.id, note: '' })
    const who = { personId: owner.id, role: owner.role }
    if (judgeOp(records, offer, who, when).length > 0) continue
    const open = withChanges(records, applyOp(records, offer, who, when))
    const take = opOf({ kind: 'takeSwap', swapId: turn.id, gives: null })
    const taker = [...records.person.values()].find(
      ({ id, role, isActive }) =>
        isActive && role === 'volunteer' && judgeOp(open, take, { personId: id, role }, when).length === 0,
    )
    if (taker) return { turn, owner, taker }
  }
  throw new Error('no turn of this afternoon can change hands')
}

test('a turn is offered on one phone and taken on another with one press, and the manager sees it', async () => {
  const board = await boardAs(lab.server.url, 'thea')
  await within(board.until((records) => records.day.has(TODAY)))
  const { turn, owner, taker } = takeable(board.records())
  const [one, other] = [
    await visit(lab.browser, lab.server.url, owner.id, '/mine', phone),
    await visit(lab.browser, lab.server.url, taker.id, '/mine', phone),
  ]
  await one.page.getByRole('button', { name: /^Offer your turn, today, afternoon/i }).click(SOON)
  await other.page.getByRole('button', { name: new RegExp(`^Take ${owner.name}’s turn`) }).click(SOON)
  await within(
    board.until(
      (records) =>
        records.assignment.get(`${TODAY}.afternoon.${taker.id}`)?.placeId === turn.placeId &&
        !records.assignment.has(turn.id),
    ),
  )
  const manager = await visit(lab.browser, lab.server.url, 'thea', '/crew', desk)
  await shown(
    manager.page.getByRole('list', { name: 'Turns from hand to hand' }).getByText(new RegExp(`${taker.name} took it`)),
  ).toBeVisible(SOON)
  expect([...one.complaints, ...other.complaints, ...manager.complaints]).toEqual([])
  board.close()
  await Promise.all([one.context.close(), other.context.close(), manager.context.close()])
})
