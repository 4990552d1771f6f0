// Files leave the lab by a button, and a lab that was taken out whole is the same lab in another folder.
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { pretend, visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'
import { freshFolder, runStart, startServer, within } from '../kit/server.ts'

const lab = openedLab()

test('the manager takes everything out, and it is the same lab again in an empty folder', async () => {
  const { page } = await visit(lab.browser, lab.server.url, 'thea', '/out')
  const taking = page.waitForEvent('download')
  await page.getByRole('link', { name: 'Take out: Everything, as JSON Lines' }).click()
  const download = await taking
  expect(download.suggestedFilename()).toBe('lab-2026-03-12.jsonl')
  const file = join(freshFolder(), 'lab.jsonl')
  await download.saveAs(file)

  const folder = join(freshFolder(), 'again')
  const brought = await runStart(['import', file, '--data', folder])
  expect([brought.stderr, brought.stdout]).toEqual(['', expect.stringMatching(/is in .*again now: \d+ records/)])
  const other = await startServer({ data: folder })
  const there = await visit(lab.browser, other.url, 'thea', '/rack')
  await there.page.getByRole('heading', { level: 1 }).waitFor()
  // Asked of the running server: everything but what was seen and what its own start added.
  const out = join(freshFolder(), 'lab.jsonl')
  expect((await runStart(['export', out, '--data', folder])).stdout).toContain(`is in ${out}.`)
  const records = (text: string) => text.split('\n').filter((line) => line.startsWith('{"line":"record"'))
  expect(records(readFileSync(out, 'utf8')).sort()).toEqual(records(readFileSync(file, 'utf8')).sort())
  expect((await runStart(['export', out, '--data', folder])).stderr).toContain('exists already')
  await within(other.stop())

  const half = join(freshFolder(), 'half.jsonl')
  const text = readFileSync(file, 'utf8')
  writeFileSync(half, text.slice(0, text.length / 2))
  const none = join(freshFolder(), 'none')
  const refused = await runStart(['import', half, '--data', none])
  expect([refused.code, refused.stderr]).toEqual([
    1,
    expect.stringMatching(/half.jsonl: Line \d+: .*Nothing was brought in/),
  ])
  expect((await runStart(['import', file, '--data', folder])).stderr).toContain('holds a lab already')
  expect((await runStart(['import', file, '--data', none])).code).toBe(0)
})

test('each is given what is theirs to take out, and nothing else', async () => {
  const statusesOf = async (person: string) => {
    const context = await lab.browser.newContext()
    await pretend(context, lab.server.url, person)
    const files = ['everything.jsonl', 'backlog.csv', 'none.csv']
    const answers = files.map((file) => context.request.get(`${lab.server.url}/api/out/${file}`))
    return (await Promise.all(answers)).map((answer) => answer.status())
  }
  expect(await statusesOf('zosia')).toEqual([403, 200, 404])
  expect(await statusesOf('amara')).toEqual([403, 403, 404])
  expect(await statusesOf('wall')).toEqual([403, 403, 404])
})

test('one’s own calendar asks by a private address, which ends when one says so', async () => {
  const { page } = await visit(lab.browser, lab.server.url, 'amara', '/mine')
  await page.getByRole('button', { name: 'In my own calendar…' }).click()
  const dialog = page.getByRole('dialog', { name: 'In my own calendar' })
  await dialog.getByRole('button', { name: 'Make my address' }).click()
  const address = (await dialog.getByText('/api/calendar/').textContent()) ?? ''
  const stranger = await lab.browser.newContext()
  const answer = await stranger.request.get(address)
  const calendar = new ICAL.Component(ICAL.parse(await answer.text()))
  expect(calendar.getAllSubcomponents('vevent').length).toBeGreaterThan(0)
  await dialog.getByRole('button', { name: 'No address any more' }).click()
  await dialog.getByRole('button', { name: 'Make my address' }).waitFor()
  expect((await stranger.request.get(address)).status()).toBe(404)
})
