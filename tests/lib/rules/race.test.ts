// R7: whoever lost a race learns who has it.
import { describe, expect, test } from 'vitest'
import { judgeDisplaced, judgeTaken } from '#lib/rules'
import { put } from '#lib/words'
import { aSmallLab, aStep, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'

describe('R7 race', () => {
  test('R7 names who has the piece, where and since when', () => {
    const lab = aSmallLab(put('assignment', aTurn({ how: 'claimed' })))
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben' }))).toMatchObject([
      { rule: 'R7', code: 'has-it', ids: { person: 'ana', piece: 'skull', place: 'b1', since: NOW } },
    ])
  })

  test('R7 leaves a free piece, another shift and one’s own turn alone', () => {
    const lab = aSmallLab(put('assignment', aTurn()))
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben', pieceId: 'rib' }))).toEqual([])
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben', shiftId: 'afternoon' }))).toEqual([])
    expect(judgeTaken(lab, TODAY, aTurn({ placeId: 'b2' }))).toEqual([])
  })

  test('R7 has room for a second pair of hands on the same step at the same place only', () => {
    const lab = aSmallLab(put('assignment', aTurn()), put('step', aStep({ peopleMax: 2 })))
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben' }))).toEqual([])
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben', placeId: 'b2' }))).toHaveLength(1)
    expect(judgeTaken(lab, TODAY, aTurn({ personId: 'ben', stepId: 'skull-2' }))).toHaveLength(1)
  })

  test('R7 refuses a post that leaves out a claim of somebody else, and not one’s own', () => {
    const lab = aSmallLab(put('assignment', aTurn({ how: 'claimed' })))
    expect(judgeDisplaced(lab, TODAY, [], 'mira')).toMatchObject([{ code: 'claimed-since', ids: { person: 'ana' } }])
    expect(judgeDisplaced(lab, TODAY, [], 'ana')).toEqual([])
    expect(judgeDisplaced(lab, TODAY, [aTurn()], 'mira')).toEqual([])
  })

  test('R7 refuses a post that moves begun work, and lets a drawn turn go', () => {
    const lab = aSmallLab(put('assignment', aTurn()), put('work', aWork()))
    expect(judgeDisplaced(lab, TODAY, [aTurn({ placeId: 'b2' })], 'mira')).toMatchObject([{ code: 'begun-since' }])
    expect(judgeDisplaced(aSmallLab(put('assignment', aTurn())), TODAY, [], 'mira')).toEqual([])
  })
})
