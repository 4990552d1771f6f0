// Which of its counts a chance is told by, so that no two screens tell different ones.
import { expect, it } from 'vitest'
import { addDays } from '#lib/base'
import type { SeasonAnswer } from '#lib/season'
import { firstChances } from '#lib/views'
import { type Change, Outlook, put } from '#lib/words'
import { aDue, aSmallLab, aSpecimen, aStep, TODAY } from '../../kit/makers.ts'

const date = addDays(TODAY, 90)
const noted = (daysAgo: number, chance: number, over: { date?: string } = {}): Change => {
  const on = addDays(TODAY, -daysAgo)
  return put('outlook', Outlook.parse({ id: `due-a.${on}`, dueId: 'due-a', on, date, chance, median: null, ...over }))
}
const lab = (...changes: Change[]) =>
  aSmallLab(
    put('specimen', aSpecimen({ id: 'a' })),
    put('step', aStep({ id: 'a-1', pieceId: 'a', hours: { lowH: 900, likelyH: 1000, highH: 1100 } })),
    put('due', aDue({ id: 'due-a', pieceId: 'a', date })),
    put('due', aDue({ id: 'due-later', pieceId: 'a', date: addDays(date, 200) })),
    ...changes,
  )
const season = (chance: number, of = date, isAsked = false) =>
  ({ dates: [{ dueId: 'due-a', date: of, isAsked, chance }] }) as unknown as SeasonAnswer
const told = (heard: SeasonAnswer | null, ...changes: Change[]) => firstChances(lab(...changes), TODAY, heard).get('a')

it('tells the season heard, before it the newest note of that very date, and a quick count only of what has neither', () => {
  const quick = told(null)
  expect(quick).not.toBe(0.9)
  expect(told(season(0.9), noted(1, 0.6))).toBe(0.9)
  expect(told(null, noted(8, 0.4), noted(1, 0.6))).toBe(0.6)
  // While it was only asked for, all that is promised went first.
  expect(told(season(0.1, date, true), noted(1, 0.6))).toBe(0.6)
  // Another date, or a note of long ago, tells nothing of this one.
  expect(told(season(0.9, addDays(date, 1)), noted(1, 0.6, { date: addDays(date, 7) }))).toBe(quick)
  expect(told(null, noted(40, 0.6))).toBe(quick)
})
