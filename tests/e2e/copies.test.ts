// Backups are whole while edits go on, and a restore brings back exactly what was in them.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, test } from 'vitest'
import { type LiveClient, managersBoard } from '../kit/live-client.ts'
import { aPhoto, uploadOf } from '../kit/picture-files.ts'
import { freshFolder, type RunningServer, runStart, startServer, within } from '../kit/server.ts'

const copy = (command: 'backup' | 'restore', file: string, data: string) => runStart([command, file, '--data', data])

const managerAt = ({ url }: RunningServer) => managersBoard(url)
const rename = (board: LiveClient, name: string) => board.act({ kind: 'setLab', patch: { name } })

test('a backup taken while edits go on holds a whole moment of the lab, and a restore into another folder is that', async () => {
  const server = await startServer()
  const board = await managerAt(server)
  const file = join(freshFolder(), 'copies', 'lab.talus')
  const picture = await aPhoto()
  const { hash } = uploadOf(picture)
  const photo = join('photos', 'kept', hash.slice(0, 2), hash)
  mkdirSync(dirname(join(server.data, photo)), { recursive: true })
  writeFileSync(join(server.data, photo), picture)
  let isOn = true
  let last = 0
  const editing = (async () => {
    for (let n = 1; isOn; n++) {
      expect(await rename(board, `Name ${n}`)).toBeNull()
      last = n
    }
  })()
  const before = last
  const done = await copy('backup', file, server.data)
  const after = last
  isOn = false
  await editing
  expect(done.stderr).toBe('')
  expect(done.stdout).toContain(`is copied to ${file}, while it runs.`)
  expect(after).toBeGreaterThan(before)

  const folder = join(freshFolder(), 'restored')
  expect((await copy('restore', file, folder)).stdout).toMatch(/Its photographs \(7\) came with it\./)
  expect(readFileSync(join(folder, photo))).toEqual(picture)
  const other = await startServer({ data: folder })
  const copied = await managerAt(other)
  const name = copied.records().lab.get('lab')?.name ?? ''
  const n = Number(name.replace('Name ', ''))
  expect(n).toBeGreaterThanOrEqual(before)
  expect(n).toBeLessThanOrEqual(after + 1)
  expect(copied.records().specimen.size).toBe(board.records().specimen.size)
  await Promise.all([within(server.stop()), within(other.stop())])
})

test('a restore into the running lab sends everybody away, and what they find again is the copy', async () => {
  const server = await startServer()
  const board = await managerAt(server)
  await rename(board, 'As it was')
  const file = join(freshFolder(), 'lab.talus')
  await copy('backup', file, server.data)
  await rename(board, 'Regretted')
  const done = await copy('restore', file, server.data)
  expect(done.stdout).toContain('The running lab is the one of')
  expect((await within(board.ended)).reason).toBe('stopping')
  const again = await managerAt(server)
  expect(again.records().lab.get('lab')?.name).toBe('As it was')
  expect(await rename(again, 'And on')).toBeNull()
  expect(readdirSync(server.data).filter((name) => name.startsWith('before-restore-'))).toHaveLength(1)
  expect(readdirSync(server.data).filter((name) => name.startsWith('restoring-'))).toEqual([])
  await within(server.stop())
})

test('copies that make no sense are refused, and nothing is touched', async () => {
  const server = await startServer()
  const file = join(freshFolder(), 'demo.talus')
  await copy('backup', file, server.data)
  expect((await copy('backup', file, server.data)).stderr).toContain('exists already')
  const junk = join(freshFolder(), 'junk')
  writeFileSync(junk, 'x'.repeat(10_000))
  expect((await copy('restore', junk, server.data)).stderr).toContain('is not a backup of Talus')
  expect((await copy('restore', join(freshFolder(), 'none'), server.data)).stderr).toContain('There is no file')
  expect((await copy('backup', join(freshFolder(), 'b'), freshFolder())).stderr).toContain('There is no lab in')
  expect((await fetch(`${server.url}/ready`)).status).toBe(200)

  const real = await startServer({ data: join(freshFolder(), 'lab'), args: ['--new', 'Yard'] })
  expect((await copy('restore', file, real.data)).stderr).toContain('The file holds the demo lab')
  const own = join(freshFolder(), 'own.talus')
  expect((await copy('backup', own, real.data)).code).toBe(0)
  expect((await copy('restore', own, real.data)).stderr).toBe('')
  expect((await fetch(`${real.url}/ready`)).status).toBe(200)
  await within(real.stop())
  expect((await copy('restore', file, real.data)).stderr).toContain('The file holds the demo lab')
  await within(server.stop())
})

test('a backup of a lab that is not running is taken from its folder', async () => {
  const server = await startServer()
  await server.kill()
  const file = join(freshFolder(), 'lab.talus')
  const done = await copy('backup', file, server.data)
  expect([done.code, done.stderr]).toEqual([0, ''])
  expect(existsSync(file)).toBe(true)
})
