// R5: vibration and noise of a person's day, done and planned.
import { describe, expect, test } from 'vitest'
import { cautionsOfDay, exposureOf, judgeDay, toldTo } from '#lib/rules'
import { PersonId, put, withChanges } from '#lib/words'
import { aLab, anAirTool, aPerson, aSmallLab, aStep, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'

// 3 h × 50 % = 90 min a shift: 2·4²·1.5 = 48 points.
const morning = aTurn({ personId: 'ben', pieceId: 'rib' })
const afternoon = aTurn({ personId: 'ben', pieceId: 'rib', shiftId: 'afternoon' })
const seatOf = ({ pieceId, stepId, placeId }: typeof morning) => ({ pieceId, stepId, placeId })
const postedToday = { id: TODAY, postedAt: NOW, postedBy: PersonId.parse('mira'), times: 1, note: '' }
const labWith = (limits = {}, tool = {}, ...more: Parameters<typeof aSmallLab>) =>
  aSmallLab(
    put(
      'lab',
      aLab({
        limits: { ...aLab().limits, ...limits },
        techniques: [anAirTool(tool), ...aLab().techniques.filter((t) => t.id !== 'scribe')],
      }),
    ),
    ...more,
  )
/** Where both turns are. */
function airTable() {
  const place = aSmallLab().place.get(morning.placeId)
  if (!place) throw new Error('not in the small lab')
  return place
}
const codes = (lab: ReturnType<typeof aSmallLab>, ...turns: ReturnType<typeof aTurn>[]) =>
  judgeDay(lab, TODAY, turns).map((one) => `${one.rule} ${one.code}`)

describe('R5 exposure', () => {
  test('R5 plans the running share of the shift, not the bench time', () => {
    expect(exposureOf(labWith(), TODAY, [morning], 'ben').vibrationPoints).toBeCloseTo(48, 9)
  })

  test('R5 lets a day be planned up to the limit and not above it', () => {
    expect(codes(labWith({ vibrationPoints: 96 }), morning, afternoon)).toEqual([])
    const findings = judgeDay(labWith({ vibrationPoints: 95 }), TODAY, [morning, afternoon])
    expect(findings).toMatchObject([
      { rule: 'R5', code: 'vibration-over', ids: { assignment: afternoon.id }, numbers: { limit: 95 } },
    ])
  })

  test('R5 counts what was really run once it is finished', () => {
    const done = (runningMinutes: number) =>
      put('work', aWork({ personId: 'ben', pieceId: 'rib', techniqueId: 'scribe', state: 'finished', runningMinutes }))
    const short = labWith({ vibrationPoints: 60 }, {}, done(20))
    expect(codes(short, morning, afternoon)).toEqual([])
    const long = labWith({ vibrationPoints: 96 }, {}, done(120))
    expect(codes(long, morning, afternoon)).toEqual(['R5 vibration-over'])
  })

  test('R5 counts work whose turn is no longer on the day', () => {
    const work = aWork({
      personId: 'ben',
      pieceId: 'rib',
      techniqueId: 'scribe',
      state: 'finished',
      runningMinutes: 150,
    })
    expect(codes(labWith({ vibrationPoints: 100 }, {}, put('work', work)), afternoon)).toEqual(['R5 vibration-over'])
  })

  test('R5 refuses a day louder than the limit: 84 dB(A) for 180 of 480 min is 79.7', () => {
    expect(codes(labWith({ noiseDba: 79.8 }), morning, afternoon)).toEqual([])
    expect(codes(labWith({ noiseDba: 79.7 }), morning, afternoon)).toEqual(['R5 noise-over'])
  })

  test('R5 counts a tool as loud as it is where it runs: 84 dB(A) in 84 is 87.0, for 180 of 480 min 82.8', () => {
    const around = (limit: number, own?: number) =>
      labWith(
        { noiseDba: limit, ...(own === undefined ? { backgroundDba: 84 } : {}) },
        {},
        ...(own === undefined ? [] : [put('place', { ...airTable(), backgroundDba: own })]),
      )
    expect(codes(around(82.8), morning, afternoon)).toEqual([])
    expect(codes(around(82.7), morning, afternoon)).toEqual(['R5 noise-over'])
    // A place's own level counts before the room's.
    expect(codes(around(82.7, 84), morning, afternoon)).toEqual(['R5 noise-over'])
    expect(codes(around(79.8, 40), morning, afternoon)).toEqual([])
  })

  test('R5 invents no figure for an unknown tool, and says that it is unknown', () => {
    const lab = labWith({ vibrationPoints: 0 }, { vibrationMs2: null, noiseDba: null })
    expect(codes(lab, morning)).toEqual([])
    expect(cautionsOfDay(lab, TODAY, [morning]).map((one) => one.code)).toEqual(['vibration-unknown', 'noise-unknown'])
    expect(exposureOf(lab, TODAY, [morning], 'ben').unknownVibration).toEqual(['scribe'])
  })

  test('R5 says of others only that they rest, but for managers and whoever looks after safety', () => {
    const lab = labWith({ vibrationPoints: 95 }, {}, put('person', aPerson({ id: 'leo', isSafety: true })))
    const findings = judgeDay(lab, TODAY, [morning, afternoon])
    for (const reader of ['ben', 'mira', 'leo']) expect(toldTo(lab, reader, findings)).toEqual(findings)
    expect(toldTo(lab, 'pia', findings)).toEqual([{ rule: 'R5', code: 'rests', ids: findings[0]?.ids, numbers: {} }])
    const post = { kind: 'seat' as const, date: TODAY, shiftId: 'afternoon', personId: 'ben', ...seatOf(afternoon) }
    const records = withChanges(lab, [put('assignment', morning), put('day', postedToday)])
    expect(act(records, 'pia', post).codes).toEqual(['R5 rests'])
    expect(act(records, 'mira', post).codes).toEqual(['R5 vibration-over'])
  })

  test('R5 does not blame hand work for what air tools did', () => {
    const work = aWork({
      personId: 'ben',
      pieceId: 'rib',
      techniqueId: 'scribe',
      state: 'finished',
      runningMinutes: 400,
    })
    const lab = labWith({}, {}, put('work', work), put('step', aStep({ id: 'rib-2', pieceId: 'rib' })))
    const needle = aTurn({ personId: 'ben', pieceId: 'rib', stepId: 'rib-2', shiftId: 'afternoon' })
    expect(codes(lab, needle)).toEqual([])
  })
})
