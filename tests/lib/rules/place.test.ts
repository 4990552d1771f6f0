// Places and steps: features, air lines, loads, closures, order; presence; and "fit for me" against the full judge.
import { describe, expect, test } from 'vitest'
import { fitForMe, judgeDay, judgeHandsOfDay, judgeTaken, judgeTurn, presenceOf } from '#lib/rules'
import { PersonId, put } from '#lib/words'
import {
  aLab,
  anAirTool,
  aPerson,
  aPlace,
  aSmallLab,
  aSpecimen,
  aStep,
  aTechnique,
  aTurn,
  aWork,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'

const codes = (lab: ReturnType<typeof aSmallLab>, ...turns: ReturnType<typeof aTurn>[]) =>
  judgeDay(lab, TODAY, turns).map((one) => `${one.rule} ${one.code}`)

describe('O places', () => {
  test('O refuses a place without a feature that the technique needs', () => {
    const scoped = aLab({ techniques: [...aLab().techniques.slice(0, 1), aTechnique({ needs: ['microscope'] })] })
    const lab = aSmallLab(put('lab', scoped))
    expect(codes(lab, aTurn())).toEqual(['O place-lacks'])
    expect(codes(lab, aTurn({ placeId: 'm1' }))).toEqual([])
  })

  test('O refuses an air tool without a free air line', () => {
    const lab = aSmallLab(put('place', aPlace({ airLines: 0 })))
    expect(codes(lab, aTurn({ personId: 'ben', pieceId: 'rib' }))).toEqual(['O place-air-lines'])
  })

  test('O lets a place be loaded to its limit and no further', () => {
    const lab = (loadKgMax: number) => aSmallLab(put('place', aPlace({ loadKgMax })))
    expect(codes(lab(40), aTurn())).toEqual([])
    expect(codes(lab(39.9), aTurn())).toEqual(['O place-load'])
    expect(codes(lab(79), aTurn(), aTurn({ personId: 'ben', pieceId: 'rib' }))).toEqual(['O place-load'])
  })

  test('O takes a weighing before the estimate', () => {
    const weighed = aSpecimen({ mass: { lowKg: 20, highKg: 40, weighedKg: 55 } })
    expect(codes(aSmallLab(put('place', aPlace({ loadKgMax: 50 })), put('specimen', weighed)), aTurn())).toEqual([
      'O place-load',
    ])
  })

  test('O closes a place up to the day before it is in use again', () => {
    const until = (closedUntil: string) => aSmallLab(put('place', aPlace({ closedUntil })))
    expect(codes(until(TOMORROW), aTurn())).toEqual(['O place-closed'])
    expect(codes(until(TODAY), aTurn())).toEqual([])
  })

  test('O works on a tied piece where it is', () => {
    const tied = aSpecimen({ isTied: true, placeId: 'b2' })
    expect(codes(aSmallLab(put('specimen', tied)), aTurn())).toEqual(['O piece-tied'])
    expect(codes(aSmallLab(put('specimen', tied)), aTurn({ placeId: 'b2' }))).toEqual([])
  })

  test('O keeps the order of steps, and takes a step planned for the morning as done by the afternoon', () => {
    const joining = aTurn({ personId: 'ben', stepId: 'skull-2', shiftId: 'afternoon' })
    expect(codes(aSmallLab(), joining)).toEqual(['O step-waits'])
    expect(codes(aSmallLab(), aTurn(), joining)).toEqual([])
    expect(codes(aSmallLab(put('step', aStep({ state: 'done' }))), joining)).toEqual([])
  })

  test('O names steps with fewer hands than they take', () => {
    const lab = aSmallLab(put('step', aStep({ peopleMin: 2, peopleMax: 2 })))
    expect(judgeHandsOfDay(lab, TODAY, [aTurn()])).toMatchObject([{ code: 'too-few-hands' }])
    expect(judgeHandsOfDay(lab, TODAY, [aTurn(), aTurn({ personId: 'ben' })])).toEqual([])
  })

  test.each([
    ['person', { personId: 'nobody' }],
    ['shift', { shiftId: 'night' }],
    ['piece', { pieceId: 'nothing', stepId: 'skull-1' }],
    ['step', { stepId: 'rib-1' }],
    ['place', { placeId: 'nowhere' }],
  ])('O refuses an unknown %s', (what, over) => {
    expect(codes(aSmallLab(), aTurn(over))).toEqual([`O unknown-${what}`])
  })

  test('O refuses researchers, people who left, closed dates and shifts not held', () => {
    const gone = aSmallLab(put('person', aPerson({ isActive: false })))
    expect(codes(gone, aTurn())).toEqual(['O not-crew'])
    expect(codes(aSmallLab(), aTurn({ personId: 'rex' }))).toContain('O not-crew')
    expect(codes(aSmallLab(put('lab', aLab({ closed: [TODAY] }))), aTurn())).toEqual(['O lab-closed'])
    const shifts = aLab().shifts.map((shift) => ({ ...shift, weekdays: [1] }))
    expect(codes(aSmallLab(put('lab', aLab({ shifts }))), aTurn())).toEqual(['O no-shift'])
  })

  test('O asks no more of work that is begun', () => {
    const gone = aSmallLab(put('person', aPerson({ isActive: false })), put('work', aWork()))
    expect(codes(gone, aTurn())).toEqual([])
  })
})

describe('O presence', () => {
  const ana = (over = {}) => aPerson({ pattern: [{ weekday: 3, shiftId: 'morning' }], ...over })
  const seen = (person: ReturnType<typeof aPerson>, ...more: Parameters<typeof aSmallLab>) =>
    presenceOf(aSmallLab(put('person', person), ...more), person, TODAY, 'morning')
  const tick = (state: 'in' | 'late' | 'away' | 'left') =>
    put('attendance', {
      id: aTurn().id,
      personId: PersonId.parse('ana'),
      date: TODAY,
      shiftId: aTurn().shiftId,
      state,
      dueAt: null,
      at: '2026-03-11T08:00:00.000Z',
    })

  test('O follows the pattern, then the exception of the day, then of the shift, then the tick', () => {
    expect(seen(ana())).toMatchObject({ isIn: true, basis: 'pattern' })
    expect(seen(ana({ pattern: [] }))).toMatchObject({ isIn: false, isAway: false, basis: 'none' })
    const day = { date: TODAY, shiftId: null, kind: 'away' as const }
    expect(seen(ana({ exceptions: [day] }))).toMatchObject({ isAway: true, basis: 'exception' })
    const shift = { date: TODAY, shiftId: 'morning', kind: 'extra' as const }
    expect(seen(ana({ exceptions: [day, shift] }))).toMatchObject({ isIn: true, basis: 'exception' })
    expect(seen(ana(), tick('away'))).toMatchObject({ isAway: true, basis: 'attendance' })
    expect(seen(ana({ exceptions: [day] }), tick('late'))).toMatchObject({ isIn: true, state: 'late' })
  })

  test('O expects nobody on a closed date', () => {
    expect(seen(ana(), put('lab', aLab({ closed: [TODAY] })))).toMatchObject({ isIn: false, basis: 'closed' })
  })
})

describe('O fit for me', () => {
  test('O says of each piece what the full judge says of each way', () => {
    const lab = aSmallLab(
      put('assignment', aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'm1' })),
      put('place', aPlace({ id: 'b2', xM: 2.5, loadKgMax: 10 })),
      put('specimen', aSpecimen({ id: 'tied', placeId: 'b1', isTied: true })),
      put('step', aStep({ id: 'tied-1', pieceId: 'tied' })),
      put('lab', aLab({ techniques: [...aLab().techniques, anAirTool({ id: 'big', airLpm: 500 })] })),
    )
    for (const personId of ['mira', 'pia', 'ana', 'ben', 'leo', 'rex']) {
      for (const fit of fitForMe(lab, { personId }, TODAY, 'morning')) {
        const steps = [...lab.step.values()].filter((step) => step.pieceId === fit.pieceId)
        const allowed = steps.flatMap((step) =>
          [...lab.place.values()].flatMap((place) => {
            const turn = aTurn({ personId, pieceId: fit.pieceId, stepId: step.id, placeId: place.id })
            const isFree = !lab.assignment.has(turn.id) && judgeTaken(lab, TODAY, turn).length === 0
            return isFree && judgeTurn(lab, TODAY, turn).length === 0 ? [`${step.id} ${place.id}`] : []
          }),
        )
        expect([personId, fit.pieceId, fit.ways.map((way) => `${way.stepId} ${way.placeId}`)]).toEqual([
          personId,
          fit.pieceId,
          allowed,
        ])
        expect(fit.isFit).toBe(allowed.length > 0)
        expect(fit.findings.length > 0).toBe(!fit.isFit)
      }
    }
  })

  test('O goes through five thousand pieces while somebody types', () => {
    const many = Array.from({ length: 5000 }, (_, i) => [
      put('specimen', aSpecimen({ id: `p${i}` })),
      put('step', aStep({ id: `p${i}-1`, pieceId: `p${i}`, techniqueId: i % 2 ? 'needle' : 'scribe' })),
    ]).flat()
    const lab = aSmallLab(put('assignment', aTurn({ personId: 'ben' })), ...many)
    const fits = fitForMe(lab, { personId: 'ana' }, TODAY, 'morning')
    expect(fits.filter((fit) => fit.isFit).length).toBe(2501)
  })
})
