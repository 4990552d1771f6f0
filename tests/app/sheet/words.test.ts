// The Sheet's own sentences.
import { describe, expect, it } from 'vitest'
import { sheetSteps } from '#lib/views'
import { put } from '#lib/words'
import {
  sayContainer,
  sayCorrects,
  sayEntry,
  sayLeft,
  sayLog,
  sayOn,
  sayShort,
  saySum,
  sayWhere,
} from '../../../app/sheet/words.ts'
import { aJacket, aLog, anEntry, aSmallLab, aStep, aTurn } from '../../kit/makers.ts'

describe('where and who', () => {
  const say = { person: (id: string) => id, place: () => 'M1', shift: () => 'Afternoon' }
  const { personId, placeId, shiftId } = aTurn()
  const turn = (when: 'now' | 'next' | 'over', id = personId) => ({
    personId: id,
    placeId,
    shiftId,
    techniqueId: null,
    when,
    work: null,
  })

  it('says the place, else the shelf', () => {
    expect([sayWhere('M1', 'rack 2'), sayWhere(null, 'rack 2'), sayWhere(null, '')]).toEqual([
      'M1',
      'rack 2',
      'no shelf noted',
    ])
  })

  it('says who is on it now, else who comes next, else nothing', () => {
    const ben = aTurn({ personId: 'ben' }).personId
    expect(sayOn([turn('now'), turn('now', ben)], say)).toBe('ana and ben at M1, now')
    expect(sayOn([turn('over'), turn('next', ben)], say)).toBe('ben at M1, afternoon')
    expect(sayOn([turn('over')], say)).toBe('')
  })

  it('says a date as short as a head has room for', () => {
    expect([sayShort('2026-05-02', '2026-03-11'), sayShort('2027-05-02', '2026-03-11')]).toEqual([
      '2 May',
      '2 May 2027',
    ])
  })
})

describe('a correction', () => {
  it('names whose it was only where another hand corrects it', () => {
    const first = { name: 'Ana', moment: '11 March 11:30' }
    expect(sayCorrects(first, 'Pia')).toBe('Corrects Ana, 11 March 11:30:')
    expect([sayCorrects(first, 'Ana'), sayCorrects(first, null)]).toEqual(Array(2).fill('Corrects 11 March 11:30:'))
  })
})

describe('steps', () => {
  const left = (over: Parameters<typeof aStep>[0]) => {
    const row = sheetSteps(aSmallLab(put('step', aStep(over))), 'skull').rows.find((one) => one.step.id === 'skull-1')
    return row && sayLeft(row)
  }

  it('say what is left of the estimate', () => {
    expect(left({})).toBe('5 to 20 h left')
    expect(left({ state: 'begun', doneMinutes: 480 })).toBe('up to 12 h left')
    expect(left({ state: 'begun', doneMinutes: 1260 })).toBe('longer than estimated')
    expect(left({ hours: { lowH: 0, likelyH: 0, highH: 0 } })).toBe('not estimated')
    expect(left({ state: 'done' })).toBe('done')
    expect(left({ state: 'dropped' })).toBe('dropped')
  })

  it('are summed in one line', () => {
    expect(saySum({ doneH: 0, leftLowH: 5, leftHighH: 20, count: 2 })).toBe('Nothing done yet, 5 to 20 h left')
    expect(saySum({ doneH: 31, leftLowH: 0, leftHighH: 0, count: 0 })).toBe('31 h done')
  })
})

describe('the record', () => {
  it('says a log without its minutes in the hand, which are private, and a move of stage with its note', () => {
    expect(sayLog(aLog({ minutes: 110 }), 'needle')).toBe('1 h 50 with needle')
    expect(sayLog(aLog({ minutes: 60, runningMinutes: 25 }), 'scribe')).toBe('1 h with scribe')
    expect(sayEntry(anEntry({ kind: 'stage', text: 'exposing → joining\nnine pieces' }))).toBe(
      'Now joining. nine pieces',
    )
    expect(sayEntry(anEntry({ text: 'exposing' }))).toBe('exposing')
  })

  it('says what came from the field', () => {
    expect(sayContainer(aJacket({ partOf: { n: 2, total: 3 } }))).toBe('plaster jacket 2 of 3')
    expect(sayContainer(aJacket({ container: 'bag' }))).toBe('bag')
  })
})
