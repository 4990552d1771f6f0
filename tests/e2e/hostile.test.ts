// The built server under a short attack: `npm run -s check:hostile` runs the long one and says how the others' times were.
import { expect, test } from 'vitest'
import { attackServer } from '../hostile/cli.ts'

const MESSAGES = 2000

test(`${MESSAGES} hostile messages change nothing, end only their senders, with a reason, and the others' edits are kept`, async () => {
  const options = { messages: MESSAGES, seed: 2, rate: 0, people: 6, quietMs: 500, hostileMs: 60_000 }
  const { line, problems } = await attackServer(options, () => {})
  expect(problems).toEqual([])
  expect(line).toMatchObject({ crashes: 0, stored: 0, lost: 0, reasonsMissing: 0 })
  // It must have hit: clients were cut off, and the honest did edit.
  expect(line.cutOff).toBeGreaterThan(30)
  expect(Object.keys(line.kinds).length).toBeGreaterThan(30)
  expect(line.honestEdits).toBeGreaterThan(10)
}, 120_000)
