// The door and the rooms behind it together: what ends a standing ends its open connections at once, and what was
// acknowledged before the end is there after it.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { PersonId } from '#lib/words'
import { boardAs, type Caller, caller, openBoard, peopleOf } from '../kit/live-client.ts'
import { type RunningServer, startServer, within } from '../kit/server.ts'

let server: RunningServer
let byRole: Record<string, PersonId>
beforeAll(async () => {
  server = await startServer()
  const people = await peopleOf(server.url)
  byRole = Object.fromEntries(people.map(({ id, role }) => [role, id]))
})
afterAll(async () => {
  expect((await within(server.stop())).code).toBe(0)
})

async function as(role: string): Promise<Caller> {
  const visitor = caller(server.url)
  expect((await visitor.post('/api/demo', { personId: role === 'wall' ? role : byRole[role] })).status).toBe(200)
  return visitor
}

test('signing out ends the open connections of that session, on all other devices theirs', async () => {
  const [phone, laptop] = [await as('volunteer'), await as('volunteer')]
  const [onPhone, onLaptop] = [await openBoard(server.url, phone), await openBoard(server.url, laptop)]
  await phone.post('/api/sign-out', {})
  expect((await within(onPhone.ended)).reason).toBe('signed-out')
  const tablet = await as('volunteer')
  expect((await tablet.post('/api/devices', { endOthers: true })).status).toBe(200)
  expect((await within(onLaptop.ended)).reason).toBe('signed-out')
  await expect(openBoard(server.url, phone)).rejects.toThrow('401')
})

test('being somebody else on the same device ends what was open before', async () => {
  const visitor = await as('manager')
  const before = await openBoard(server.url, visitor)
  await visitor.post('/api/demo', { personId: 'wall' })
  expect((await within(before.ended)).reason).toBe('signed-out')
  const after = await openBoard(server.url, visitor)
  expect(after.records().privateNote.size).toBe(0)
  expect(await after.act({ kind: 'setLab', patch: { name: 'Mine' } })).not.toBeNull()
  after.close()
})

test('a change of role counts on connections that are open', async () => {
  const manager = await openBoard(server.url, await as('manager'))
  const personId = byRole.preparator
  if (!personId) throw new Error('The demo has preparators.')
  const hers = await openBoard(server.url, await as('preparator'))
  expect(await manager.act({ kind: 'editPerson', personId, patch: { role: 'researcher' } })).toBeNull()
  await within(hers.ended)
  const again = await openBoard(server.url, await as('preparator'))
  expect(again.records().person.size).toBeGreaterThan(0)
  expect(again.records().attendance.size).toBe(0)
  expect(await manager.act({ kind: 'editPerson', personId, patch: { role: 'preparator' } })).toBeNull()
  for (const board of [manager, again]) board.close()
})

test('what was kept before SIGTERM is there after the next start', async () => {
  const own = await startServer()
  const board = await boardAs(own.url, byRole.manager ?? '')
  let kept = 0
  const editing = (async () => {
    for (let n = 1; ; n++) {
      const found = await board.act({ kind: 'setLab', patch: { name: `Name ${n}` } }).catch(() => [])
      if (found !== null) return
      kept = n
    }
  })()
  await within(board.until((records) => records.lab.get('lab')?.name === 'Name 20'))
  expect((await within(own.stop())).code).toBe(0)
  await editing
  const next = await startServer({ data: own.data })
  const reopened = await boardAs(next.url, byRole.manager ?? '')
  const n = Number(reopened.records().lab.get('lab')?.name.replace('Name ', ''))
  // The last answer may have been lost on its way, the edit not.
  expect(n).toBeGreaterThanOrEqual(kept)
  expect(n).toBeLessThanOrEqual(kept + 1)
  await within(next.stop())
})
