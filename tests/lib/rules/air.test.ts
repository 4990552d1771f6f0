// R4: the compressor.
import { describe, expect, test } from 'vitest'
import { airOf, judgeDay } from '#lib/rules'
import { put } from '#lib/words'
import { aLab, anAirTool, aPerson, aSmallLab, aSpecimen, aStep, aTurn, skilled, TODAY } from '../../kit/makers.ts'

/** Three people with scribes on three ribs; 100 l/min in all, 50 each. */
function scribers(airLpm = 50) {
  const names = ['one', 'two', 'three'] as const
  const lab = aSmallLab(
    put('lab', aLab({ techniques: [anAirTool({ airLpm }), ...aLab().techniques.filter((t) => t.id !== 'scribe')] })),
    ...names.map((id) => put('person', aPerson({ id, skills: skilled({ scribe: 2 }) }))),
    ...names.map((id) => put('specimen', aSpecimen({ id: `rib-${id}`, forceCeiling: 'scribe' }))),
    ...names.map((id) => put('step', aStep({ id: `rib-${id}-1`, pieceId: `rib-${id}`, techniqueId: 'scribe' }))),
  )
  const turn = (id: (typeof names)[number], placeId: string, over = {}) =>
    aTurn({ personId: id, pieceId: `rib-${id}`, placeId, ...over })
  return { lab, turn }
}

describe('R4 air', () => {
  test('R4 lets two air scribes run when exactly all air is drawn', () => {
    const { lab, turn } = scribers()
    const turns = [turn('one', 'b1'), turn('two', 'b1')]
    expect(judgeDay(lab, TODAY, turns)).toEqual([])
    expect(airOf(lab, TODAY, turns, 'morning')).toEqual({ usedLpm: 100, limitLpm: 100, freeLpm: 0 })
  })

  test('R4 refuses a third air scribe, with what is left', () => {
    const { lab, turn } = scribers()
    const findings = judgeDay(lab, TODAY, [turn('one', 'b1'), turn('two', 'b1'), turn('three', 'b2')])
    expect(findings).toMatchObject([
      {
        rule: 'R4',
        code: 'air-short',
        ids: { person: 'three' },
        numbers: { airLpm: 50, freeLpm: 0, limitLpm: 100 },
      },
    ])
  })

  test('R4 refuses a tenth of a litre too much and lets ten tenths be', () => {
    const { lab, turn } = scribers(50.05)
    expect(judgeDay(lab, TODAY, [turn('one', 'b1'), turn('two', 'b1')])).toMatchObject([{ rule: 'R4' }])
    const { lab: fine, turn: fineTurn } = scribers(33.333333)
    const three = [fineTurn('one', 'b1'), fineTurn('two', 'b1'), fineTurn('three', 'b2')]
    expect(judgeDay(fine, TODAY, three)).toEqual([])
  })

  test('R4 counts each shift by itself', () => {
    const { lab, turn } = scribers()
    const turns = [turn('one', 'b1'), turn('two', 'b1'), turn('three', 'b2', { shiftId: 'afternoon' })]
    expect(judgeDay(lab, TODAY, turns)).toEqual([])
  })
})
