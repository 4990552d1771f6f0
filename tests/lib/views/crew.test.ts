// The crew read from the records: who is there, how a week looks, what a skill is worth today, what a day does to one.
import { describe, expect, it } from 'vitest'
import { crewRows, exceptionsFrom, exposureOn, hoursThisYear, skillsOf, techniqueColumns, weekOf } from '#lib/views'
import { kinds, put } from '#lib/words'
import { aLab, anAirTool, aPerson, aSmallLab, aTechnique, aTurn, aWork, skilled, TODAY } from '../../kit/makers.ts'

const morning = aTurn().shiftId

describe('the rows of the crew', () => {
  it('put those of the shift first, staff before volunteers, by name; researchers and those who left are not in it', () => {
    const records = aSmallLab(
      put('person', aPerson({ id: 'ben', pattern: [{ weekday: 3, shiftId: 'morning' }] })),
      put('person', aPerson({ id: 'leo', isActive: false })),
      put('assignment', aTurn({ personId: 'ben' })),
    )
    const rows = crewRows(records, TODAY, morning)
    expect(rows.map((row) => row.person.id)).toEqual(['ben', 'mira', 'pia', 'ana'])
    expect(rows[0]).toMatchObject({ placeCode: 'b1', presence: { state: 'expected' } })
    expect(rows[1]?.presence).toBeNull()
  })

  it('are nobody’s shift on a day without one', () => {
    expect(crewRows(aSmallLab(), TODAY, null).every((row) => row.presence === null)).toBe(true)
  })
})

describe('skills', () => {
  it('stand in columns: the ladder by force, then what is apart from it', () => {
    const lab = aLab({
      techniques: [anAirTool(), aTechnique({ id: 'joining', force: null }), aTechnique({ id: 'brush', force: 1 })],
    })
    const { ladder, apart } = techniqueColumns(lab)
    expect(ladder.map((one) => one.id)).toEqual(['brush', 'scribe'])
    expect(apart.map((one) => one.id)).toEqual(['joining'])
    expect(techniqueColumns(undefined)).toEqual({ ladder: [], apart: [] })
  })

  it('count as none once they have run out, and say so before', () => {
    const view = (expiresOn: string | null) => {
      const person = aPerson({ skills: skilled({ needle: 3 }, expiresOn) })
      const records = aSmallLab(put('person', person))
      const { ladder } = techniqueColumns(records.lab.get('lab'))
      return skillsOf(records, person, ladder, TODAY).find((one) => one.technique.id === 'needle')
    }
    expect(view(null)).toMatchObject({ level: 3, isOut: false, isSoonOut: false })
    expect(view('2026-03-10')).toMatchObject({ level: 0, isOut: true, isSoonOut: false })
    expect(view(TODAY)).toMatchObject({ level: 3, isOut: false, isSoonOut: true })
    expect(view('2026-12-01')).toMatchObject({ level: 3, isSoonOut: false })
  })
})

describe('a week', () => {
  it('runs from Monday, with the pattern and what differs from it', () => {
    const person = aPerson({
      pattern: [
        { weekday: 1, shiftId: 'morning' },
        { weekday: 3, shiftId: 'morning' },
      ],
      exceptions: [
        { date: TODAY, shiftId: null, kind: 'away' },
        { date: '2026-03-13', shiftId: 'afternoon', kind: 'extra' },
      ],
    })
    const records = aSmallLab(put('lab', aLab({ closed: ['2026-03-10'] })), put('person', person))
    const week = weekOf(records, person, TODAY)
    expect(week[0]?.date).toBe('2026-03-09')
    expect(week.map((day) => day.shifts.map((one) => one.cell).join(' '))).toEqual([
      'in free',
      '',
      'away free',
      'free free',
      'free extra',
      'free free',
      'free free',
    ])
    expect(week.filter((day) => day.isToday).map((day) => day.date)).toEqual([TODAY])
    expect(exceptionsFrom(person, '2026-03-12').map((one) => one.date)).toEqual(['2026-03-13'])
  })
})

describe('a day’s exposure', () => {
  // The kit's air tool: 4 m/s², in the hand half of a shift of three hours, so 2 · 4² · 1.5 h = 48 points.
  it('splits done from planned against the lab’s limit', () => {
    const turn = (personId: string, over = {}) =>
      put('assignment', aTurn({ personId, pieceId: 'rib', stepId: 'rib-1', ...over }))
    const planned = exposureOn(aSmallLab(turn('ben')), 'ben', TODAY)
    expect(planned).toMatchObject({ donePoints: 0, limit: 100, unknown: [] })
    expect(planned?.plannedPoints).toBeCloseTo(48)
    const work = aWork({
      personId: 'ben',
      pieceId: 'rib',
      techniqueId: 'scribe',
      state: 'finished',
      minutes: 120,
      runningMinutes: 30,
    })
    const both = exposureOn(
      aSmallLab(turn('ben'), put('work', work), turn('ben', { shiftId: 'afternoon' })),
      'ben',
      TODAY,
    )
    expect(both?.donePoints).toBeCloseTo(16)
    expect(both?.plannedPoints).toBeCloseTo(48)
  })

  it('names tools without a figure and counts nothing for them', () => {
    const lab = aLab({ techniques: [anAirTool({ name: 'Old scribe', vibrationMs2: null, noiseDba: null })] })
    const records = aSmallLab(put('lab', lab), put('assignment', aTurn({ personId: 'ben', pieceId: 'rib' })))
    expect(exposureOn(records, 'ben', TODAY)).toMatchObject({
      donePoints: 0,
      plannedPoints: 0,
      noiseDba: null,
      unknown: ['Old scribe'],
    })
  })
})

it('hours of the year are the tally’s, nought without one', () => {
  const tally = kinds.tally.parse({ id: '2026.ana', personId: 'ana', year: 2026, minutes: 130, stretches: 2 })
  expect(hoursThisYear(aSmallLab(put('tally', tally)), 'ana', TODAY)).toEqual({ minutes: 130, stretches: 2 })
  expect(hoursThisYear(aSmallLab(put('tally', tally)), 'ana', '2027-01-02')).toEqual({ minutes: 0, stretches: 0 })
})
