// A morning at the bench: what starting, pausing, finishing and correcting do to work, log, step and tally.
import { describe, expect, test } from 'vitest'
import { put, withChanges } from '#lib/words'
import { aJacket, aLog, aPlace, aSmallLab, aSpecimen, aStep, aTurn, aWork, TODAY, TOMORROW } from '../../kit/makers.ts'
import { act, system, whenAt } from '../../kit/makers-ops.ts'

const at = (time: string, date = TODAY) =>
  whenAt({ at: `${date}T${time}:00.000Z`, date, minute: Number(time.slice(0, 2)) * 60 + Number(time.slice(3)) })
const finish = (over: object = {}) => ({
  kind: 'finish' as const,
  workId: 'w1',
  logId: 'l1',
  minutes: null,
  runningMinutes: 0,
  note: 'cleaned the brow',
  stepDone: false,
  shelf: null,
  ...over,
})
const start = { kind: 'start' as const, workId: 'w1', assignmentId: aTurn().id }

/** Ana's morning: starts at nine, pauses at half past, goes on at ten, finishes at eleven. */
function morning(lab = aSmallLab(put('assignment', aTurn()))) {
  const started = act(lab, 'ana', start, at('09:00')).records
  const paused = act(started, 'ana', { kind: 'pause', workId: 'w1' }, at('09:30')).records
  return act(paused, 'ana', { kind: 'resume', workId: 'w1' }, at('10:00')).records
}

describe('the bench', () => {
  test('O a start brings the piece to its place, begins the step and ticks the person in', () => {
    const { records } = act(aSmallLab(put('assignment', aTurn())), 'ana', start, at('09:00'))
    expect(records.specimen.get('skull')?.placeId).toBe('b1')
    expect(records.step.get('skull-1')?.state).toBe('begun')
    expect(records.attendance.get(aTurn().id)?.state).toBe('in')
    expect(records.work.get('w1')).toMatchObject({ state: 'running', techniqueId: 'needle', minutes: 0 })
  })

  test('O the clock counts what ran and not the pause', () => {
    const { records } = act(morning(), 'ana', finish(), at('11:00'))
    expect(records.log.get('l1')).toMatchObject({ minutes: 90, note: 'cleaned the brow', corrects: null })
    expect(records.work.get('w1')).toMatchObject({ state: 'finished', since: null, minutes: 90 })
    expect(records.step.get('skull-1')).toMatchObject({
      state: 'begun',
      doneMinutes: 90,
      by: [{ personId: 'ana', minutes: 90 }],
    })
    expect(records.tally.get('2026.ana')).toMatchObject({ minutes: 90, stretches: 1 })
  })

  test('O what the person says counts before the clock, and a done step is done', () => {
    const { records } = act(morning(), 'ana', finish({ minutes: 80, stepDone: true, shelf: 'rack 3' }), at('11:00'))
    expect(records.log.get('l1')?.minutes).toBe(80)
    expect(records.step.get('skull-1')).toMatchObject({ state: 'done', doneMinutes: 80 })
    expect(records.specimen.get('skull')).toMatchObject({ shelf: 'rack 3', placeId: null })
  })

  test('O staff finish for somebody who forgot, and the hours stay hers', () => {
    const { records } = act(morning(), 'pia', finish(), at('11:00'))
    expect(records.log.get('l1')).toMatchObject({ personId: 'ana', writtenBy: 'pia' })
    expect(act(morning(), 'ana', finish(), at('11:00')).records.log.get('l1')).not.toHaveProperty('writtenBy')
    expect(act(morning(), 'ben', finish(), at('11:00')).codes).toEqual(['O not-yours'])
  })

  test('R6 a correction adds a log and carries the difference to step, tally and the day', () => {
    const done = act(morning(), 'ana', finish(), at('11:00')).records
    const correct = { kind: 'correctLog' as const, logId: 'l2', corrects: 'l1', pieceId: 'skull', note: 'with a break' }
    const { records } = act(done, 'ana', { ...correct, minutes: 60, runningMinutes: 10 }, at('11:30'))
    expect(records.log.get('l1')).toBe(done.log.get('l1'))
    expect(records.log.get('l2')).toMatchObject({ corrects: 'l1', minutes: 60, runningMinutes: 10 })
    expect(records.step.get('skull-1')).toMatchObject({ doneMinutes: 60, by: [{ personId: 'ana', minutes: 60 }] })
    expect(records.tally.get('2026.ana')).toMatchObject({ minutes: 60, stretches: 1 })
    expect(records.work.get('w1')).toMatchObject({ minutes: 60, runningMinutes: 10 })
    const again = act(records, 'ana', { ...correct, logId: 'l3', minutes: 5, runningMinutes: 0 }, at('11:40'))
    expect(again.codes).toEqual(['R6 corrected'])
  })

  test('R6 a correction that says nothing of the minutes in the hand leaves them, within the bench minutes', () => {
    const done = act(morning(), 'ana', finish({ runningMinutes: 40 }), at('11:00')).records
    const correct = { kind: 'correctLog' as const, logId: 'l2', corrects: 'l1', pieceId: 'skull', note: '' }
    const { records } = act(done, 'pia', { ...correct, minutes: 60, runningMinutes: null }, at('11:30'))
    expect(records.log.get('l2')).toMatchObject({ minutes: 60, runningMinutes: 40 })
    const shorter = act(done, 'pia', { ...correct, minutes: 39, runningMinutes: null }, at('11:30'))
    expect(shorter.codes).toEqual(['O more-than-bench'])
  })

  test('R6 a correction by somebody else names who corrected and when, and the work stays whose it was', () => {
    const done = act(morning(), 'ana', finish(), at('11:00')).records
    const forgotten = withChanges(done, [put('log', aLog({ ...done.log.get('l1'), closedBy: 'day' }))])
    const correct = { kind: 'correctLog' as const, corrects: 'l1', pieceId: 'skull', minutes: 60, runningMinutes: 0 }
    const { records } = act(forgotten, 'pia', { ...correct, logId: 'l2', note: 'with a break' }, at('11:30'))
    const { finishedAt } = aLog({ ...done.log.get('l1') })
    const moment = at('11:30').at
    expect(records.log.get('l2')).toMatchObject({ personId: 'ana', finishedAt, writtenBy: 'pia', writtenAt: moment })
    expect(records.log.get('l2')).not.toHaveProperty('closedBy')
    expect(records.step.get('skull-1')?.by).toEqual([{ personId: 'ana', minutes: 60 }])
  })

  test('R1 an exclusive place is cleared for the new piece, unless the other one is tied there', () => {
    const scope = aTurn({ placeId: 'm1' })
    const lab = aSmallLab(put('assignment', scope), put('specimen', aSpecimen({ id: 'rib', placeId: 'm1' })))
    expect(act(lab, 'ana', start, at('09:00')).records.specimen.get('rib')?.placeId).toBeNull()
    const tied = aSmallLab(
      put('assignment', scope),
      put('specimen', aSpecimen({ id: 'rib', placeId: 'm1', isTied: true })),
    )
    expect(act(tied, 'ana', start, at('09:00')).codes).toContain('R1 exclusive-taken')
  })

  test('O a start is refused where the furniture would not bear what lies there already', () => {
    const lab = aSmallLab(
      put('assignment', aTurn()),
      put('place', aPlace({ loadKgMax: 60 })),
      put('jacket', aJacket({ placeId: 'b1' })),
    )
    expect(act(lab, 'ana', start, at('09:00')).codes).toEqual(['O place-load'])
  })

  test('R2 a learner does not start while the mentor is ticked away', () => {
    const mentor = aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b2' })
    const lab = aSmallLab(put('assignment', aTurn({ personId: 'leo' })), put('assignment', mentor))
    const away = act(lab, 'pia', {
      kind: 'attend',
      personId: 'pia',
      date: TODAY,
      shiftId: 'morning',
      state: 'away',
      dueAt: null,
    }).records
    const leo = { kind: 'start' as const, workId: 'w2', assignmentId: aTurn({ personId: 'leo' }).id }
    expect(act(lab, 'leo', leo).codes).toEqual([])
    expect(act(away, 'leo', leo).codes).toEqual(['R2 mentor-away'])
  })

  test('R3 a ceiling cannot be lowered under running work, and can once it is finished', () => {
    const lower = { kind: 'setCeiling' as const, pieceId: 'skull', techniqueId: 'brush', reason: 'soft', entryId: 'e1' }
    const running = morning()
    expect(act(running, 'pia', lower).codes).toEqual(['R3 above-ceiling'])
    const done = act(running, 'ana', finish(), at('11:00')).records
    expect(act(done, 'pia', lower).codes).toEqual([])
  })
})

describe('the next day', () => {
  test('O forgotten work is closed at the end of its shift, with a log that says so', () => {
    const lab = aSmallLab(put('assignment', aTurn()), put('work', aWork({ id: 'w1' })))
    const { records } = act(lab, system, { kind: 'beginDay', date: TOMORROW }, at('03:00', TOMORROW))
    expect([...records.log.values()]).toMatchObject([
      { id: 'w1', minutes: 180, finishedAt: '2026-03-11T12:00:00.000Z', closedBy: 'day', note: '' },
    ])
    expect(records.work.size).toBe(0)
    expect(records.step.get('skull-1')).toMatchObject({ state: 'begun', doneMinutes: 180 })
    expect(records.tally.get('2026.ana')?.minutes).toBe(180)
  })

  test('O two forgotten stretches on one step add up, and a log id that is taken is not written over', () => {
    const lab = aSmallLab(
      put('work', aWork({ id: 'w1', state: 'paused', minutes: 20 })),
      put('work', aWork({ id: 'w2', personId: 'ben', state: 'paused', minutes: 30 })),
    )
    const once = act(lab, system, { kind: 'beginDay', date: TOMORROW }, at('03:00', TOMORROW)).records
    expect(once.step.get('skull-1')?.doneMinutes).toBe(50)
    const more = act(
      { ...once, work: lab.work },
      system,
      { kind: 'beginDay', date: TOMORROW },
      at('03:00', TOMORROW),
    ).records
    expect([...more.log.keys()].sort()).toEqual(['w1', 'w1.2', 'w2', 'w2.2'])
  })

  test('O what is a week old leaves, and yesterday stays', () => {
    const old = aTurn({ date: '2026-03-01' })
    const lab = aSmallLab(put('assignment', old), put('assignment', aTurn()), put('step', aStep({ state: 'done' })))
    const { records } = act(lab, system, { kind: 'beginDay', date: TOMORROW }, at('03:00', TOMORROW))
    expect([...records.assignment.keys()]).toEqual([aTurn().id])
  })
})
