// An import never sends more than the server's own allowance lets through, however large its parts are.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { makePace } from '../../../app/rack/import/pace.ts'
import { Budget, defaultLimits } from '../../../server/sync/limits.ts'
import { fakeClock } from '../../kit/fake-clock.ts'

test('parts that leave at this pace are all taken, and the last as soon as the allowance lets it', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.integer({ min: 1, max: 900_000 }), { minLength: 1, maxLength: 60 }), async (parts) => {
      const clock = fakeClock()
      const budget = new Budget(defaultLimits.bytes, clock)
      const began = clock.now()
      const pace = makePace(began)
      for (const letters of parts) {
        await clock.pass(Math.ceil(pace.waitMs(letters, clock.now())))
        pace.take(letters, clock.now())
        expect(budget.take(letters)).toBe(true)
      }
      const all = parts.reduce((sum, letters) => sum + letters, 0)
      expect(clock.now() - began).toBeLessThanOrEqual((all / (200 * 1024)) * 1000 + parts.length)
    }),
    { numRuns: 100, seed: 4 },
  )
})
