// The built server killed while people edit: `npm run -s check:faults` does it a hundred times, and has the other faults.
import { expect, test } from 'vitest'
import { kills } from '../faults/faults.ts'

test('killed twice while twenty edit: what was told kept is there once, and every edit gets its answer', async () => {
  const { figures, problems } = await kills(2, 20, 3)
  expect(problems).toEqual([])
  expect(figures).toMatchObject({ lost: 0, doubled: 0 })
  expect(figures.kept).toBeGreaterThan(20)
}, 180_000)
