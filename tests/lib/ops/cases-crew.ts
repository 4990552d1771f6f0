// One case for each act among the crew.
import { put } from '#lib/words'
import { aHold, aLab, aPerson, aTurn, NOW, TODAY, TOMORROW } from '../../kit/makers.ts'
import { assignmentId, type Case, posted, seated, working } from './case-parts.ts'

const { id, date, shiftId, personId } = aTurn()
const offered = put('swap', { id, personId, date, shiftId, at: NOW, note: '', taken: null })
const taken = put('swap', {
  ...{ id, personId, date, shiftId, at: NOW, note: '' },
  taken: { by: aTurn({ personId: 'leo' }).personId, gave: null, at: NOW },
})
const benAfternoon = put('assignment', aTurn({ personId: 'ben', pieceId: 'rib', shiftId: 'afternoon' }))
const benMorning = put('assignment', aTurn({ personId: 'ben', pieceId: 'rib' }))
const benScribe = put('assignment', aTurn({ personId: 'ben', pieceId: 'rib', shiftId: 'afternoon' }))

const exits = { id: 'exits', name: 'fire exits', isRequired: true, from: TODAY }
const inducting = put('lab', aLab({ induction: [exits] }))
const inducted = put('person', aPerson({ inducted: [{ itemId: 'exits', by: 'pia', on: TODAY }] }))
const here = { personId, date, shiftId }
const missed = put('noShow', { id, ...here, by: aTurn({ personId: 'mira' }).personId, at: NOW })

export const crewCases = {
  setSpells: {
    who: 'ana',
    isOwn: true,
    good: { personId: 'ana', spells: [{ from: TODAY, to: TOMORROW, pattern: [] }] },
    bad: [
      ['O span-backwards', { personId: 'ana', spells: [{ from: TOMORROW, to: TODAY, pattern: [] }] }],
      [
        'O unknown-shift',
        { personId: 'ana', spells: [{ from: TODAY, to: TODAY, pattern: [{ weekday: 1, shiftId: 'x' }] }] },
      ],
      ['O not-yours', { personId: 'ben', spells: [] }],
    ],
  },
  takeCalendar: {
    who: 'ana',
    good: { from: TODAY, to: TOMORROW, busy: [{ date: TODAY, shiftId: 'morning' }] },
    bad: [
      ['O past', { from: '2026-03-01', to: TOMORROW, busy: [] }],
      ['O too-far', { from: TODAY, to: '2029-01-01', busy: [] }],
      ['O span-backwards', { from: TODAY, to: TODAY, busy: [{ date: TOMORROW, shiftId: 'morning' }] }],
      ['O unknown-shift', { from: TODAY, to: TODAY, busy: [{ date: TODAY, shiftId: 'x' }] }],
    ],
  },
  tickInduction: {
    who: 'pia',
    lab: [inducting],
    good: { itemId: 'exits', personIds: ['ana', 'ben'], isDone: true },
    bad: [
      ['O item-gone', { itemId: 'x', personIds: ['ana'], isDone: true }],
      ['O unknown-person', { itemId: 'exits', personIds: ['nobody'], isDone: true }],
      ['O as-it-is', { itemId: 'exits', personIds: ['ana'], isDone: false }],
      // The tick is not taken from under a turn that stands.
      ['O not-inducted', { itemId: 'exits', personIds: ['ana'], isDone: false }, [inducted, seated]],
    ],
  },
  markNoShow: {
    who: 'mira',
    good: { ...here, isNoShow: true },
    bad: [
      ['O not-yet', { ...here, date: TOMORROW, isNoShow: true }],
      ['O as-it-is', { ...here, isNoShow: false }],
      ['O as-it-is', { ...here, isNoShow: true }, [missed]],
      ['O unknown-person', { ...here, personId: 'nobody', isNoShow: true }],
    ],
  },
  offerSwap: {
    who: 'ana',
    isOwn: true,
    lab: [posted, seated],
    good: { assignmentId, note: 'a dentist' },
    bad: [
      ['O unknown-assignment', { assignmentId: 'x', note: '' }],
      ['R7 begun-since', { assignmentId, note: '' }, [working]],
      ['O as-it-is', { assignmentId, note: '' }, [offered]],
      [
        'O past',
        { assignmentId: `2026-03-10.morning.ana`, note: '' },
        [put('assignment', aTurn({ date: '2026-03-10' }))],
      ],
    ],
  },
  dropSwap: {
    who: 'ana',
    isOwn: true,
    lab: [posted, seated, offered],
    good: { swapId: assignmentId },
    bad: [
      ['O unknown-swap', { swapId: 'x' }],
      ['O swap-taken', { swapId: assignmentId }, [taken]],
    ],
  },
  takeSwap: {
    who: 'ben',
    isOwn: true,
    lab: [posted, seated, offered],
    good: { swapId: assignmentId, gives: null },
    bad: [
      ['O unknown-swap', { swapId: `${TOMORROW}.morning.ana`, gives: null }],
      ['O swap-taken', { swapId: assignmentId, gives: null }, [taken]],
      ['R1 two-places', { swapId: assignmentId, gives: null }, [benMorning]],
      // What is given must be something the other may do.
      ['R2 no-skill', { swapId: assignmentId, gives: `${TODAY}.afternoon.ben` }, [benScribe]],
      ['O ask-manager', { swapId: assignmentId, gives: null }, [put('hold', aHold())]],
      ['O not-yours', { swapId: assignmentId, gives: assignmentId }, [benAfternoon]],
    ],
  },
  erasePerson: {
    who: 'mira',
    good: { personId: 'leo', as: 'initials' },
    bad: [
      ['O own-erasure', { personId: 'mira', as: 'name' }],
      ['O still-worked', { personId: 'ana', as: 'name' }, [seated, working]],
      ['O not-crew', { personId: 'ana', as: 'name' }, [seated]],
    ],
  },
} satisfies Record<string, Case>
