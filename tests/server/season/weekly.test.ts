// The weekly note of chances: made once a week, by the server, from a whole count, and never of a lab without dates.
import { describe, expect, it } from 'vitest'
import type { SeasonAnswer } from '#lib/season'
import { put } from '#lib/words'
import { noteWeekly } from '../../../server/season/index.ts'
import { fakeClock } from '../../kit/fake-clock.ts'
import { aDue, aSmallLab, TODAY } from '../../kit/makers.ts'

const HOUR = 3_600_000
/** 12 March 2026 is a Thursday; its week began on the 9th. */
const answer = {
  kind: 'season',
  isWhole: true,
  dates: [
    {
      dueId: 'opening',
      date: '2026-05-02',
      chance: 0.6,
      isAsked: false,
      window: { p10: null, p50: '2026-05-01', p90: null },
    },
    { dueId: 'wish', date: '2026-06-02', chance: 0.9, isAsked: true, window: { p10: null, p50: null, p90: null } },
  ],
} as unknown as SeasonAnswer

function begin(records = aSmallLab(put('due', aDue({ id: 'opening' })))) {
  const clock = fakeClock()
  const told: Record<string, unknown>[] = []
  let asked = 0
  const room = { seq: 7, records, copyRecords: () => records, when: () => ({ date: TODAY, minute: 600 }) }
  const seasons = {
    start: (
      _records: unknown,
      _task: unknown,
      _moment: unknown,
      tell: (answer: SeasonAnswer, isLast: boolean) => void,
    ) => {
      asked += 1
      tell({ ...answer, isWhole: false }, false)
      tell(answer, true)
      return () => {}
    },
    close: () => Promise.resolve(),
  }
  const stop = noteWeekly(room, { clock, seasons }, (op) => told.push(op))
  return { clock, told, stop, asks: () => asked }
}

describe('the weekly note', () => {
  it('holds accepted dates alone, under the id of its week', async () => {
    const { clock, told } = begin()
    await clock.pass(HOUR / 2)
    expect(told).toEqual([
      {
        id: 'note-outlooks-2026-03-09',
        kind: 'noteOutlooks',
        on: TODAY,
        outlooks: [{ dueId: 'opening', date: '2026-05-02', chance: 0.6, median: '2026-05-01' }],
      },
    ])
  })

  it('is not counted again once the week has one, nor without a date', async () => {
    const noted = { id: `opening.${TODAY}`, dueId: 'opening', on: TODAY, date: '2026-05-02', chance: 0.5, median: null }
    const one = begin(aSmallLab(put('due', aDue({ id: 'opening' })), put('outlook', noted as never)))
    await one.clock.pass(5 * HOUR)
    const none = begin(aSmallLab())
    await none.clock.pass(5 * HOUR)
    expect([one.asks(), none.asks()]).toEqual([0, 0])
  })

  it('ends with the lab', async () => {
    const { clock, told, stop } = begin()
    stop()
    await clock.pass(5 * HOUR)
    expect(told).toEqual([])
  })
})
