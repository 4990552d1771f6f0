// What a manager is told of who did not come, and what the season is short of.
import { describe, expect, test } from 'vitest'
import type { DateOutlook, SeasonAnswer } from '#lib/season'
import { noShowsOf, shortOf } from '#lib/views'
import { type Change, put } from '#lib/words'
import { aPerson, aSmallLab, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'

const turn = aTurn()
const seat = put('assignment', turn)
const { id, personId, date, shiftId } = turn
const noted = put('noShow', { id, personId, date, shiftId, by: aTurn({ personId: 'mira' }).personId, at: NOW })
const ticked = put('attendance', { id, personId, date, shiftId, state: 'in', dueAt: null, at: NOW })
const told = (minute: number, ...changes: Change[]) => {
  const { noted, open } = noShowsOf(aSmallLab(seat, ...changes), 'ana', { date: TODAY, minute })
  return [open.length, noted.length]
}

describe('who did not come', () => {
  test('O a posted seat that nothing says anything of is asked about once its shift is over', () => {
    expect(told(11 * 60)).toEqual([0, 0])
    expect(told(12 * 60)).toEqual([1, 0])
    expect(told(12 * 60, put('work', aWork({ state: 'finished' })))).toEqual([0, 0])
    expect(told(12 * 60, ticked)).toEqual([0, 0])
    const away = aPerson({ exceptions: [{ date: TODAY, shiftId: null, kind: 'away' }] })
    expect(told(12 * 60, put('person', away))).toEqual([0, 0])
  })

  test('O what was noted is listed and not asked again, and is nobody else’s', () => {
    expect(told(12 * 60, noted)).toEqual([0, 1])
    expect(noShowsOf(aSmallLab(seat, noted), 'ben', { date: TODAY, minute: 720 })).toEqual({ noted: [], open: [] })
  })
})

describe('what the season is short of', () => {
  const load = (techniqueId: string, kind: 'people' | 'place', waits: number) => ({
    ...{ kind, id: techniqueId, there: [10] },
    ...{ used: [{ p10: 1, p50: 5, p90: 9 }], waits: [0, waits] },
  })
  const outlook = (dueId: string, chance: number, techniqueId: string | null) =>
    ({
      ...{ dueId, pieceId: `piece-of-${dueId}`, chance },
      reasons: techniqueId === null ? [] : [{ cause: 'people', techniqueId, stepId: null, share: 0.5 }],
    }) as unknown as DateOutlook
  const season = (over: Partial<SeasonAnswer>) => ({ load: [], dates: [], ...over }) as unknown as SeasonAnswer

  test('S the hands most waited for, and the date that waits for them with the least chance', () => {
    const dates = [outlook('safe', 0.9, 'needle'), outlook('risky', 0.4, 'needle'), outlook('worse', 0.1, 'joining')]
    const scarce = [load('scope', 'place', 9), load('joining', 'people', 0.2), load('needle', 'people', 1.5)]
    expect(shortOf(season({ load: scarce, dates }))).toMatchObject({ dueId: 'risky', waits: 1.5 })
    expect(shortOf(season({ load: [load('brush', 'people', 1)], dates }))?.dueId).toBe('worse')
  })

  test('S nothing where nothing waits for hands, or no date is there', () => {
    expect(
      shortOf(
        season({ load: [load('scope', 'place', 9), load('needle', 'people', 0.01)], dates: [outlook('a', 0.1, null)] }),
      ),
    ).toBeNull()
    expect(shortOf(season({ load: [load('needle', 'people', 1)] }))).toBeNull()
  })
})
