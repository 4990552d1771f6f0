// R6: what is recorded stays.
import { describe, expect, test } from 'vitest'
import { correctionOf, judgeOnlyAdded } from '#lib/rules'
import { put, remove } from '#lib/words'
import { aLog, anEntry, anEscalation, aSmallLab } from '../../kit/makers.ts'

describe('R6 only added', () => {
  test('R6 lets a new log and a new entry in', () => {
    expect(judgeOnlyAdded(aSmallLab(), [put('log', aLog()), put('entry', anEntry())])).toEqual([])
  })

  test('R6 refuses to overwrite or remove a log or an entry', () => {
    const lab = aSmallLab(put('log', aLog()), put('entry', anEntry()))
    expect(judgeOnlyAdded(lab, [put('log', aLog({ minutes: 1 }))])).toMatchObject([{ rule: 'R6' }])
    expect(judgeOnlyAdded(lab, [remove('entry', 'entry1')])).toMatchObject([{ rule: 'R6', ids: { record: 'entry1' } }])
  })

  test('R6 refuses one id twice in one act', () => {
    expect(judgeOnlyAdded(aSmallLab(), [put('log', aLog()), put('log', aLog())])).toHaveLength(1)
  })

  test('R6 lets an escalation end once and be changed in nothing else', () => {
    const lab = aSmallLab(put('escalation', anEscalation()))
    const ended = anEscalation({ endedAt: '2026-03-11T11:00:00.000Z' })
    expect(judgeOnlyAdded(lab, [put('escalation', ended)])).toEqual([])
    expect(judgeOnlyAdded(lab, [put('escalation', { ...ended, reason: 'other' })])).toHaveLength(1)
    expect(judgeOnlyAdded(aSmallLab(put('escalation', ended)), [put('escalation', ended)])).toHaveLength(1)
    expect(judgeOnlyAdded(lab, [remove('escalation', 'esc1')])).toHaveLength(1)
  })

  test('R6 finds the correction that stands against a record', () => {
    const lab = aSmallLab(put('log', aLog()), put('log', aLog({ id: 'log2', corrects: 'log1' })))
    expect(correctionOf(lab, 'log', 'log1')).toBe('log2')
    expect(correctionOf(lab, 'log', 'log2')).toBeNull()
  })
})
