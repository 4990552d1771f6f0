// R2: levels, mentors and learners.
import { describe, expect, test } from 'vitest'
import { areNeighbours, judgeDay, levelOf, metresBetween } from '#lib/rules'
import { put } from '#lib/words'
import { aLab, aPerson, aPlace, aSmallLab, aSpecimen, aStep, aTurn, skilled, TODAY } from '../../kit/makers.ts'

type Turn = ReturnType<typeof aTurn>
const codes = (lab: ReturnType<typeof aSmallLab>, ...turns: Turn[]) =>
  judgeDay(lab, TODAY, turns).map((one) => `${one.rule} ${one.code}`)

const leo = aTurn({ personId: 'leo', placeId: 'b1' })
const pia = (over: Parameters<typeof aTurn>[0] = {}) =>
  aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b2', ...over })

describe('R2 skill', () => {
  test('R2 lets a level-2 worker work alone', () => {
    expect(codes(aSmallLab(), aTurn())).toEqual([])
  })

  test('R2 refuses a technique without a skill, with both levels', () => {
    const findings = judgeDay(aSmallLab(), TODAY, [aTurn({ pieceId: 'rib' })])
    expect(findings.map((one) => [one.rule, one.code, one.numbers])).toEqual([
      ['R2', 'no-skill', { level: 0, needed: 2 }],
    ])
  })

  test('R2 lets a skill count on its last day and not on the next', () => {
    const until = (date: string) => aSmallLab(put('person', aPerson({ skills: skilled({ needle: 2 }, date) })))
    expect(codes(until('2026-03-11'), aTurn())).toEqual([])
    expect(codes(until('2026-03-10'), aTurn())).toEqual(['R2 no-skill'])
  })

  test('R2 asks level 3 for a priority piece, and no mentor makes up for it', () => {
    const lab = aSmallLab(put('specimen', aSpecimen({ isPriority: true })))
    expect(codes(lab, aTurn())).toEqual(['R2 needs-level-3'])
    expect(codes(lab, aTurn({ personId: 'ben' }))).toEqual([])
    expect(codes(lab, leo, pia())).toContain('R2 needs-level-3')
  })

  test('R2 refuses a learner alone', () => {
    expect(codes(aSmallLab(), leo)).toEqual(['R2 mentor-missing'])
  })

  test('R2 lets a learner work beside a mentor at the neighbouring bench', () => {
    expect(codes(aSmallLab(), leo, pia())).toEqual([])
  })

  test('R2 refuses a learner whose mentor is across the room, or in the other shift', () => {
    expect(codes(aSmallLab(), leo, pia({ placeId: 'm1' }))).toEqual(['R2 mentor-missing'])
    expect(codes(aSmallLab(), leo, pia({ shiftId: 'afternoon' }))).toEqual(['R2 mentor-missing'])
  })

  test('R2 says so when the only mentor is ticked away', () => {
    const turn = pia()
    const lab = aSmallLab(
      put('attendance', {
        id: turn.id,
        personId: turn.personId,
        date: TODAY,
        shiftId: turn.shiftId,
        state: 'away',
        dueAt: null,
        at: '2026-03-11T08:00:00.000Z',
      }),
    )
    expect(codes(lab, leo, turn)).toContain('R2 mentor-away')
  })

  test('R2 refuses a learner more than the lab allows a mentor, and shares mentors as well as can be', () => {
    const wide = aPlace({ id: 'b1', seats: 6 })
    const lab = aSmallLab(
      put('lab', aLab({ limits: { ...aLab().limits, learnersPerMentor: 1 } })),
      put('place', wide),
      put('person', aPerson({ id: 'lea', skills: skilled({ joining: 1 }) })),
      put('person', aPerson({ id: 'both', skills: skilled({ needle: 4, joining: 4, brush: 2 }) })),
      put('specimen', aSpecimen({ id: 'jaw' })),
      put('step', aStep({ id: 'jaw-1', pieceId: 'jaw', techniqueId: 'joining' })),
      put('specimen', aSpecimen({ id: 'tail' })),
      put('step', aStep({ id: 'tail-1', pieceId: 'tail', techniqueId: 'brush' })),
    )
    const lea = aTurn({ personId: 'lea', pieceId: 'jaw', placeId: 'b1' })
    const both = aTurn({ personId: 'both', pieceId: 'tail', placeId: 'b1' })
    expect(codes(lab, leo, lea, both)).toEqual(['R2 mentor-full'])
    // Pia can only mentor Leo; then the other mentor is free for Lea, whoever was asked first.
    expect(codes(lab, leo, lea, both, pia({ placeId: 'b1' }))).toEqual([])
  })

  test('R2 counts level 0 for a technique nobody signed off', () => {
    expect(levelOf(aPerson(), 'scribe', TODAY)).toBe(0)
  })
})

describe('R2 neighbours', () => {
  const at = (xM: number, yM: number, over = {}) => aPlace({ xM, yM, ...over })

  test('R2 measures from edge to edge', () => {
    expect(metresBetween(at(1, 1), at(3, 1))).toBeCloseTo(1, 9)
    expect(areNeighbours(at(1, 1), at(3, 1), 1)).toBe(true)
    expect(areNeighbours(at(1, 1), at(3.01, 1), 1)).toBe(false)
  })

  test('R2 measures corner to corner and sees turned benches', () => {
    expect(metresBetween(at(1, 1), at(3, 3))).toBeCloseTo(Math.SQRT2, 9)
    expect(metresBetween(at(1, 1), at(3, 1, { rotationDeg: 45 }))).toBeCloseTo(2 - 0.5 - Math.SQRT1_2, 9)
  })

  test('R2 takes overlapping and touching places as no distance at all', () => {
    expect(metresBetween(at(1, 1), at(1.5, 1))).toBe(0)
    expect(metresBetween(at(1, 1), at(2, 1))).toBe(0)
    expect(metresBetween(at(1, 1), at(1, 1, { widthM: 4, depthM: 0.2, rotationDeg: 30 }))).toBe(0)
  })
})
