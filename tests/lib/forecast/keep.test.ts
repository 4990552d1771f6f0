// Forecasts are kept when they are made, once each, and looked at again when the work is done.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import { hindsight, learn, pastOf, toKeep } from '#lib/forecast'
import { kinds, put, type RecordOf, type Records, withChanges } from '#lib/words'
import { wilson } from '../../../lib/forecast/hindsight.ts'
import { foresight } from '../../../server/foresight.ts'
import { aSmallLab, aSpecimen, aStep, TODAY } from '../../kit/makers.ts'

let minute = 0
const when = (date = TODAY) => ({ at: `${date}T08:${String(minute++ % 60).padStart(2, '0')}:00.000Z`, on: date })
const keep = (records: Records, date = TODAY): Records =>
  withChanges(
    records,
    toKeep(records, when(date)).map((one) => put('forecast', one)),
  )
const kept = (records: Records, stepId = 'jaw-1') =>
  [...records.forecast.values()].filter((one) => one.stepId === stepId).map(({ why }) => why)
const set = (records: Records, ...steps: readonly RecordOf<'step'>[]) =>
  withChanges(
    records,
    steps.map((step) => put('step', step)),
  )
const step = (over: object = {}) => aStep({ id: 'jaw-1', pieceId: 'jaw', ...over })

const base = withChanges(aSmallLab(), [put('specimen', aSpecimen({ id: 'jaw', stage: 'exposing' }))])
const others = new Set(base.step.keys())

describe('keeping', () => {
  it('keeps a forecast as a step is begun, when its facts change, and its end; each once', () => {
    let records = keep(set(base, step()))
    expect(kept(records)).toEqual([])
    records = keep(set(records, step({ state: 'begun' })))
    expect(kept(records)).toEqual(['begun'])
    expect(keep(records)).toEqual(records)
    const harder = {
      ...aSpecimen({ id: 'jaw', stage: 'exposing' }),
      ratings: { ...aSpecimen().ratings, rockHardness: 5 },
    }
    records = keep(withChanges(records, [put('specimen', harder)]))
    expect(kept(records)).toEqual(['begun', 'changed'])
    const [first, second] = [...records.forecast.values()].filter(({ stepId }) => stepId === 'jaw-1')
    expect(second?.left?.median).toBeGreaterThan(first?.left?.median ?? Number.POSITIVE_INFINITY)
    records = keep(set(records, step({ state: 'done', doneMinutes: 900 })))
    expect(keep(records)).toEqual(records)
    expect(kept(records)).toEqual(['begun', 'changed', 'finished'])
    // Hours corrected after the end are another end; taken up again, it is begun again.
    records = keep(set(records, step({ state: 'done', doneMinutes: 960 })))
    records = keep(set(records, step({ state: 'begun', doneMinutes: 960 })))
    expect(kept(records)).toEqual(['begun', 'changed', 'finished', 'finished', 'begun'])
    for (const one of records.forecast.values()) expect(kinds.forecast.safeParse(one).error).toBeUndefined()
  })

  it('keeps what somebody typed and the plain ways beside it', () => {
    const hours = { lowH: 6, likelyH: 9, highH: 18 }
    const [one] = toKeep(set(base, step({ state: 'begun', hours })), when()).filter(({ stepId }) => stepId === 'jaw-1')
    // PERT: (6 + 36 + 18) / 6 = 10 h, and its spread 2 h.
    expect(one?.facts.typedH).toBeCloseTo(10, 9)
    const { median, logSd } = one?.beside?.typed ?? { median: 0, logSd: 0 }
    expect(median * Math.exp(logSd ** 2 / 2)).toBeCloseTo(10, 2)
    expect(one?.beside?.lab).toEqual({ median: 10, logSd: 1.2 })
  })

  it('learns from ends, and from what is not finished as far as it has come', () => {
    let records = keep(set(base, step({ state: 'begun' }), step({ id: 'jaw-2', state: 'begun' })))
    records = set(
      records,
      step({ state: 'done', doneMinutes: 600 }),
      step({ id: 'jaw-2', state: 'begun', doneMinutes: 240 }),
    )
    records = keep(records, addDays(TODAY, 3))
    const past = pastOf(records, addDays(TODAY, 9)).filter(({ pieceId }) => pieceId === 'jaw')
    expect(past.map(({ minutes, isOpen, on }) => [minutes, isOpen, on])).toEqual([
      [600, false, addDays(TODAY, 3)],
      [240, true, addDays(TODAY, 9)],
    ])
    // It went to the archive unfinished: what was known last counts.
    const gone = withChanges(records, [{ kind: 'step', id: 'jaw-2', record: null }])
    expect(pastOf(gone, TODAY).filter(({ pieceId }) => pieceId === 'jaw')).toHaveLength(1)
  })

  it('is done by the server after what was kept, once, and makes the model everybody reads', () => {
    const follow = foresight(() => `op-${minute++}`)
    const now = { ...when(), date: TODAY, minute: 500 }
    expect(follow.concerns([put('step', step())])).toBe(true)
    expect(follow.concerns([put('place', [...base.place.values()][0] as RecordOf<'place'>)])).toBe(false)
    let records = set(base, step({ state: 'done', doneMinutes: 1500 }))
    for (let look = 0; look < 3; look++) {
      const { ops, derived } = follow.look(records, now)
      const forecasts = ops.flatMap((op) => ('forecasts' in op ? (op.forecasts as RecordOf<'forecast'>[]) : []))
      expect(forecasts.length > 0).toBe(look === 0)
      records = withChanges(records, [...derived, ...forecasts.map((one) => put('forecast', one))])
    }
    const hours = records.hours.get('hours')
    expect(kinds.hours.safeParse(hours).error).toBeUndefined()
    expect(hours?.finished).toBe(1)
    // 25 h where 10 were typed: the next ones are thought to take longer than before.
    expect(hours?.mean[hours.keys.indexOf('level')]).toBeGreaterThan(0)
    expect(learn([]).model.mean.every((mean) => mean === 0)).toBe(true)
  })
})

describe('hindsight', () => {
  const made = (n: number, median: number, tookH: number): readonly RecordOf<'forecast'>[] => {
    const [one] = toKeep(set(base, step({ state: 'begun' })), when()).filter(({ stepId }) => !others.has(stepId))
    if (!one) throw new Error('no forecast')
    const stepId = step({ id: `s${n}` }).id
    const left = { median, logSd: 0.5 }
    const beside = { lab: { median: 10, logSd: 1 }, like: { median: 10, logSd: 1 }, typed: { median, logSd: 0.1 } }
    const begun = { ...one, id: `s${n}.begun`, stepId, left, beside }
    return [
      begun,
      {
        ...begun,
        id: `s${n}.finished`,
        why: 'finished',
        at: `${one.at.slice(0, 10)}T23:00:00.000Z`,
        doneMinutes: Math.round(tookH * 60),
        left: null,
        beside: null,
      },
    ]
  }

  it('counts ends below each quantile, and scores every way on the same steps', () => {
    // Median 10 h and log spread 0.5: P10 is 5.3 h, P90 is 19.0 h.
    const all = [4, 6, 9, 11, 15, 30].flatMap((tookH, n) => made(n, 10, tookH))
    const seen = hindsight(
      withChanges(
        base,
        all.map((one) => put('forecast', one)),
      ),
    )
    expect([seen.count, seen.inside]).toEqual([6, 4])
    expect(seen.calibration.map(({ tau, below }) => [tau, below])).toEqual([
      [0.1, 1],
      [0.5, 3],
      [0.9, 5],
    ])
    const crps = Object.fromEntries(seen.ways.map(({ way, crpsH }) => [way, crpsH]))
    // Equal medians: the spread that fits is better than one ten times too sure.
    expect(crps.model).toBeLessThan(crps.typed ?? 0)
    expect(seen.latest[0]?.tookH).toBe(30)
  })

  it('says nothing of a lab that has finished nothing', () => {
    expect(hindsight(base)).toMatchObject({ count: 0, ways: [], latest: [], insideFrom: 0, insideTo: 1 })
  })

  it('gives Wilson’s interval of a share: 8 of 10 is 0.490 to 0.943 (from memory)', () => {
    const { from, to } = wilson(8, 10)
    expect([from.toFixed(3), to.toFixed(3)]).toEqual(['0.490', '0.943'])
    expect(wilson(0, 5).from).toBe(0)
    expect(wilson(5, 5).to).toBeCloseTo(1, 12)
  })
})
