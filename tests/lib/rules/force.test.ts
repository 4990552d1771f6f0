// R3: the force ceiling and what goes above it.
import { describe, expect, test } from 'vitest'
import { ceilingOf, judgeDay } from '#lib/rules'
import { put } from '#lib/words'
import { anEscalation, aSmallLab, aSpecimen, aStep, aTurn, TODAY } from '../../kit/makers.ts'

const bensScribe = aTurn({ personId: 'ben', stepId: 'skull-3' })
const withScribe = (...more: Parameters<typeof aSmallLab>) =>
  aSmallLab(put('step', aStep({ id: 'skull-3', techniqueId: 'scribe' })), ...more)
const codes = (lab: ReturnType<typeof aSmallLab>) =>
  judgeDay(lab, TODAY, [bensScribe]).map((one) => `${one.rule} ${one.code}`)

describe('R3 force', () => {
  test('R3 refuses a scribe on a specimen with a needle ceiling, with both rungs', () => {
    const findings = judgeDay(withScribe(), TODAY, [bensScribe])
    expect(findings).toMatchObject([{ rule: 'R3', code: 'above-ceiling', numbers: { force: 7, ceiling: 4 } }])
  })

  test('R3 lets the ceiling itself be used', () => {
    expect(codes(withScribe(put('specimen', aSpecimen({ forceCeiling: 'scribe' }))))).toEqual([])
  })

  test('R3 lets an escalation be used while it stands, and not once it is ended', () => {
    expect(codes(withScribe(put('escalation', anEscalation())))).toEqual([])
    const ended = anEscalation({ endedAt: '2026-03-11T09:30:00.000Z' })
    expect(codes(withScribe(put('escalation', ended)))).toEqual(['R3 above-ceiling'])
  })

  test('R3 does not take an escalation of another piece', () => {
    expect(codes(withScribe(put('escalation', anEscalation({ pieceId: 'rib' }))))).toEqual(['R3 above-ceiling'])
  })

  test('R3 leaves techniques apart from the ladder and jackets alone', () => {
    const lab = aSmallLab()
    expect(ceilingOf(lab, 'jacket1')).toBeNull()
    const joining = aTurn({ personId: 'ben', stepId: 'skull-2' })
    expect(judgeDay(lab, TODAY, [joining]).filter((one) => one.rule === 'R3')).toEqual([])
  })
})
