// Finish windows and chances on the demo lab and on small changes of it: honest at the edges, wider with less known.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import { chanceBy, chancesOf, type FinishWindow, finishWindow, paceOf } from '#lib/forecast'
import { type Change, noRecords, put, type RecordOf, type Records, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'

const today = '2026-03-12'
const demo = withChanges(noRecords(), demoRecords({ seed: 20, today }))
const pace = paceOf(demo, today)

const named = (name: string, records: Records = demo): RecordOf<'specimen'> => {
  const found = [...records.specimen.values()].find((specimen) => specimen.name === name)
  if (!found) throw new Error(`no ${name}`)
  return found
}
const stepsOf = (pieceId: string, records: Records = demo) =>
  [...records.step.values()].filter((step) => step.pieceId === pieceId)
const open = (records: Records, pieceId: string, of = paceOf(records, today)): FinishWindow => {
  const found = finishWindow(records, pieceId, today, of)
  if (found.state !== 'open') throw new Error(`not open: ${found.state}`)
  return found.window
}
const changed = (...changes: Change[]) => withChanges(demo, changes)
const spanDays = (window: FinishWindow) => (Date.parse(window.p90) - Date.parse(window.p10)) / 86_400_000

describe('finish window', () => {
  it('is in order and agrees with its chances', () => {
    for (const specimen of demo.specimen.values()) {
      const found = finishWindow(demo, specimen.id, today, pace)
      if (found.state !== 'open') continue
      const { p10, p50, p90, leftH } = found.window
      expect(today <= p10 && p10 <= p50 && p50 <= p90, specimen.id).toBe(true)
      expect(leftH.p10 < leftH.p50 && leftH.p50 < leftH.p90, specimen.id).toBe(true)
      const at = (date: string) => chanceBy(demo, specimen.id, date, today, pace) ?? Number.NaN
      // A window is of whole days, so a short one holds a little more than its share.
      expect(at(p10), specimen.id).toBeGreaterThanOrEqual(0.1)
      expect(at(addDays(p10, -1)), specimen.id).toBeLessThanOrEqual(0.1001)
      expect(at(p90), specimen.id).toBeGreaterThanOrEqual(0.9)
      expect(at(addDays(p90, -1)), specimen.id).toBeLessThanOrEqual(0.9001)
    }
  })

  it('shows one hopeless and one easy date, and four between', () => {
    const chances = [...chancesOf(demo, today, pace).values()].sort((a, b) => a - b)
    expect(chances).toHaveLength(6)
    expect(chances[0]).toBeLessThan(0.01)
    expect(chances[1]).toBeGreaterThan(0.2)
    expect(chances[4]).toBeLessThan(0.95)
    expect(chances[5]).toBeGreaterThan(0.95)
  })

  it('is ready when all steps are done or dropped, whatever the date', () => {
    const thigh = named('Thigh bone')
    const done = changed(...stepsOf(thigh.id).map((step) => put('step', { ...step, state: 'done' })))
    expect(finishWindow(done, thigh.id, today, paceOf(done, today))).toEqual({ state: 'ready' })
    expect(chanceBy(done, thigh.id, addDays(today, -9), today, pace)).toBe(1)
  })

  it('is unknown without steps, and without any pace to go by', () => {
    expect(finishWindow(demo, 'nothing', today, pace)).toEqual({ state: 'unknown' })
    expect(chanceBy(demo, 'nothing', today, today, pace)).toBeNull()
    const skull = named('Skull in block')
    const alone = withChanges(noRecords(), [put('specimen', skull), ...stepsOf(skull.id).map((s) => put('step', s))])
    const never = withChanges(
      alone,
      stepsOf(skull.id).map((step) => put('step', { ...step, state: 'waiting', doneMinutes: 0, by: [] })),
    )
    expect(finishWindow(never, skull.id, today, paceOf(never, today))).toEqual({ state: 'unknown' })
  })

  it('has no chance on a date that is past', () => {
    const skull = named('Skull in block')
    expect(chanceBy(demo, skull.id, addDays(today, -1), today, pace)).toBe(0)
    expect(chanceBy(demo, skull.id, today, today, pace)).toBeLessThan(0.01)
  })

  it('is wider before a piece is opened', () => {
    const sealed = named('Block with small bones')
    const seen = changed(put('specimen', { ...sealed, stage: 'opened' }))
    expect(spanDays(open(demo, sealed.id))).toBeGreaterThan(spanDays(open(seen, sealed.id)))
    expect(open(demo, sealed.id).isUnseen).toBe(true)
  })

  it('moves later with more work left, and by each day the lab is closed', () => {
    const skull = named('Skull in block')
    const needle = stepsOf(skull.id).find((step) => step.techniqueId === 'needle')
    if (!needle) throw new Error('no needle')
    const hours = { lowH: needle.hours.lowH * 3, likelyH: needle.hours.likelyH * 3, highH: needle.hours.highH * 3 }
    const more = changed(put('step', { ...needle, hours }))
    expect(open(more, skull.id).p50 > open(demo, skull.id).p50).toBe(true)
    const lab = demo.lab.get('lab')
    if (!lab) throw new Error('no lab')
    const weeks = Array.from({ length: 14 }, (_, i) => addDays(today, 1 + i))
    const shut = changed(put('lab', { ...lab, closed: [...lab.closed, ...weeks] }))
    const later = (Date.parse(open(shut, skull.id, pace).p50) - Date.parse(open(demo, skull.id, pace).p50)) / 86_400_000
    expect(later).toBe(14)
  })

  it('never calls a step done that took longer than thought', () => {
    const skull = named('Skull in block')
    const long = changed(
      ...stepsOf(skull.id)
        .filter(({ state }) => state === 'begun' || state === 'waiting')
        .map((step) => put('step', { ...step, state: 'begun', doneMinutes: Math.round(step.hours.highH * 60 * 5) })),
    )
    expect(open(long, skull.id, pace).leftH.p10).toBeGreaterThan(1)
  })
})

describe('pace', () => {
  it('is the piece its own when it has been in work, else the usual for its technique', () => {
    const weekly = pace.weeklyOf(named('Skull in block').id)
    expect(weekly?.basis).toBe('own')
    expect(weekly?.hours.median).toBeGreaterThan(2)
    const stranger = pace.weeklyOf(named('Block with small bones').id)
    expect(stranger?.basis).toBe('lab')
    expect(stranger?.hours.logSd ?? 0).toBeGreaterThan(weekly?.hours.logSd ?? 1)
  })

  it('reads logs when they are at hand, without the ones that were corrected', () => {
    const skull = named('Skull in block')
    const logs = [...demo.log.values()].filter((log) => log.pieceId === skull.id)
    const last = logs.at(-1)
    if (!last) throw new Error('no log')
    const again = { ...last, id: 'again', corrects: last.id }
    const once = paceOf(demo, today, logs).weeklyOf(skull.id)?.hours.median
    expect(paceOf(demo, today, [...logs, again]).weeklyOf(skull.id)?.hours.median).toBeCloseTo(once ?? 0, 9)
  })
})
