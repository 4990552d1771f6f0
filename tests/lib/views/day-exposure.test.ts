// What is planned for somebody on the days to come: the same figures as on the day itself, of that person alone, told with
// the published value it comes to; what nobody has entered stays unknown.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { noiseReached, vibrationReached } from '#lib/limits'
import { comingDays, dayExposureOf } from '#lib/views'
import { PersonId, put } from '#lib/words'
import { sayComingDate, sayPlanned, sayReached } from '../../../app/safety/say-day.ts'
import { aLab, anAirTool, aSmallLab, aStep, aTechnique, aTurn, TODAY, TOMORROW } from '../../kit/makers.ts'

const ben = PersonId.parse('ben')
const LATER = '2026-03-20'
const posted = (date: string) =>
  put('day', { id: date, postedAt: `${TODAY}T10:00:00.000Z`, postedBy: PersonId.parse('mira'), times: 1, note: '' })
const turn = (over: Parameters<typeof aTurn>[0]) =>
  put('assignment', aTurn({ personId: 'ben', pieceId: 'rib', ...over }))
const labWith = (...tools: Parameters<typeof aTechnique>[0][]) =>
  put('lab', aLab({ techniques: [aTechnique(), aTechnique({ id: 'joining' }), ...tools.map(aTechnique)] }))

describe('the days to come', () => {
  test('R5 are those after today on which the person has a turn, as far ahead as there are any', () => {
    const records = aSmallLab(
      ...[posted(TODAY), posted(TOMORROW), posted('2026-03-13')],
      ...[turn({}), turn({ date: LATER }), turn({ date: TOMORROW }), turn({ date: TOMORROW, shiftId: 'afternoon' })],
      turn({ date: '2026-03-13', personId: 'ana' }),
      turn({ date: '2026-03-10' }),
    )
    const days = comingDays(records, ben, TODAY)
    expect(days.map(({ date, isPosted }) => [date, isPosted])).toEqual([
      [TOMORROW, true],
      [LATER, false],
    ])
    // Two shifts of 3 h, half the time at 4 m/s²: 2 · 48 points, all of it planned.
    expect(days[0]?.exposure).toMatchObject({ donePoints: 0, plannedPoints: 96 })
    expect(days[0]?.ledger.tools.map(({ isDone, minutes }) => [isDone, minutes])).toEqual([
      [false, 90],
      [false, 90],
    ])
    expect(days.map((day) => `${sayComingDate(day.date, TODAY)}: ${sayPlanned(day)}`)).toEqual([
      'Tomorrow, 12 March: 96 of 100 points of vibration, 79.7 dB(A)',
      '20 March: 48 of 100 points of vibration, 76.7 dB(A) (claimed, not posted yet)',
    ])
  })

  test('R5 a day that is planned alike counts alike, whether it is today or to come, and nobody else’s turns change it', () => {
    fc.assert(
      fc.property(
        fc.record({
          vibrationMs2: fc.option(fc.double({ min: 0, max: 30, noNaN: true })),
          noiseDba: fc.option(fc.integer({ min: 40, max: 120 })),
          runningPct: fc.integer({ min: 0, max: 100 }),
        }),
        fc.subarray(['morning', 'afternoon'], { minLength: 1 }),
        fc.boolean(),
        (figures, shiftIds, hasOther) => {
          const lab = labWith(anAirTool(figures))
          const on = (date: string) => [
            ...shiftIds.map((shiftId) => turn({ date, shiftId })),
            ...(hasOther ? [turn({ date, personId: 'pia' })] : []),
          ]
          const today = dayExposureOf(aSmallLab(lab, ...on(TODAY)), ben, TODAY)
          const [coming] = comingDays(aSmallLab(lab, posted(LATER), ...on(LATER)), ben, TODAY)
          expect({ ...coming, date: TODAY }).toEqual({ ...today, isPosted: true })
        },
      ),
      { numRuns: 200 },
    )
  })

  test('R5 what is unknown is named with no figure: no vibration value, no share of the time, dust never sampled', () => {
    const records = aSmallLab(
      labWith(
        anAirTool({ vibrationMs2: null, noiseDba: null, name: 'Chisel' }),
        anAirTool({ id: 'buzzer', name: 'Buzzer', runningPct: 0 }),
      ),
      put('step', aStep({ id: 'jacket1-1', pieceId: 'jacket1', techniqueId: 'buzzer' })),
      turn({ date: TOMORROW }),
      turn({ date: TOMORROW, shiftId: 'afternoon', pieceId: 'jacket1' }),
    )
    const [day] = comingDays(records, ben, TODAY)
    expect(day).toMatchObject({
      ledger: { unknownVibration: ['Chisel'], unknownNoise: ['Chisel'], points: 0 },
      ...{ withoutShare: ['Buzzer'], unsampled: ['Chisel', 'Buzzer'], vibrationReached: null, noiseReached: null },
    })
    expect(day && sayPlanned(day)).toBe('Chisel and Buzzer not counted (claimed, not posted yet)')
  })

  test('R5 coming to a published value is told with its text and what to do, also where the lab’s own limit is higher', () => {
    const limits = { ...aLab().limits, vibrationPoints: 400, noiseDba: 90 }
    const day = (tool: object) => {
      const lab = aLab({ limits, techniques: [anAirTool({ runningPct: 100, noiseDba: null, hazards: [], ...tool })] })
      return dayExposureOf(aSmallLab(put('lab', lab), turn({})), ben, TODAY)
    }
    // 3 h at a: A(8) = a·√(3/8), so the values 2.5 and 5 are met at a = 4.0825 and 8.165.
    const said = (tool: object) => {
      const it = day(tool)
      return it ? sayReached(it) : []
    }
    expect(said({ vibrationMs2: 4.08 })).toEqual([])
    expect(said({ vibrationMs2: 2.5 / Math.sqrt(3 / 8) })).toEqual([
      expect.stringMatching(/^Vibration comes to the action value of 2\.5 m\/s² A\(8\), Directive 2002\/44\/EC/),
    ])
    expect(said({ vibrationMs2: 8.2 })).toEqual([
      expect.stringMatching(/limit value of 5 m\/s².*It is not to be passed/),
    ])
    // 3 h are 4.26 dB below the level.
    expect(said({ vibrationMs2: null, noiseDba: 85 })).toEqual([
      expect.stringMatching(/^Noise comes to the lower action value of 80 dB\(A\) over 8 h, Directive 2003\/10\/EC/),
    ])
    expect(said({ vibrationMs2: null, noiseDba: 92 })).toEqual([expect.stringMatching(/limit value of 87 dB\(A\)/)])
  })
})

describe('the value that is reached', () => {
  test('R5 is met at the value itself and not below it, and never falls when there is more', () => {
    expect(vibrationReached('eu', 2.4999)).toBeNull()
    expect(vibrationReached('uk', 2.5)).toMatchObject({ kind: 'action', edition: 'uk-vibration' })
    expect(vibrationReached('eu', 5)).toMatchObject({ kind: 'limit', edition: 'eu-vibration' })
    const level = (levelDba: number) => [{ levelDba, minutes: 480 }]
    expect([79.9, 80, 85, 87].map((dba) => noiseReached('eu', 'eu', level(dba))?.value)).toEqual([
      undefined,
      80,
      85,
      87,
    ])
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (a, more) => {
          const value = (ms2: number) => vibrationReached('eu', ms2)?.value ?? 0
          expect(value(a + more)).toBeGreaterThanOrEqual(value(a))
        },
      ),
    )
  })

  test('R5 by OSHA the action level counts from 80 dB(A) on and the permissible level from 90 on', () => {
    // 89 dB(A) for 12 h: 130 % of the dose by the action level’s rule, and nothing of it by the other’s (Table G-16).
    expect(noiseReached('us', 'osha', [{ levelDba: 89, minutes: 720 }])).toMatchObject({ kind: 'action', value: 85 })
    expect(noiseReached('us', 'osha', [{ levelDba: 90, minutes: 480 }])).toMatchObject({ kind: 'limit', value: 90 })
    expect(noiseReached('us', 'niosh', [{ levelDba: 88, minutes: 240 }])).toMatchObject({ kind: 'limit', value: 85 })
  })
})
