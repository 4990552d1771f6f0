// What ends by itself finds somebody there, or it is said why it need not; a chain goes on, and the record keeps it.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { weekdayOf } from '#lib/base'
import { laterBy, minutesBetween, presenceOf, tendedAround } from '#lib/rules'
import { put, withChanges } from '#lib/words'
import { aFragment, aPerson, aSmallLab, aStep, aTurn, NOW, TODAY } from '../../kit/makers.ts'
import { aClock } from '../../kit/makers-materials.ts'
import { act, system } from '../../kit/makers-ops.ts'

const lab = aSmallLab(
  put('person', aPerson({ id: 'ben', pattern: [{ weekday: weekdayOf(TODAY), shiftId: 'morning' }] })),
)
const start = (time: string, despite = '') => ({
  kind: 'startClock' as const,
  clock: aClock({ begun: { date: TODAY, time: '00:00' }, ends: { date: TODAY, time }, despite }),
})
const timeAt = (minute: number) =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`

test('O a clock kept without a reason ends in a shift with somebody in it who may see to it', () => {
  fc.assert(
    fc.property(fc.nat({ max: 1439 }), (minute) => {
      const time = timeAt(minute)
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
      expect(act(lab, 'pia', start(time)).codes).toEqual(isTended ? [] : ['O clock-untended'])
    }),
  )
})

test('O the times offered are the nearest at which somebody is there, and may be taken', () => {
  fc.assert(
    fc.property(fc.nat({ max: 1439 }), (minute) => {
      const [finding] = act(lab, 'pia', start(timeAt(minute))).findings
      if (!finding) return
      const { before, beforeDate, after, afterDate } = finding.ids
      expect(before ?? after).toBeDefined()
      for (const [date, time] of [
        [beforeDate, before],
        [afterDate, after],
      ])
        if (date !== undefined && time !== undefined && date >= TODAY) {
          const clock = aClock({ begun: { date: TODAY, time: '00:00' }, ends: { date, time } })
          expect(act(lab, 'pia', { kind: 'startClock', clock }).codes).toEqual([])
        }
    }),
  )
  // A week on, since nobody who may comes on another weekday.
  const late = tendedAround(lab, 'needle', { date: TODAY, time: '23:00' })
  expect(late.after && minutesBetween({ date: TODAY, time: '00:00' }, late.after)).toBeGreaterThan(6 * 1440)
  const alone = act(lab, 'pia', start('03:00', 'rinsing in running water')).records
  expect(alone.clock.get('clock1')).toMatchObject({ despite: 'rinsing in running water' })
  expect(act(lab, 'pia', start('03:00', '  ')).codes).toEqual(['O clock-untended'])
})

test('O acid out, rinsed, coated: each ends into the record and the next begins; the last leaves the board', () => {
  const at = (time: string) => ({ date: TODAY, time })
  const next = [
    { what: 'rinsing' as const, minutes: 60 },
    { what: 'coating' as const, minutes: 30 },
  ]
  const bath = aClock({ what: 'acid bath', next })
  let now = act(lab, 'pia', { kind: 'startClock', clock: bath }).records
  const end = (entryId: string, ended: string, ends: string | null) =>
    act(now, 'pia', {
      kind: 'endClock',
      ...{ clockId: 'clock1', pieceId: 'skull', entryId, text: `ended ${ended}`, ended: at(ended), despite: '' },
      ends: ends === null ? null : at(ends),
    })
  now = end('e1', '10:00', '11:00').records
  expect(now.clock.get('clock1')).toMatchObject({ what: 'rinsing', begun: at('10:00'), ends: at('11:00') })
  // While something runs on it, it does not go to rest.
  expect(act(now, 'mira', { kind: 'rest', pieceId: 'skull' }).codes).toEqual(['O clock-runs'])
  now = end('e2', '11:00', '11:30').records
  now = end('e3', '11:30', null).records
  expect(now.clock.size).toBe(0)
  const entries = ['e1', 'e2', 'e3'].map((id) => now.entry.get(id))
  expect(entries.map((one) => [one?.kind, one?.text])).toEqual([
    ['treatment', 'ended 10:00'],
    ['treatment', 'ended 11:00'],
    ['treatment', 'ended 11:30'],
  ])
})

test('O what is glued cures on the board until it is taken apart', () => {
  const { pieceId, personId: by } = aTurn()
  const tray = withChanges(lab, [
    put('fragment', aFragment({ number: 1 })),
    put('fragment', aFragment({ number: 2 })),
    put('pairTry', { id: 't1', pieceId, pair: [1, 2], result: 'fit', by, at: NOW }),
  ])
  const glue = (time: string, despite?: string) => ({
    kind: 'joinPair' as const,
    ...{ joinId: 'j1', pieceId: 'skull', pair: [1, 2], state: 'glued', adhesive: 'resin', batchId: null },
    ...{ curedAt: { date: TODAY, time }, ...(despite && { despite }) },
  })
  expect(act(tray, 'pia', glue('23:00')).codes).toEqual(['O clock-untended'])
  expect(act(tray, 'pia', glue('23:00', 'lies in sand')).codes).toEqual([])
  const glued = act(tray, 'pia', glue('11:00')).records
  expect([...glued.clock.values()]).toMatchObject([{ what: 'curing', about: '1 + 2', ends: { time: '11:00' } }])
  const undone = { ...glue('11:00'), joinId: 'j2', state: 'undone', curedAt: null }
  expect(act(glued, 'pia', undone).records.clock.size).toBe(0)
})

test('O an end noted on a step before there were clocks becomes one', () => {
  const old = withChanges(lab, [put('step', aStep({ endsAt: { date: TODAY, time: '11:00' } }))])
  const now = act(old, system, { kind: 'beginDay', date: TODAY }).records
  expect(now.step.get('skull-1')?.endsAt).toBeUndefined()
  expect(now.clock.get('skull-1')).toMatchObject({ pieceId: 'skull', stepId: 'skull-1', ends: { time: '11:00' } })
})

test('O later and between undo each other, over midnight too', () => {
  fc.assert(
    fc.property(fc.nat({ max: 1439 }), fc.integer({ min: 0, max: 20_000 }), (minute, more) => {
      const from = { date: TODAY, time: timeAt(minute) }
      expect(minutesBetween(from, laterBy(from, more))).toBe(more)
    }),
  )
})
