// The lab's season: futures of its records, and what they say of its dates.
import { describe, expect, it } from 'vitest'
import { playSeason } from '#lib/season'
import { put, type Records } from '#lib/words'
import { aDue, aPerson, aSmallLab, aStep, skilled, TODAY } from '../../kit/makers.ts'

const season = (records: Records, futures = 200) => playSeason(records, { seq: 7, from: TODAY, weeks: 12, futures })

const weekly = [1, 3, 5].map((weekday) => ({ weekday, shiftId: 'morning' }))
/** Pia comes three mornings a week, the skull has a date in seven weeks. */
const lab = aSmallLab(
  put(
    'person',
    aPerson({
      id: 'pia',
      role: 'preparator',
      pattern: weekly,
      skills: skilled({ needle: 4, scribe: 4, brush: 4, joining: 3 }),
    }),
  ),
  put('due', aDue()),
)

describe('a season', () => {
  it('gives each date a chance, a window that holds its median, and its hours', () => {
    const [date] = season(lab).dates
    expect(date).toMatchObject({ dueId: 'due1', pieceId: 'skull', isAsked: false, isUnseen: false })
    expect(date?.chance).toBeGreaterThan(0.5)
    const { p10, p50, p90 } = date?.window ?? { p10: null, p50: null, p90: null }
    expect([p10, p50, p90].toSorted()).toEqual([p10, p50, p90])
    expect(date?.curve.at(-1)).toBeGreaterThanOrEqual(date?.chance ?? 1)
    expect(date?.leftH.p10).toBeLessThan(date?.leftH.p90 ?? 0)
  })

  it('gives the same answer for the same seed, and another for another', () => {
    expect(season(lab)).toEqual(season(lab))
    expect(playSeason(lab, { seq: 7, from: TODAY, weeks: 12, futures: 200, seed: 2 }).dates).not.toEqual(
      season(lab).dates,
    )
  })

  it('gives no chance to a piece that nobody may work on, and says which step is stuck', () => {
    const stuck = aStep({ id: 'skull-1', techniqueId: 'scribe' })
    const [date] = season({ ...lab, step: new Map([...lab.step, ['skull-1', stuck]]) }).dates
    expect(date?.chance).toBe(0)
    expect(date?.reasons[0]).toMatchObject({ cause: 'stuck', stepId: 'skull-1', techniqueId: 'scribe' })
  })

  it('says that hands are not there when nobody who can comes', () => {
    const [date] = season(
      aSmallLab(put('due', aDue()), put('person', aPerson({ pattern: weekly, skills: skilled({ brush: 2 }) }))),
    ).dates
    expect(date?.chance).toBe(0)
    expect(date?.reasons[0]).toMatchObject({ cause: 'people', techniqueId: 'needle' })
  })
})
