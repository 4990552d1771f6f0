// One case for each act among the crew.
import { put } from '#lib/words'
import { aHold, aTurn, NOW, TODAY, TOMORROW } from '../../kit/makers.ts'
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

export const crewCases = {
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
