import { expect, test } from 'vitest'
import { refusalsIn } from '../../../server/http/refusals.ts'
import { fakeClock } from '../../kit/fake-clock.ts'

test('who is turned away is told at once, and what follows in the same minute in one line', async () => {
  const clock = fakeClock()
  const told: string[] = []
  const note = refusalsIn({
    clock,
    log: (level, what, facts) => told.push(`${level} ${what} ${JSON.stringify(facts)}`),
  })
  for (let n = 0; n < 500; n++) note('/api/switch', 403, 'wrong-pin')
  note('/api/switch', 429, 'wait')
  note('/api/me', 200, '')
  note('/api/join', 503, 'not-now')
  expect(told).toEqual([
    'warn somebody was turned away {"path":"/api/switch","status":403,"why":"wrong-pin"}',
    'warn somebody was turned away {"path":"/api/switch","status":429,"why":"wait"}',
  ])
  await clock.pass(60_000)
  expect(told.slice(2)).toEqual([
    'warn others were turned away in the same minute {"path":"/api/switch","status":403,"why":"wrong-pin","times":499}',
  ])
  note('/api/switch', 403, 'wrong-pin')
  expect(told).toHaveLength(4)
})
