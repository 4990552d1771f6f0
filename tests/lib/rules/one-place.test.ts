// R1 on single turns and whole days.
import { describe, expect, test } from 'vitest'
import { judgeDay } from '#lib/rules'
import { put } from '#lib/words'
import { aPlace, aSmallLab, aSpecimen, aStep, aTurn, TODAY } from '../../kit/makers.ts'

const codes = (lab: ReturnType<typeof aSmallLab>, ...turns: ReturnType<typeof aTurn>[]) =>
  judgeDay(lab, TODAY, turns).map((one) => `${one.rule} ${one.code}`)

const bensRib = aTurn({ personId: 'ben', pieceId: 'rib', placeId: 'b1' })

describe('R1 one place', () => {
  test('R1 lets two people sit at a bench with two seats', () => {
    expect(codes(aSmallLab(), aTurn(), bensRib)).toEqual([])
  })

  test('R1 refuses a third person at two seats and names who came last', () => {
    const lab = aSmallLab()
    const third = aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b1' })
    const findings = judgeDay(lab, TODAY, [aTurn(), bensRib, third])
    expect(findings).toEqual([
      {
        rule: 'R1',
        code: 'seat-taken',
        ids: { assignment: third.id, person: 'pia', shift: 'morning', place: 'b1' },
        numbers: { seats: 2, people: 3 },
      },
    ])
  })

  test('R1 lets the third person sit there in another shift', () => {
    const third = aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b1', shiftId: 'afternoon' })
    expect(codes(aSmallLab(), aTurn(), bensRib, third)).toEqual([])
  })

  test('R1 refuses one person at two places in a shift', () => {
    expect(codes(aSmallLab(), aTurn(), aTurn({ pieceId: 'jacket1', placeId: 'b2' }))).toEqual(['R1 two-places'])
  })

  test('R1 refuses a second piece at an exclusive place', () => {
    const lab = aSmallLab(put('place', aPlace({ id: 'b1', isExclusive: true })))
    expect(codes(lab, aTurn(), bensRib)).toEqual(['R1 exclusive-taken'])
  })

  test('R1 lets two people share one piece at an exclusive place when the step takes two', () => {
    const lab = aSmallLab(put('place', aPlace({ id: 'b1', isExclusive: true })), put('step', aStep({ peopleMax: 2 })))
    expect(codes(lab, aTurn(), aTurn({ personId: 'ben' }))).toEqual([])
  })

  test('R1 refuses an exclusive place at which another piece is tied', () => {
    const tied = aSpecimen({ id: 'plate', placeId: 'm1', isTied: true })
    expect(codes(aSmallLab(put('specimen', tied)), aTurn({ placeId: 'm1' }))).toEqual(['R1 exclusive-taken'])
  })

  test('R1 refuses one piece at two places in a shift', () => {
    const lab = aSmallLab(put('step', aStep({ peopleMax: 2 })))
    expect(codes(lab, aTurn(), aTurn({ personId: 'ben', placeId: 'b2' }))).toEqual(['R1 piece-elsewhere'])
  })

  test('R1 leaves a step with as many hands as it takes at once, and no more', () => {
    expect(codes(aSmallLab(), aTurn(), aTurn({ personId: 'ben' }))).toEqual(['O piece-full'])
  })
})
