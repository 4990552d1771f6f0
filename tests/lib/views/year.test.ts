// The year of the volunteers, as sums.
import { expect, test } from 'vitest'
import { yearReport } from '#lib/views'
import { kinds, put } from '#lib/words'
import { aDue, aSmallLab, aSpecimen } from '../../kit/makers.ts'

const tally = (personId: string, year: number, minutes: number) =>
  put('tally', kinds.tally.parse({ id: `${year}.${personId}`, personId, year, minutes, stretches: 1 }))

test('O volunteers’ hours of the year become posts at 2 080 h; staff and other years do not count', () => {
  const records = aSmallLab(
    tally('ana', 2026, 2080 * 60),
    tally('ben', 2026, 1040 * 60),
    tally('ana', 2025, 60_000),
    tally('mira', 2026, 60_000),
    put('specimen', aSpecimen({ id: 'skull', stage: 'housed', stageSince: '2026-02-01' })),
    put('specimen', aSpecimen({ id: 'rib', stage: 'joining', stageSince: '2026-02-01' })),
    put('specimen', aSpecimen({ id: 'jaw', stage: 'housed', stageSince: '2025-12-31' })),
    put('due', aDue({ state: 'met', date: '2026-03-01' })),
  )
  expect(yearReport(records, 2026)).toMatchObject({ people: 2, hours: 3120, posts: 1.5, finished: 1, datesMet: 1 })
  const others = aSmallLab(tally('mira', 2026, 60_000))
  expect(yearReport(others, 2026)).toMatchObject({ people: 0, hours: 0, posts: 0 })
})
