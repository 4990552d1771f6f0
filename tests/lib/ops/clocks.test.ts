// A clock that ends by itself finds somebody there, or it is said why it need not.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { weekdayOf } from '#lib/base'
import { presenceOf } from '#lib/rules'
import { put } from '#lib/words'
import { aPerson, aSmallLab, TODAY } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'

const lab = aSmallLab(
  put('person', aPerson({ id: 'ben', pattern: [{ weekday: weekdayOf(TODAY), shiftId: 'morning' }] })),
)
const clock = (time: string, more: object = {}) => ({
  kind: 'setClock' as const,
  stepId: 'skull-1',
  endsAt: { date: TODAY, time, ...more },
})

test('O a clock kept without a reason ends in a shift with somebody in it who may see to it', () => {
  const minute = fc.nat({ max: 1439 })
  fc.assert(
    fc.property(minute, (at) => {
      const time = `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}`
      const isTended = (lab.lab.get('lab')?.shifts ?? []).some(
        (shift) =>
          shift.start <= time &&
          time <= shift.end &&
          [...lab.person.values()].some(
            (person) =>
              person.skills.some((one) => one.techniqueId === 'needle' && one.level >= 2) &&
              presenceOf(lab, person, TODAY, shift.id).isIn,
          ),
      )
      expect(act(lab, 'pia', clock(time)).codes).toEqual(isTended ? [] : ['O clock-untended'])
    }),
  )
})

test('O the nearest tended time is offered and may be taken; a reason is kept with the clock', () => {
  const refused = act(lab, 'pia', clock('03:00')).findings[0]
  const nearest = refused?.ids.nearest ?? ''
  expect(act(lab, 'pia', clock(nearest)).codes).toEqual([])
  const kept = act(lab, 'pia', clock('03:00', { despite: 'rinsing in running water' })).records
  expect(kept.step.get('skull-1')?.endsAt).toEqual({ date: TODAY, time: '03:00', despite: 'rinsing in running water' })
  expect(act(lab, 'pia', clock('03:00', { despite: '  ' })).codes).toEqual(['O clock-untended'])
})
