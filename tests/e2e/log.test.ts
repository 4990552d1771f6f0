// Who changed what and who saw what, at the built server: for the manager alone, whole while it runs, and not whole any
// more once somebody has laid hands on the data.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'libsql'
import { expect, test } from 'vitest'
import WebSocket from 'ws'
import { caller, openBoard, peopleOf, signedIn } from '../kit/live-client.ts'
import { freshFolder, runStart, startServer, within } from '../kit/server.ts'

test('the log tells who changed and who saw what, and shows a change made behind its back', async () => {
  const server = await startServer()
  const people = await peopleOf(server.url)
  const idOf = (role: string) => people.find((one) => one.role === role)?.id ?? ''
  const manager = await signedIn(server.url, idOf('manager'))
  const volunteer = await signedIn(server.url, idOf('volunteer'))
  const board = await openBoard(server.url, manager)
  expect(await board.act({ kind: 'setLab', patch: { name: 'Renamed' } })).toBeNull()
  const look = async (visitor: typeof manager) => {
    const socket = new WebSocket(`${server.url.replace('http', 'ws')}/sync/office`, {
      headers: { cookie: visitor.cookie(), origin: server.url },
    })
    await within(
      new Promise<void>((done) => {
        socket.once('message', () => done())
        socket.once('close', () => done())
      }),
    )
    socket.terminate()
  }
  await look(manager)
  // Nothing of it is shown to them, so nothing is noted.
  await look(volunteer)

  expect((await volunteer.get('/api/log')).status).toBe(403)
  expect((await caller(server.url).get('/api/log')).status).toBe(401)
  const linesOf = async (of: string, after: number) =>
    (await manager.get(`/api/log?of=${of}&after=${after}`)).body as { items: Record<string, unknown>[] }
  const all = await linesOf('changes', 0)
  expect(all.items.at(-1)).toMatchObject({ kind: 'setLab', personId: idOf('manager'), changed: ['lab lab'] })
  expect(JSON.stringify(all)).not.toContain('Renamed')
  await expect
    .poll(async () => (await linesOf('reads', 0)).items)
    .toContainEqual(expect.objectContaining({ personId: idOf('manager'), saw: { what: 'office', about: null } }))
  expect(JSON.stringify(await linesOf('reads', 0))).not.toContain(idOf('volunteer'))

  const file = join(freshFolder(), 'log.jsonl')
  const log = () => runStart(['log', file, '--data', server.data])
  const written = await log()
  expect(written.stdout).toContain('The logs are whole')
  expect(readFileSync(file, 'utf8').trim().split('\n').length).toBeGreaterThan(all.items.length)
  expect((await log()).stdout).toContain('still stands')
  await within(server.stop())

  const sql = new Database(join(server.data, 'talus.db'))
  sql.prepare("UPDATE entry SET person = 'nobody' WHERE kind = 'setLab'").run([])
  sql.close()
  const found = await log()
  expect(found.code).toBe(1)
  expect(found.stderr).toContain('is not what was written')
  const again = await startServer({ data: server.data })
  await expect.poll(again.said).toContain('the log is not what was written')
  await within(again.stop())
})
