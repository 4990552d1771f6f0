// What the Wall says beside the plan, and when it turns to the next shift.
import { describe, expect, it } from 'vitest'
import { floorOf, wallFactsOf, wallShiftOf } from '#lib/views'
import { type Change, kinds, put, ShiftId } from '#lib/words'
import {
  aDue,
  aLab,
  anAirTool,
  aPlace,
  aShift,
  aSmallLab,
  aTechnique,
  aTurn,
  NOW,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'
import { aClock } from '../../kit/makers-materials.ts'

const shiftId = ShiftId.parse(aTurn().shiftId)
const facts = (...more: Change[]) => {
  const records = aSmallLab(...more)
  return wallFactsOf(records, floorOf(records, { date: TODAY, shiftId, today: TODAY, minute: 600 }, new Map()))
}
const seat = (personId: string, over: Parameters<typeof aTurn>[0] = {}): Change =>
  put('assignment', aTurn({ id: `${TODAY}.${shiftId}.${personId}`, personId, ...over }))
const tick = (personId: string, state: string, dueAt: string | null = null): Change =>
  put(
    'attendance',
    kinds.attendance.parse({
      id: `${TODAY}.${shiftId}.${personId}`,
      personId,
      date: TODAY,
      shiftId,
      state,
      dueAt,
      at: `${TODAY}T09:00:00.000Z`,
    }),
  )

describe('the facts beside the plan', () => {
  it('names who is late with the time they gave', () => {
    expect(facts(seat('ana'), tick('ana', 'late', '10:15')).late).toMatchObject([{ name: 'ana', dueAt: '10:15' }])
    expect(facts(seat('ana'), tick('ana', 'in')).late).toEqual([])
  })

  it('counts the seats nobody has', () => {
    expect(facts().freeSeats - facts(seat('ana')).freeSeats).toBe(1)
  })

  it('tells what is worked with by place, most audible first, and not of those who are away', () => {
    const tools = put(
      'lab',
      aLab({ techniques: [aTechnique(), anAirTool(), aTechnique({ id: 'joining', hazards: ['solvent'] })] }),
    )
    const scribe = seat('ben', { pieceId: 'rib', stepId: 'rib-1', placeId: 'b2' })
    const join = seat('pia', { stepId: 'skull-2', placeId: 'b1' })
    expect(facts(tools, scribe, join).care).toEqual([
      { hazard: 'noise', places: ['b2'] },
      { hazard: 'dust', places: ['b2'] },
      { hazard: 'solvent', places: ['b1'] },
    ])
    expect(facts(tools, scribe, join, tick('ben', 'away')).care).toEqual([{ hazard: 'solvent', places: ['b1'] }])
  })

  it('names a place once, however many work there', () => {
    const two = [seat('ben', { pieceId: 'rib', stepId: 'rib-1' }), seat('pia', { pieceId: 'rib', stepId: 'rib-1' })]
    expect(facts(...two).care).toContainEqual({ hazard: 'noise', places: ['b1'] })
  })

  it('takes the soonest accepted date from today on, today among them', () => {
    const due = (id: string, date: string, state: 'accepted' | 'asked' = 'accepted') =>
      put('due', aDue({ id, pieceId: 'skull', date, state }))
    expect(facts(due('a', '2026-05-02'), due('b', TODAY), due('c', '2026-01-01')).next?.date).toBe(TODAY)
    expect(facts(due('a', '2026-01-01'), due('b', '2026-04-01', 'asked')).next).toBeNull()
  })

  it('tells what ends by itself today, the soonest first, and of no other day', () => {
    const ends = (id: string, date: string, time: string) =>
      put('clock', { ...aClock({ id, ends: { date, time } }), by: aTurn().by, at: NOW })
    const told = facts(ends('a', TODAY, '15:00'), ends('b', TODAY, '11:00'), ends('c', TOMORROW, '09:30')).ends
    expect(told.map(({ time, what }) => `${time} ${what}`)).toEqual(['11:00 rinsing', '15:00 rinsing'])
  })

  it('says nothing of air where no compressor delivers any', () => {
    expect(facts(put('lab', aLab({ compressor: { deliveryLpm: 0, dutyPct: 50 } }))).air.totalLpm).toBe(0)
    expect(facts(put('place', aPlace({ id: 'x' }))).air.totalLpm).toBe(100)
  })
})

describe('which shift the Wall shows', () => {
  const shifts = [aShift({ id: 'am' }), aShift({ id: 'pm', start: '13:00', end: '16:00' })].map((shift) => ({
    ...shift,
    id: ShiftId.parse(shift.id),
  }))
  const shown = (hour: number, minute: number) => wallShiftOf(shifts, hour * 60 + minute)?.id

  it('is the running one to its last minute, then the one that comes', () => {
    expect(shown(7, 0)).toBe('am')
    expect(shown(9, 0)).toBe('am')
    expect(shown(11, 59)).toBe('am')
    expect(shown(12, 0)).toBe('pm')
  })

  it('turns half an hour before the next begins, and stays with the last', () => {
    expect(shown(12, 30)).toBe('pm')
    expect(shown(22, 0)).toBe('pm')
    const close = [shifts[0], { ...shifts[1], start: '12:10' }].flatMap((shift) =>
      shift?.id ? [{ ...aShift(), ...shift, id: shift.id }] : [],
    )
    expect(wallShiftOf(close, 11 * 60 + 39)?.id).toBe('am')
    expect(wallShiftOf(close, 11 * 60 + 40)?.id).toBe('pm')
  })

  it('is none on a day without shifts', () => {
    expect(wallShiftOf([], 600)).toBeNull()
  })
})
