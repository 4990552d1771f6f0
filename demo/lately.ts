// What the crew had on the bench in the last four weeks, as the days that are over would have left it.
import { addDays } from '#lib/base'
import { appealOf } from '#lib/rules'
import { type Change, DAYS_LOOKED_BACK, noRecords, withChanges } from '#lib/words'
import { type Draft, groupBy, record } from './dice.ts'

/** One record for everybody who wrote a log in that time; `pieces` are those on the board today. */
export function demoLately(logs: readonly Draft<'log'>[], pieces: readonly Change[], today: string): readonly Change[] {
  const records = withChanges(noRecords(), pieces)
  const oldest = addDays(today, -DAYS_LOOKED_BACK)
  const late = logs.filter(({ date, corrects }) => date >= oldest && corrects === null)
  return [...groupBy(late, ({ personId }) => personId)].map(([id, own]) => {
    const turns = own.map(({ date, shiftId, pieceId }) => ({
      ...{ date, shiftId, pieceId },
      appealPct: appealOf(records, pieceId),
    }))
    const key = ({ date, shiftId, pieceId }: (typeof turns)[number]) => `${date} ${shiftId} ${pieceId}`
    return record('lately', { id, turns: turns.sort((a, b) => (key(a) < key(b) ? -1 : 1)) })
  })
}
