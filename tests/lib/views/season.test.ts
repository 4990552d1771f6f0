// The season's answer as screens read it: what is scarce, dates past the season's end, a date one is thinking of.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import type { Band, SeasonAnswer } from '#lib/season'
import { bottlenecks, chanceAt, dueBoard, planByDay } from '#lib/views'
import { kinds, put } from '#lib/words'
import { aDue, aSmallLab, aSpecimen, aStep, TODAY } from '../../kit/makers.ts'

const band = (p50: number): Band => ({ p10: p50 / 2, p50, p90: p50 * 1.2 })
const load = (id: string, used: number[], there: number[]): SeasonAnswer['load'][number] => ({
  kind: 'people',
  id,
  used: used.map(band),
  there,
  waits: used.map(() => 0),
})
const aSeason = (over: Partial<SeasonAnswer> = {}): SeasonAnswer => ({
  kind: 'season',
  seq: 1,
  from: TODAY,
  weeks: 4,
  futures: 100,
  seed: 1,
  isWhole: true,
  dates: [],
  pieces: [],
  jackets: [],
  load: [],
  plan: [],
  assumed: { renewals: [], awayShare: 0.1, workShare: 0.85 },
  ...over,
})
const outlook = (over: Partial<SeasonAnswer['dates'][number]> = {}): SeasonAnswer['dates'][number] => ({
  dueId: 'opening',
  pieceId: 'skull',
  date: addDays(TODAY, 20),
  isHard: true,
  isAsked: false,
  chance: 0.4,
  chanceError: 0.05,
  window: { p10: addDays(TODAY, 9), p50: addDays(TODAY, 22), p90: null },
  curve: [0, 0.2, 0.4, 0.6],
  at80: null,
  at95: null,
  leftH: { p10: 20, p50: 40, p90: 70 },
  isUnseen: false,
  reasons: [],
  ...over,
})

describe('what runs short', () => {
  it('puts first what has most weeks with nothing to spare, and leaves out what nobody uses', () => {
    const rows = bottlenecks(
      aSeason({
        load: [load('brush', [1, 1], [10, 10]), load('needle', [9, 2], [10, 10]), load('acid', [0, 0], [5, 5])],
      }),
    )
    expect(rows.map(({ bottleneck, tight }) => [bottleneck.id, tight])).toEqual([
      ['needle', [0]],
      ['brush', []],
    ])
  })

  it('counts no week in which there is none at all', () => {
    const [row] = bottlenecks(aSeason({ load: [load('needle', [5, 0], [10, 0])] }))
    expect(row?.share).toBeCloseTo(0.5)
  })
})

describe('a date one is thinking of', () => {
  it('is read between the weeks of the curve, and never guessed beyond it', () => {
    const { curve } = outlook()
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, -1))).toBe(0)
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, 13))).toBeCloseTo(0.2)
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, 20))).toBeCloseTo(0.4)
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, 16))).toBeCloseTo(0.2 + (0.2 * 3) / 7)
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, 27))).toBeCloseTo(0.6)
    expect(chanceAt({ curve }, TODAY, addDays(TODAY, 28))).toBe(null)
  })
})

describe('the board of dates with a season', () => {
  const due = aDue({ id: 'opening', pieceId: 'skull', date: addDays(TODAY, 20) })
  const noted = (on: string, chance: number, date = due.date) =>
    put('outlook', kinds.outlook.parse({ id: `opening.${on}`, dueId: 'opening', on, date, chance, median: null }))
  const lab = (...more: Parameters<typeof aSmallLab>) =>
    aSmallLab(
      put('specimen', aSpecimen({ id: 'skull', number: 'skull' })),
      put('step', aStep({ id: 's1', pieceId: 'skull' })),
      put('due', due),
      ...more,
    )

  it('takes chance and window from the futures, and names an end that lies beyond them', () => {
    const [row] = dueBoard(lab(), TODAY, { season: aSeason({ dates: [outlook()] }) }).rows
    expect(row).toMatchObject({ chance: 0.4, isAtRisk: true, leftH: 40, weeklyH: null })
    expect(row?.window).toMatchObject({ p90: addDays(TODAY, 27), beyond: ['p90'] })
  })

  it('does not show the chance of a date that was moved since', () => {
    const season = aSeason({ dates: [outlook({ date: addDays(TODAY, 50), chance: 0.99 })] })
    expect(dueBoard(lab(), TODAY, { season }).rows[0]?.outlook).toBe(null)
  })

  it('tells how the chance stood a week ago, never for another date, never of yesterday', () => {
    const counted = { season: aSeason({ dates: [outlook()] }) }
    const asOf = (...changes: Parameters<typeof aSmallLab>) => dueBoard(lab(...changes), TODAY, counted).rows[0]?.before
    const weekAgo = addDays(TODAY, -7)
    expect(asOf(noted(addDays(TODAY, -14), 0.9), noted(weekAgo, 0.7))).toEqual({ chance: 0.7, on: weekAgo })
    expect(asOf(noted(addDays(TODAY, -1), 0.7))).toBe(null)
    expect(asOf(noted(weekAgo, 0.7, addDays(TODAY, 90)))).toBe(null)
    // Of a quick count there is no drift to be told.
    expect(dueBoard(lab(noted(weekAgo, 0.7)), TODAY).rows[0]?.before).toBe(null)
  })
})

it('the plan is told by day, in order', () => {
  const turn = (date: string) => ({ date, shiftId: 'm', personId: 'a', pieceId: 'p', stepId: 's', placeId: 'l' })
  expect(
    [...planByDay([turn('2026-03-14'), turn('2026-03-12'), turn('2026-03-14')])].map(([day, turns]) => [
      day,
      turns.length,
    ]),
  ).toEqual([
    ['2026-03-12', 1],
    ['2026-03-14', 2],
  ])
})
