// One case for each act on what takes time and no hands.
import { weekdayOf } from '#lib/base'
import { put } from '#lib/words'
import { anEntry, aPerson, aTurn, NOW, TODAY, TOMORROW } from '../../kit/makers.ts'
import { aClock } from '../../kit/makers-materials.ts'
import { type Case, seated } from './case-parts.ts'

const stamp = { by: aTurn().by, at: NOW }
const coming = put('person', aPerson({ pattern: [{ weekday: weekdayOf(TODAY), shiftId: 'morning' }] }))
const running = put('clock', { ...aClock(), ...stamp })
const chained = put('clock', { ...aClock({ next: [{ what: 'coating', minutes: 30 }] }), ...stamp })
const at = (time: string, date = TODAY) => ({ date, time })
const end = {
  clockId: 'clock1',
  pieceId: 'skull',
  entryId: 'e9',
  text: 'out',
  ended: at('10:00'),
  ends: null,
  despite: '',
}

export const clockCases = {
  startClock: {
    who: 'ana',
    lab: [coming, seated],
    good: { clock: aClock() },
    bad: [
      ['O not-yours', { clock: aClock({ pieceId: 'rib' }) }],
      ['O id-taken', { clock: aClock() }, [running]],
      ['O unknown-step', { clock: aClock({ stepId: 'rib-1' }) }],
      ['O unknown-technique', { clock: aClock({ techniqueId: 'none' }) }],
      ['O not-yet', { clock: aClock({ begun: at('09:00', TOMORROW) }) }],
      ['O past', { clock: aClock({ begun: at('09:00', '2026-03-10'), ends: at('09:00', '2026-03-10') }) }],
      ['O clock-backwards', { clock: aClock({ ends: at('08:00') }) }],
      ['O clock-untended', { clock: aClock({ ends: at('23:00') }) }],
    ],
  },
  moveClock: {
    who: 'ana',
    lab: [coming, seated, running],
    good: { clockId: 'clock1', ends: at('11:30'), despite: '' },
    bad: [
      ['O unknown-clock', { clockId: 'none', ends: at('11:30'), despite: '' }],
      ['O clock-backwards', { clockId: 'clock1', ends: at('08:30'), despite: '' }],
      ['O clock-untended', { clockId: 'clock1', ends: at('23:00'), despite: ' ' }],
    ],
  },
  endClock: {
    who: 'ana',
    lab: [coming, seated, running],
    good: end,
    bad: [
      ['O unknown-clock', { ...end, clockId: 'none' }],
      ['O unknown-clock', { ...end, pieceId: 'rib' }],
      ['R6 only-added', { ...end, entryId: 'entry1' }, [put('entry', anEntry())]],
      ['O clock-backwards', { ...end, ended: at('08:00') }],
      ['O not-yet', { ...end, ended: at('08:00', TOMORROW) }],
      ['O clock-next', { ...end, ends: at('11:00') }],
      ['O clock-next', end, [chained]],
      ['O clock-untended', { ...end, ends: at('23:00') }, [chained]],
    ],
  },
  dropClock: {
    who: 'ana',
    lab: [seated, running],
    good: { clockId: 'clock1' },
    bad: [['O unknown-clock', { clockId: 'none' }]],
  },
} satisfies Readonly<Record<string, Case>>
