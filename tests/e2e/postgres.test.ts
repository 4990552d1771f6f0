// The built server over a real PostgreSQL: it says truly when the database is gone, goes on when it is back, and a lab is
// moved, copied and put back with everything in it.
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type LiveClient, managersBoard } from '../kit/live-client.ts'
import { type Postgres, startPostgres } from '../kit/postgres.ts'
import { freshFolder, type RunningServer, runStart, startServer, within } from '../kit/server.ts'

/** Many processes are started one after the other, and a busy machine takes its time for each. */
const SLOW_MS = 240_000
/** One attempt may hang for good where it is handed on to a process that is frozen; the next one need not. */
const ATTEMPT_MS = 15_000

let postgres: Postgres
beforeAll(async () => {
  postgres = await startPostgres()
})
afterAll(() => postgres.stop('immediate'))

const managerOf = ({ url }: RunningServer) => managersBoard(url)

/** Waits until the server says of itself that it is ready, or that it is not. */
async function untilReady(server: RunningServer, isReady: boolean): Promise<void> {
  const look = async (): Promise<void> => {
    const { status } = await fetch(`${server.url}/ready`)
    if (status === (isReady ? 200 : 503)) return
    await new Promise((resolve) => setTimeout(resolve, 50))
    return look()
  }
  await within(look(), 30_000)
}

const rename = (board: LiveClient, name: string) => board.act({ kind: 'setLab', patch: { name } })
const nameOf = (board: LiveClient) => board.records().lab.get('lab')?.name

test('R8 a database that crashes is told of, nothing is called kept meanwhile, and what was kept is there after it', {
  timeout: SLOW_MS,
}, async () => {
  const url = await postgres.database()
  const server = await startServer({ env: { TALUS_STORE: url } })
  const board = await managerOf(server)
  expect(await rename(board, 'Before')).toBeNull()
  await untilReady(server, true)

  await postgres.stop('immediate')
  await untilReady(server, false)
  expect((await fetch(`${server.url}/health`)).status).toBe(200)
  let isKept = false
  const meanwhile = rename(board, 'Meanwhile').then((findings) => {
    isKept = findings === null
  })
  await expect
    .poll(() => board.heard.some((message) => message.type === 'state' && message.state === 'read-only'))
    .toBe(true)
  expect(isKept).toBe(false)

  await postgres.start()
  await within(meanwhile, 30_000)
  expect(isKept).toBe(true)
  await untilReady(server, true)
  expect((await within(server.kill())).signal).toBe('SIGKILL')
  const again = await startServer({ data: server.data, env: { TALUS_STORE: url } })
  expect(nameOf(await managerOf(again))).toBe('Meanwhile')
  expect((await within(again.stop())).code).toBe(0)
})

test('R8 a lab moves into PostgreSQL, is copied from there while it runs, and comes back, with nothing lost', {
  timeout: SLOW_MS,
}, async () => {
  const url = await postgres.database()
  const first = await startServer()
  const { data } = first
  const board = await managerOf(first)
  expect(await rename(board, 'In a file')).toBeNull()
  // A running lab is not moved from under the people.
  expect((await runStart(['move', url, '--data', data])).stderr).toContain('Another Talus is running')
  await within(first.stop())

  const there = await runStart(['move', url, '--data', data])
  expect(there.stdout).toMatch(/^All \d+ rows of the lab are in the database/)
  expect((await runStart(['backup', join(data, 'x.talus'), '--data', data])).stderr).toContain('There is no lab in')
  const second = await startServer({ data, env: { TALUS_STORE: url } })
  const moved = await managerOf(second)
  expect(nameOf(moved)).toBe('In a file')
  expect(moved.records().specimen.size).toBe(board.records().specimen.size)
  expect(await rename(moved, 'In a database')).toBeNull()
  const file = join(freshFolder(), 'lab.talus')
  expect((await runStart(['backup', file, '--data', data])).stdout).toContain('while it runs')
  expect(await rename(moved, 'After the copy')).toBeNull()
  await within(second.stop())

  const back = await runStart(['move', 'libsql', '--data', data], { TALUS_STORE: url })
  expect(back.stderr).toBe('')
  expect(back.stdout).toContain('what was there before is kept in the schema talus_until_')
  const third = await startServer({ data })
  expect(nameOf(await managerOf(third))).toBe('After the copy')
  await within(third.stop())

  const other = await postgres.database()
  const restored = await runStart(['restore', file, '--data', freshFolder()], { TALUS_STORE: other })
  expect(restored.stdout).toContain('read back and compared')
  const fourth = await startServer({ env: { TALUS_STORE: other } })
  expect(nameOf(await managerOf(fourth))).toBe('In a database')
  await within(fourth.stop())
})

/** Somebody of the lab's managers, once the process lets them in. */
async function managerAtLast(
  server: RunningServer,
  isSo: (board: LiveClient) => boolean = () => true,
): Promise<LiveClient> {
  for (let tries = 0; ; tries++) {
    try {
      const board = await within(managerOf(server), ATTEMPT_MS)
      if (isSo(board)) return board
      board.close()
    } catch (error) {
      if (tries > 300) throw error
    }
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

test('R8 of several processes one has the lab, all let people in, and a killed or frozen one is followed by the next', {
  timeout: SLOW_MS,
}, async () => {
  const env = { TALUS_STORE: await postgres.database(), TALUS_HOST: '127.0.0.1' }
  const first = await startServer({ env })
  const second = await startServer({ env })
  expect(second.said()).toContain(`another process has the lab, reached at ${first.url}`)
  await untilReady(second, true)
  expect((await fetch(`${second.url}/`)).status).toBe(200)
  const one = await managerOf(first)
  const other = await managerOf(second)
  expect(await rename(one, 'From the first')).toBeNull()
  await within(other.until((records) => records.lab.get('lab')?.name === 'From the first'))
  expect(await rename(other, 'From the second')).toBeNull()
  await within(one.until((records) => records.lab.get('lab')?.name === 'From the second'))

  await within(first.kill())
  await within(Promise.all([one.ended, other.ended]))
  const after = await managerAtLast(second)
  expect(nameOf(after)).toBe('From the second')
  expect(await rename(after, 'After the kill')).toBeNull()

  const third = await startServer({ env })
  second.freeze()
  // It is on its way to the frozen process, which will not be the one to keep it any more.
  let isLateKept = false
  const late = rename(after, 'Too late').then(
    (findings) => {
      isLateKept = findings === null
    },
    () => {},
  )
  const next = await managerAtLast(third)
  expect(nameOf(next)).toBe('After the kill')
  expect(await rename(next, 'By the third')).toBeNull()
  second.thaw()
  await within(late, 30_000)
  expect(isLateKept).toBe(false)
  // It has noticed, and hands on what it is asked.
  const again = await managerAtLast(second, (board) => nameOf(board) === 'By the third')
  expect(await rename(again, 'By way of the second')).toBeNull()
  await within(next.until((records) => records.lab.get('lab')?.name === 'By way of the second'))

  // Ended in good order, the next one follows at once.
  expect((await within(third.stop())).code).toBe(0)
  expect(nameOf(await managerAtLast(second))).toBe('By way of the second')
  expect((await within(second.stop())).code).toBe(0)
})
