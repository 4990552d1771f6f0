// The Rack's rows from the records, and narrowing them as one types.
import { describe, expect, it } from 'vitest'
import { type RackAsk, rackList, rackRows } from '#lib/views'
import { put } from '#lib/words'
import { aDue, aJacket, aLab, aPlace, aSpecimen, aStep, recordsOf } from '../../kit/makers.ts'

const all: RackAsk = { typed: '', show: 'all', sort: 'number', only: null }

describe('a row', () => {
  const records = recordsOf(
    put('lab', aLab({ riskBelowTenths: 7 })),
    put('place', aPlace({ id: 'm1', code: 'M1' })),
    put('jacket', aJacket({ id: 'jack', contents: 'ribs', hazards: ['mould'] })),
    put('jacket', aJacket({ id: 'gone', state: 'empty' })),
    put('specimen', aSpecimen({ id: 'skull', placeId: 'm1', mass: { lowKg: 1, highKg: 3, weighedKg: null } })),
    put('specimen', aSpecimen({ id: 'out', stage: 'released' })),
    put('step', aStep({ id: 's2', rank: 2, hours: { lowH: 1, likelyH: 4, highH: 9 } })),
    put('step', aStep({ id: 's1', rank: 1, hours: { lowH: 1, likelyH: 2, highH: 3 }, doneMinutes: 180 })),
    put('step', aStep({ id: 's0', rank: 0, state: 'done' })),
    put('due', aDue({ id: 'late', pieceId: 'skull', date: '2026-09-01' })),
    put('due', aDue({ id: 'soon', pieceId: 'skull', date: '2026-04-01' })),
    put('due', aDue({ id: 'asked', pieceId: 'skull', date: '2026-03-20', state: 'asked' })),
  )
  const rows = (chance?: number) => rackRows(records, new Map(chance === undefined ? [] : [['skull', chance]]))
  const skull = (chance?: number) => rows(chance).find((row) => row.pieceId === 'skull')

  it('is made for all that waits, not for what is empty or released', () => {
    expect(
      rows()
        .map((row) => row.pieceId)
        .toSorted(),
    ).toEqual(['jack', 'skull'])
  })

  it('takes the open step of the lowest rank as next, and no credit for hours over the estimate', () => {
    expect(skull()).toMatchObject({ next: { stepId: 's1' }, hoursLeft: 4, at: 'M1', massKg: 2, isWeighed: false })
  })

  it('takes the soonest accepted date and calls it at risk just below the line of the lab', () => {
    expect(skull(7)).toMatchObject({ dueOn: '2026-04-01', isAtRisk: false })
    expect(skull(6)).toMatchObject({ isAtRisk: true })
    expect(skull()).toMatchObject({ tenths: null, isAtRisk: false })
  })
})

describe('narrowing', () => {
  const records = recordsOf(
    put('lab', aLab()),
    put('jacket', aJacket({ id: 'a', fieldNumber: 'OB25-002', contents: 'Hip and tail', locality: 'Côte Noire' })),
    put('jacket', aJacket({ id: 'b', fieldNumber: 'OB25-001', state: 'opened', contents: 'Ribs', shelf: '' })),
    put(
      'specimen',
      aSpecimen({ id: 'c', number: 'SH22-088', name: 'Paddle', mass: { lowKg: 0, highKg: 9, weighedKg: 5 } }),
    ),
    put('due', aDue({ id: 'd', pieceId: 'c', date: '2026-04-18' })),
  )
  const rows = rackRows(records, new Map())
  const ids = (ask: Partial<RackAsk>) => rackList(rows, { ...all, ...ask }).map((row) => row.pieceId)

  it('finds every typed word somewhere in the row, whatever its case and accents', () => {
    expect(ids({ typed: 'hip COTE' })).toEqual(['a'])
    expect(ids({ typed: 'hip paddle' })).toEqual([])
    expect(ids({ typed: '  ' })).toHaveLength(3)
  })

  it('shows sealed, opened, specimens and dated each alone', () => {
    expect(ids({ show: 'sealed' })).toEqual(['a'])
    expect(ids({ show: 'opened' })).toEqual(['b'])
    expect(ids({ show: 'specimens' })).toEqual(['c'])
    expect(ids({ show: 'dated' })).toEqual(['c'])
  })

  it('sorts by number, by date with the undated last, by mass both ways, by shelf with the unshelved last', () => {
    expect(ids({})).toEqual(['b', 'a', 'c'])
    expect(ids({ sort: 'due' })).toEqual(['c', 'b', 'a'])
    expect(ids({ sort: 'lightest' })).toEqual(['c', 'b', 'a'])
    expect(ids({ sort: 'heaviest' })).toEqual(['b', 'a', 'c'])
    expect(ids({ sort: 'shelf' }).at(-1)).toBe('b')
  })

  it('keeps to the given pieces, and to none when none is given', () => {
    expect(ids({ only: new Set(['c']) })).toEqual(['c'])
    expect(ids({ only: new Set() })).toEqual([])
  })

  it('leaves the rows it was given in their order', () => {
    const before = rows.map((row) => row.pieceId)
    ids({ sort: 'heaviest' })
    expect(rows.map((row) => row.pieceId)).toEqual(before)
  })
})
