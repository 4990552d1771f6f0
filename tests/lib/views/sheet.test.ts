// The Sheet read from the records: what it is, who is on it, what is left of its steps, its record in one line of time.
import { describe, expect, it } from 'vitest'
import {
  isOnPiece,
  niceScale,
  type RecordLine,
  sheetOf,
  sheetSteps,
  stageOfEntry,
  stagePathOf,
  treatmentRecord,
  writtenBy,
} from '#lib/views'
import { put, Question } from '#lib/words'
import {
  aDue,
  aJacket,
  aLog,
  anEntry,
  anEscalation,
  aSmallLab,
  aSpecimen,
  aStep,
  aTurn,
  aWork,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'

const at = (minute: number) => ({ date: TODAY, minute })
const tenOClock = at(10 * 60)

describe('a sheet', () => {
  it('is null for a piece that is not among the records', () => {
    expect(sheetOf(aSmallLab(), 'nobody', tenOClock)).toBeNull()
  })

  it('gives jacket and specimen one shape', () => {
    const records = aSmallLab(
      put('specimen', aSpecimen({ id: 'rib', name: 'Rib ends', jacketId: 'jacket1' })),
      put('jacket', aJacket({ state: 'empty', contents: 'ribs' })),
    )
    expect(sheetOf(records, 'rib', tenOClock)).toMatchObject({
      number: 'N-rib',
      name: 'Rib ends',
      stage: 'exposing',
      from: { id: 'jacket1' },
      jacket: null,
    })
    expect(sheetOf(records, 'jacket1', tenOClock)).toMatchObject({
      number: 'F-jacket1',
      name: 'ribs',
      stage: 'released',
      specimen: null,
      specimens: [{ id: 'rib' }],
    })
  })

  it('names who is on it: over, now, still to come', () => {
    const records = aSmallLab(
      put('assignment', aTurn()),
      put('assignment', aTurn({ personId: 'ben', shiftId: 'afternoon' })),
      put('assignment', aTurn({ personId: 'leo', date: TOMORROW })),
      put('work', aWork({ state: 'paused' })),
    )
    const on = (minute: number) =>
      sheetOf(records, 'skull', at(minute))?.today.map((turn) => [turn.personId, turn.when, turn.work])
    expect(on(8 * 60)).toEqual([
      ['ana', 'next', 'paused'],
      ['ben', 'next', null],
    ])
    expect(on(12 * 60)).toEqual([
      ['ana', 'over', 'paused'],
      ['ben', 'next', null],
    ])
    expect(on(13 * 60)?.[1]).toEqual(['ben', 'now', null])
  })

  it('puts live dates first, open questions first, standing escalations first', () => {
    const question = (id: string, day: number, answered = false) =>
      put(
        'question',
        Question.parse({
          id,
          pieceId: 'skull',
          by: 'rex',
          at: `2026-03-0${day}T10:00:00.000Z`,
          text: id,
          answer: answered ? { by: 'ana', at: '2026-03-09T10:00:00.000Z', text: 'yes' } : null,
        }),
      )
    const sheet = sheetOf(
      aSmallLab(
        put('due', aDue({ id: 'late', date: '2026-09-01' })),
        put('due', aDue({ id: 'met', date: '2026-02-01', state: 'met' })),
        put('due', aDue({ id: 'asked', date: '2026-04-01', state: 'asked' })),
        question('q1', 1),
        question('q2', 2, true),
        question('q3', 3),
        put('escalation', anEscalation({ id: 'gone', endedAt: '2026-03-10T10:00:00.000Z' })),
        put('escalation', anEscalation({ id: 'stands', at: '2026-03-01T10:00:00.000Z' })),
      ),
      'skull',
      tenOClock,
    )
    expect(sheet?.dues.map((due) => due.id)).toEqual(['asked', 'late', 'met'])
    expect(sheet?.due?.id).toBe('late')
    expect(sheet?.questions.map((one) => one.id)).toEqual(['q3', 'q1', 'q2'])
    expect(sheet?.escalations.map((one) => one.id)).toEqual(['stands', 'gone'])
  })

  it('tells whose piece it is today by turn and by work', () => {
    const records = aSmallLab(put('assignment', aTurn()), put('work', aWork({ personId: 'ben', pieceId: 'rib' })))
    expect(isOnPiece(records, 'ana', 'skull', TODAY)).toBe(true)
    expect(isOnPiece(records, 'ana', 'skull', TOMORROW)).toBe(false)
    expect(isOnPiece(records, 'ben', 'rib', TODAY)).toBe(true)
    expect(isOnPiece(records, 'leo', 'skull', TODAY)).toBe(false)
  })
})

describe('the steps of a sheet', () => {
  it('leave what the estimate has over the hours done, never less than nothing', () => {
    const records = aSmallLab(put('step', aStep({ state: 'begun', doneMinutes: 8 * 60 })))
    const { rows, doneH, scaleH } = sheetSteps(records, 'skull')
    expect(rows[0]).toMatchObject({ doneH: 8, leftLowH: 0, leftHighH: 12, isOver: false, isOpen: true })
    expect(doneH).toBe(8)
    expect(scaleH).toBe(20)
    const over = sheetSteps(aSmallLab(put('step', aStep({ state: 'begun', doneMinutes: 21 * 60 }))), 'skull')
    expect(over.rows[0]).toMatchObject({ leftHighH: 0, isOver: true })
  })

  it('wait for what is open before them, the nearest only', () => {
    const third = aStep({ id: 'skull-3', rank: 3, after: ['skull-1', 'skull-2'] })
    const { rows } = sheetSteps(aSmallLab(put('step', third)), 'skull')
    expect(rows.map((row) => row.waitsFor.map((one) => one.id))).toEqual([[], ['skull-1'], ['skull-2']])
    const done = sheetSteps(aSmallLab(put('step', third), put('step', aStep({ state: 'done' }))), 'skull')
    expect(done.rows[1]?.waitsFor).toEqual([])
  })

  it('list dropped steps last, whatever their rank', () => {
    const records = aSmallLab(put('step', aStep({ state: 'dropped' })))
    expect(sheetSteps(records, 'skull').rows.map((row) => row.step.id)).toEqual(['skull-2', 'skull-1'])
  })

  it('share a scale whose end can be said', () => {
    expect([0, 0.4, 3, 18, 42, 71, 400].map(niceScale)).toEqual([1, 1, 5, 20, 50, 100, 500])
  })
})

describe('the treatment record', () => {
  const ids = (lines: readonly RecordLine[]) =>
    lines.map((line) => [line.first.record.id, ...line.corrections.map((one) => one.record.id)])

  it('merges logs and entries by time, newest first', () => {
    const logs = [aLog({ id: 'l1', finishedAt: '2026-03-02T10:00:00.000Z' })]
    const entries = [
      anEntry({ id: 'e1', at: '2026-03-01T10:00:00.000Z' }),
      anEntry({ id: 'e2', at: '2026-03-03T10:00:00.000Z' }),
    ]
    expect(ids(treatmentRecord(logs, entries))).toEqual([['e2'], ['l1'], ['e1']])
  })

  it('hangs corrections under what they correct, and the last of the line counts', () => {
    const entries = [
      anEntry({ id: 'e1', at: '2026-03-01T10:00:00.000Z' }),
      anEntry({ id: 'e2', at: '2026-03-05T10:00:00.000Z', corrects: 'e1' }),
      anEntry({ id: 'e3', at: '2026-03-06T10:00:00.000Z', corrects: 'e2' }),
      anEntry({ id: 'e4', at: '2026-03-04T10:00:00.000Z' }),
    ]
    const lines = treatmentRecord([], entries)
    expect(ids(lines)).toEqual([['e4'], ['e1', 'e2', 'e3']])
    expect(lines[1]?.last.record.id).toBe('e3')
  })

  it('tells who put a line down and when, apart from whose work it was', () => {
    const hand = (over: Parameters<typeof aLog>[0]) => writtenBy({ kind: 'log', record: aLog(over) })
    const { finishedAt } = aLog()
    expect(hand({})).toEqual({ by: 'ana', at: finishedAt })
    const corrected = { corrects: 'l1', writtenBy: 'pia', writtenAt: '2026-03-12T10:00:00.000Z' } as const
    expect(hand(corrected)).toEqual({ by: 'pia', at: '2026-03-12T10:00:00.000Z' })
    // A correction stored before it was noted who made it.
    expect(hand({ corrects: 'l1' })).toBeNull()
    const early = aLog({ ...corrected, id: 'l3', writtenAt: '2026-03-12T08:00:00.000Z' })
    const logs = [aLog({ id: 'l1' }), aLog({ ...corrected, id: 'l2' }), early]
    expect(ids(treatmentRecord(logs, []))).toEqual([['l1', 'l3', 'l2']])
  })

  it('keeps a correction whose original is not here', () => {
    expect(ids(treatmentRecord([aLog({ id: 'l2', corrects: 'l1' })], []))).toEqual([['l2']])
  })

  it('reads the stage an entry moved to, and the path from it', () => {
    const moved = (id: string, text: string, at: string) => anEntry({ id, kind: 'stage', text, at })
    const opened = moved('s1', 'sealed → opened\nsaw stopped above the paper', '2026-01-02T10:00:00.000Z')
    const plain = moved('s2', 'exposing', '2026-02-01T10:00:00.000Z')
    expect([stageOfEntry(opened), stageOfEntry(plain), stageOfEntry(anEntry({ text: 'opened' }))]).toEqual([
      'opened',
      'exposing',
      null,
    ])
    const path = stagePathOf(aSpecimen({ stageSince: '2026-02-03' }), [opened, plain], '2025-08-04')
    expect(path.slice(0, 4)).toEqual([
      { stage: 'sealed', state: 'done', reached: '2025-08-04' },
      { stage: 'opened', state: 'done', reached: '2026-01-02T10:00:00.000Z' },
      { stage: 'exposing', state: 'now', reached: '2026-02-03' },
      { stage: 'joining', state: 'ahead', reached: null },
    ])
  })
})
