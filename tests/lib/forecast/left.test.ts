// Hours still to be worked: whole steps, begun ones, counted ones, pieces; and what moves them at once.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { hoursOutlook, meanOf, reasonsOf, usualModel } from '#lib/forecast'
import { put, type RecordOf, type Records, withChanges } from '#lib/words'
import { leftGiven, pieceLeft } from '../../../lib/forecast/left.ts'
import { aSmallLab, aSpecimen, aStep } from '../../kit/makers.ts'

const whole = { mean: Math.log(40), shared: 0.16, own: 0.2 }
const sd = Math.sqrt(0.36)

describe('what is left of one step', () => {
  it('is all of it before it is begun', () => {
    const left = leftGiven(whole, 0, null)
    expect(left.median).toBeCloseTo(40, 9)
    expect(left.logSd).toBeCloseTo(sd, 12)
  })

  it('is what integration gives, when nothing is known but that it takes longer than so far', () => {
    for (const done of [1, 20, 60, 150]) {
      let [mass, first, second] = [0, 0, 0]
      for (let z = -8; z < 9; z += 0.0005) {
        const h = 40 * Math.exp(z * sd) - done
        if (h <= 0) continue
        const weight = Math.exp((-z * z) / 2)
        mass += weight
        first += weight * h
        second += weight * h * h
      }
      const left = leftGiven(whole, done, null)
      const mean = first / mass
      expect(meanOf(left) / mean).toBeCloseTo(1, 3)
      expect(Math.expm1(left.logSd ** 2) / (second / mass / mean ** 2 - 1)).toBeCloseTo(1, 2)
    }
  })

  it('is never nothing while the step is called begun, however long it has taken', () => {
    for (const done of [400, 4000, 1e5]) expect(leftGiven(whole, done, null).median).toBeGreaterThan(done * 0.01)
  })

  it('is more with more surface left, and with more hours spent on what is done', () => {
    const hours = fc.double({ min: 1, max: 300, noNaN: true })
    const share = fc.double({ min: 0.03, max: 0.9, noNaN: true })
    fc.assert(
      fc.property(hours, share, (done, left) => {
        const own = meanOf(leftGiven(whole, done, left))
        expect(meanOf(leftGiven(whole, done, left * 1.08))).toBeGreaterThan(own)
        expect(meanOf(leftGiven(whole, done * 1.5, left))).toBeGreaterThan(own)
      }),
    )
    // Half of it took 60 h: the other half is far from 20 h, and better known than by the forecast alone.
    const half = leftGiven(whole, 60, 0.5)
    expect(half.median).toBeGreaterThan(40)
    expect(half.median).toBeLessThan(60)
    expect(leftGiven(whole, 60, 0.1).median).toBeLessThan(10)
  })
})

/** A specimen with a begun and a waiting step, on a small lab. */
function lab(specimen: Partial<RecordOf<'specimen'>> = {}, ...steps: readonly RecordOf<'step'>[]): Records {
  const own = aSpecimen({ id: 'jaw', stage: 'exposing', lengthM: 0.3, widthM: 0.2, ...specimen })
  return withChanges(aSmallLab(), [put('specimen', own), ...steps.map((step) => put('step', step))])
}
const begun = (over: object = {}) =>
  aStep({ id: 'jaw-1', pieceId: 'jaw', state: 'begun', doneMinutes: 600, begunCm2: 200, ...over })
const ratings = aSpecimen().ratings
const leftH = (records: Records, stepId = 'jaw-1') => {
  const step = records.step.get(stepId)
  const left = step && hoursOutlook(records).leftOf(step)
  if (!left) throw new Error('no hours')
  return meanOf(left)
}

describe('what moves it at once', () => {
  it('a reassessment of the rock, and a surprise: more comes out than was thought', () => {
    const soft = lab({ ratings: { ...ratings, rockHardness: 1, toExposeCm2: 200 } }, begun())
    const hard = lab({ ratings: { ...ratings, rockHardness: 5, toExposeCm2: 200 } }, begun())
    expect(leftH(hard)).toBeGreaterThan(1.2 * leftH(soft))
    const more = lab({ ratings: { ...ratings, rockHardness: 1, toExposeCm2: 800 } }, begun())
    expect(leftH(more)).toBeGreaterThan(1.1 * leftH(soft))
  })

  it('surface counted again, and the specimen gone on to its next stage', () => {
    const uncounted = lab({ ratings: { ...ratings, toExposeCm2: 200 } }, begun())
    const counted = lab({ ratings: { ...ratings, toExposeCm2: 40 } }, begun())
    expect(leftH(counted)).toBeLessThan(0.5 * leftH(uncounted))
    const joining = lab({ stage: 'joining', ratings: { ...ratings, toExposeCm2: 200 } }, begun())
    expect(leftH(joining)).toBeLessThan(0.3 * leftH(uncounted))
  })

  it('what the piece’s finished steps took', () => {
    const waiting = aStep({ id: 'jaw-2', pieceId: 'jaw' })
    const done = (doneMinutes: number) => aStep({ id: 'jaw-1', pieceId: 'jaw', state: 'done', doneMinutes })
    const quick = lab({}, done(240), waiting)
    const slow = lab({}, done(4800), waiting)
    expect(leftH(slow, 'jaw-2')).toBeGreaterThan(1.3 * leftH(quick, 'jaw-2'))
    expect(hoursOutlook(slow).leftOf(done(4800))).toBeNull()
  })

  it('whose hands it is in, where the server has said so', () => {
    const records = lab({}, aStep({ id: 'jaw-1', pieceId: 'jaw' }))
    const { model } = hoursOutlook(records)
    const byHands = [{ stepId: aStep({ id: 'jaw-1' }).id, shift: 0.4, variance: 0.01 }]
    const known = withChanges(records, [put('hours', { id: 'hours', ...model, byHands })])
    expect(leftH(known)).toBeGreaterThan(1.3 * leftH(records))
  })
})

describe('a piece', () => {
  it('has the sum of its steps’ means, and a wider spread the more they err together', () => {
    const steps = ['a', 'b', 'c'].map((id) => aStep({ id, pieceId: 'jaw' }))
    const of = (linkage: number) => pieceLeft(steps, { leftOf: () => ({ median: 20, logSd: 0.6, linkage }) })
    const [apart, together] = [of(0), of(1)]
    if (!apart || !together) throw new Error('no hours')
    expect(meanOf(apart)).toBeCloseTo(3 * meanOf({ median: 20, logSd: 0.6 }), 9)
    expect(meanOf(together)).toBeCloseTo(meanOf(apart), 9)
    // Three that are one and the same are one, three times as large.
    expect(together.logSd).toBeCloseTo(0.6, 9)
    expect(apart.logSd).toBeLessThan(0.4)
    expect(pieceLeft([], { leftOf: () => null })).toBeNull()
  })
})

describe('reasons', () => {
  const model = usualModel()
  const facts = {
    ...({
      group: 'exposing',
      techniqueId: 'needle',
      sizeCm2: 120,
      rockHardness: 5,
      contrast: 3,
      soundness: 3,
    } as const),
    ...{ breakage: 2, isPriority: false, sharedBy: 1, typedH: null, isUnseen: false },
  }

  it('name hard rock first where it is what makes the difference, with its factor', () => {
    const [first, second] = reasonsOf(model, facts)
    expect(first).toEqual({ fact: 'rockHardness', factor: expect.closeTo(Math.exp(0.6), 6) })
    expect(second?.fact).toBe('breakage')
    expect(second?.factor).toBeLessThan(1)
  })

  it('say nothing of what is usual, and that an estimate pulls the forecast', () => {
    expect(reasonsOf(model, { ...facts, rockHardness: 3, breakage: 3 })).toEqual([])
    const typed = reasonsOf(model, { ...facts, typedH: 20 }).find(({ fact }) => fact === 'typed')
    expect(typed?.factor).toBeLessThan(0.5)
    expect(
      reasonsOf(model, { ...facts, isUnseen: true }).find(({ fact }) => fact === 'unseen')?.factor,
    ).toBeGreaterThan(1.1)
  })
})
