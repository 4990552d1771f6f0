// Dated pieces on one axis: which are listed, in what order, and how far the axis reaches.
import { describe, expect, it } from 'vitest'
import { addDays, dayNumber } from '#lib/base'
import { dueBoard } from '#lib/views'
import { type Change, kinds, put } from '#lib/words'
import { aDue, aJacket, aSmallLab, aSpecimen, aStep, TODAY } from '../../kit/makers.ts'

const piece = (id: string, likelyH = 10): Change[] => [
  put('specimen', aSpecimen({ id, number: id })),
  put('step', aStep({ id: `${id}-1`, pieceId: id, hours: { lowH: likelyH / 2, likelyH, highH: likelyH * 2 } })),
]
const due = (pieceId: string, days: number, over: Parameters<typeof aDue>[0] = {}): Change =>
  put('due', aDue({ id: `due-${pieceId}`, pieceId, date: addDays(TODAY, days), ...over }))
/** Twenty hours in ten weeks: the pace the lab has had, without which nothing can be told. */
const pace = [
  put('specimen', aSpecimen({ id: 'pacer' })),
  put(
    'step',
    aStep({
      id: 'pacer-1',
      pieceId: 'pacer',
      state: 'begun',
      doneMinutes: 1200,
      hours: { lowH: 50, likelyH: 90, highH: 99 },
    }),
  ),
]
const board = (...changes: Change[]) => dueBoard(aSmallLab(...pace, ...changes), TODAY)

describe('the board of dates', () => {
  it('lists accepted dates, asks apart, and leaves out what is met, dropped or off the board', () => {
    const { rows, asked } = board(
      ...['a', 'b', 'c', 'd'].flatMap((id) => piece(id)),
      due('a', 30),
      due('b', 30, { state: 'asked' }),
      due('c', 30, { state: 'met' }),
      due('d', 30, { state: 'dropped' }),
      due('gone', 30),
    )
    expect(rows.map((row) => row.number)).toEqual(['a'])
    expect(asked.map((row) => row.number)).toEqual(['b'])
  })

  it('puts the least likely first and counts those below the line of the lab', () => {
    const { rows, atRisk } = board(...piece('easy', 1), ...piece('hard', 5000), due('easy', 300), due('hard', 5))
    expect(rows.map((row) => row.number)).toEqual(['hard', 'easy'])
    expect(rows.map((row) => row.isAtRisk)).toEqual([true, false])
    expect(atRisk).toBe(1)
  })

  it('tells nothing of a piece without steps, and does not call it at risk', () => {
    const [row] = board(put('specimen', aSpecimen({ id: 'bare' })), due('bare', 9)).rows
    expect(row).toMatchObject({ chance: null, isAtRisk: false, leftH: null })
  })

  it('says that nobody has seen inside a sealed jacket', () => {
    const sealed = [put('jacket', aJacket({ id: 'jk' })), put('step', aStep({ id: 'jk-1', pieceId: 'jk' }))]
    expect(board(...sealed, due('jk', 90)).rows[0]?.isUnseen).toBe(true)
  })

  it('keeps to what one follows', () => {
    const records = aSmallLab(...piece('a'), ...piece('b'), due('a', 9), due('b', 9))
    expect(dueBoard(records, TODAY, { only: new Set(['b']) }).rows.map((row) => row.number)).toEqual(['b'])
    expect(dueBoard(records, TODAY, { only: new Set() }).rows).toEqual([])
  })

  it('counts who follows a piece', () => {
    const watch = (personId: string) => put('watch', kinds.watch.parse({ id: `a.${personId}`, pieceId: 'a', personId }))
    expect(board(...piece('a'), due('a', 9), watch('rex'), watch('ana')).rows[0]?.watchers).toBe(2)
  })
})

describe('the axis', () => {
  const today = dayNumber(TODAY)

  it('holds today and two months with nothing on it', () => {
    expect(board().days).toEqual({ from: today - 7, to: today + 60 })
  })

  it('reaches a fortnight past the last date and back to one that has passed, though not for ever', () => {
    const { days } = board(...piece('a', 1), ...piece('b', 1), due('a', 200), due('b', -20))
    expect(days.from).toBe(today - 27)
    expect(days.to).toBe(today + 214)
    expect(board(...piece('a', 1), due('a', -900)).days.from).toBe(today - 60)
  })

  it('is not squeezed by one hopeless window', () => {
    expect(board(...piece('a', 40_000), due('a', 30)).days.to).toBe(today + 60 + 150)
  })
})
