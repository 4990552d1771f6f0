// The lab's season: futures of its records, and what they say of its dates.
import { describe, expect, it } from 'vitest'
import { helps, planSeason, playSeason, promise } from '#lib/season'
import { put, type Records } from '#lib/words'
import { aDue, aPerson, aSmallLab, aSpecimen, aStep, skilled, TODAY } from '../../kit/makers.ts'

const season = (records: Records, seed = 1) => {
  const options = { seq: 7, from: TODAY, weeks: 12, futures: 200, seed }
  return playSeason(planSeason(records, options), options)
}

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
    expect(season(lab, 2).dates).not.toEqual(season(lab).dates)
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

/** Two skulls for one microscope and two people who come on the same mornings. */
const crowded = (() => {
  const scope = { needs: ['microscope' as const] }
  const base = aSmallLab()
  const settings = base.lab.get('lab')
  if (!settings) throw new Error('a small lab has settings')
  const techniques = settings.techniques.map((one) => (one.id === 'needle' ? { ...one, ...scope } : one))
  const pattern = weekly
  return aSmallLab(
    put('lab', { ...settings, techniques }),
    put('person', aPerson({ id: 'ana', pattern })),
    put('person', aPerson({ id: 'ben', pattern, skills: skilled({ needle: 3, scribe: 2, joining: 2 }) })),
    put('person', aPerson({ id: 'leo', pattern, skills: skilled({ needle: 1 }) })),
    put('specimen', aSpecimen({ id: 'other' })),
    put('step', aStep({ id: 'skull-1', hours: { lowH: 15, likelyH: 20, highH: 30 } })),
    put('step', aStep({ id: 'other-1', pieceId: 'other', hours: { lowH: 15, likelyH: 20, highH: 30 } })),
    put('due', aDue({ id: 'due1', pieceId: 'skull', date: '2026-04-15' })),
    put('due', aDue({ id: 'due2', pieceId: 'other', date: '2026-04-15' })),
  )
})()
const asked = { seq: 7, from: TODAY, weeks: 26, futures: 200 }

describe('what would help', () => {
  it('finds the second microscope, who comes more often, and what each costs others', () => {
    const planned = planSeason(crowded, asked)
    const late = playSeason(planned, asked).dates.toSorted((a, b) => a.chance - b.chance)[0]
    expect(late?.chance).toBeLessThan(0.9)
    const told: number[] = []
    const answer = helps(planned, { dueId: late?.dueId ?? '' }, { ...asked, onAnswer: ({ tried }) => told.push(tried) })
    if ('refused' in answer) throw new Error(answer.refused)
    expect(told.length).toBeGreaterThan(3)
    expect(answer.tried).toBe(answer.remedies)
    const kinds = answer.helps.map(({ remedy }) => remedy.kind)
    expect(kinds).toContain('place')
    expect(kinds).toContain('date')
    const gains = answer.helps.map(({ gain }) => gain)
    expect(gains).toEqual(gains.toSorted((a, b) => b - a))
    const first = answer.helps.find(({ remedy }) => remedy.kind === 'first')
    expect(first?.others[0]?.after).toBeLessThan(first?.others[0]?.before ?? 0)
    const rest = answer.helps.find(({ remedy }) => remedy.kind === 'drop')
    expect(rest?.others[0]?.after).toBe(0)
  })

  it('knows no remedy for what is not there', () => {
    const planned = planSeason(crowded, asked)
    expect(helps(planned, { dueId: 'no-such' }, asked)).toEqual({ refused: 'unknown' })
  })
})

describe('a promise', () => {
  it('tells the chance now and with the date, the days that would do, and whom it pushes back', () => {
    const planned = planSeason(crowded, asked)
    const answer = promise(planned, { pieceId: 'rib', date: '2026-03-20' }, asked)
    if ('refused' in answer) throw new Error(answer.refused)
    expect(answer.chance).toBeGreaterThanOrEqual(answer.chanceNow)
    expect(answer.at80 === null || answer.at95 === null || answer.at80 <= answer.at95).toBe(true)
    const late = playSeason(planned, asked).dates.toSorted((a, b) => a.chance - b.chance)[0]
    const ahead = promise(planned, { pieceId: late?.pieceId ?? '', date: '2026-04-01' }, asked)
    if ('refused' in ahead) throw new Error(ahead.refused)
    expect(ahead.others).toHaveLength(1)
    expect(ahead.others[0]?.after).toBeLessThan(ahead.others[0]?.before ?? 0)
  })

  it('says when nothing is left to do, and when there is no such piece', () => {
    const planned = planSeason(crowded, asked)
    expect(promise(planned, { pieceId: 'no-such', date: '2026-05-01' }, asked)).toEqual({ refused: 'unknown' })
    const done = new Map([...crowded.step].map(([id, step]) => [id, { ...step, state: 'done' as const }]))
    const idle = planSeason({ ...crowded, step: done }, asked)
    expect(promise(idle, { pieceId: 'skull', date: '2026-05-01' }, asked)).toEqual({ refused: 'nothing-left' })
  })
})
