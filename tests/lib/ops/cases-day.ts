// One case for each act on the day, the bench and the record: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aForbid, aHold, aLog, anEntry, aPerson, aPlace, aTurn, skilled, TODAY, TOMORROW } from '../../kit/makers.ts'
import {
  assignmentId,
  type Case,
  claimed,
  finished,
  oneTurn,
  paused,
  posted,
  reseated,
  seated,
  tied,
  turn,
  working,
} from './case-parts.ts'

export const dayCases = {
  hold: {
    who: 'pia',
    good: { ...turn, personId: 'ana' },
    bad: [
      ['O past', { ...turn, date: '2026-03-10', personId: 'ana' }],
      ['R2 no-skill', { ...turn, personId: 'ana', pieceId: 'rib', stepId: 'rib-1' }],
      ['R7 begun-since', { ...turn, personId: 'ana', placeId: 'b2' }, [seated, working]],
    ],
  },
  unhold: {
    who: 'pia',
    lab: [put('hold', aHold())],
    good: { holdId: assignmentId },
    bad: [['O unknown-hold', { holdId: 'x' }]],
  },
  forbid: {
    who: 'pia',
    good: { forbid: aForbid({ pieceId: 'skull' }) },
    bad: [
      ['O forbids-nothing', { forbid: aForbid() }],
      ['O unknown-person', { forbid: aForbid({ withPersonId: 'ana' }) }],
    ],
  },
  allow: {
    who: 'pia',
    lab: [put('forbid', aForbid({ pieceId: 'skull' }))],
    good: { forbidId: 'forbid1' },
    bad: [['O unknown-forbid', { forbidId: 'x' }]],
  },
  post: {
    who: 'mira',
    good: { date: TODAY, assignments: [{ ...oneTurn, personId: 'ana' }], note: '' },
    bad: [
      ['R7 claimed-since', { date: TODAY, assignments: [], note: '' }, [claimed]],
      ['R7 begun-since', { date: TODAY, assignments: [], note: '' }, [seated, working]],
      ['O past', { date: '2026-03-10', assignments: [], note: '' }],
    ],
  },
  seat: {
    who: 'pia',
    lab: [posted],
    good: { ...turn, personId: 'ana' },
    bad: [
      ['O not-posted', { ...turn, date: TOMORROW, personId: 'ana' }],
      ['R7 has-it', { ...turn, personId: 'ana' }, [put('assignment', aTurn({ personId: 'ben' }))]],
      ['R7 begun-since', { ...turn, personId: 'ana', placeId: 'b2' }, [seated, working]],
      ['O forbidden', { ...turn, personId: 'ana' }, [put('forbid', aForbid({ placeId: 'b1' }))]],
    ],
  },
  unseat: {
    who: 'pia',
    lab: [posted, seated],
    good: { assignmentId },
    bad: [
      ['R7 begun-since', { assignmentId }, [working]],
      ['O unknown-assignment', { assignmentId: 'x' }],
      [
        'R2 mentor-missing',
        { assignmentId: aTurn({ personId: 'pia' }).id },
        [
          put('assignment', aTurn({ personId: 'leo', pieceId: 'skull' })),
          put('assignment', aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b2' })),
          put('assignment', aTurn({ pieceId: 'jacket1', placeId: 'm1', shiftId: 'afternoon' })),
        ],
      ],
    ],
  },
  claim: {
    who: 'ana',
    isOwn: true,
    good: turn,
    bad: [
      ['R7 has-it', turn, [put('assignment', aTurn({ personId: 'ben' }))]],
      ['R1 two-places', turn, [put('assignment', aTurn({ pieceId: 'jacket1' }))]],
      ['R2 no-skill', { ...turn, pieceId: 'rib', stepId: 'rib-1' }],
      ['O ask-manager', turn, [put('hold', aHold({ personId: 'ben' }))]],
      ['O ask-manager', turn, [put('forbid', aForbid({ placeId: 'b1' }))]],
      ['O past', { ...turn, date: '2026-03-10' }],
    ],
  },
  unclaim: {
    who: 'ana',
    isOwn: true,
    lab: [claimed],
    good: { assignmentId },
    bad: [
      ['O not-claimed', { assignmentId }, [seated]],
      ['R7 begun-since', { assignmentId }, [working]],
      [
        'O not-yours',
        { assignmentId: aTurn({ personId: 'ben' }).id },
        [put('assignment', aTurn({ personId: 'ben', how: 'claimed' }))],
      ],
    ],
  },
  seenReseat: {
    who: 'ana',
    isOwn: true,
    lab: [reseated()],
    good: { assignmentId },
    bad: [
      ['O unknown-reseat', { assignmentId: 'x' }],
      ['O not-yours', { assignmentId: aTurn({ personId: 'ben' }).id }, [reseated('ben')]],
    ],
  },
  start: {
    who: 'ana',
    isOwn: true,
    lab: [seated],
    good: { workId: 'w9', assignmentId },
    bad: [
      ['O id-taken', { workId: 'work1', assignmentId }, [finished]],
      ['O work-running', { workId: 'w9', assignmentId }, [working]],
      [
        'O not-yours',
        { workId: 'w9', assignmentId: aTurn({ personId: 'ben' }).id },
        [put('assignment', aTurn({ personId: 'ben', pieceId: 'rib' }))],
      ],
      [
        'O not-today',
        { workId: 'w9', assignmentId: aTurn({ date: TOMORROW }).id },
        [put('assignment', aTurn({ date: TOMORROW }))],
      ],
      ['O place-closed', { workId: 'w9', assignmentId }, [put('place', aPlace({ closedUntil: TOMORROW }))]],
      [
        'O step-waits',
        { workId: 'w9', assignmentId: aTurn({ shiftId: 'afternoon' }).id },
        [
          put('person', aPerson({ skills: skilled({ needle: 2, joining: 2 }) })),
          put('assignment', aTurn({ stepId: 'skull-2', shiftId: 'afternoon' })),
        ],
      ],
    ],
  },
  pause: {
    who: 'ana',
    isOwn: true,
    lab: [seated, working],
    good: { workId: 'work1' },
    bad: [
      ['O work-paused', { workId: 'work1' }, [paused]],
      ['O unknown-work', { workId: 'x' }],
    ],
  },
  resume: {
    who: 'ana',
    isOwn: true,
    lab: [seated, paused],
    good: { workId: 'work1' },
    bad: [['O work-running', { workId: 'work1' }, [working]]],
  },
  finish: {
    who: 'ana',
    isOwn: true,
    lab: [seated, working],
    good: { workId: 'work1', logId: 'l9', minutes: null, runningMinutes: 0, note: '', stepDone: false, shelf: null },
    bad: [
      [
        'O work-finished',
        { workId: 'work1', logId: 'l9', minutes: 5, runningMinutes: 0, note: '', stepDone: false, shelf: null },
        [finished],
      ],
      [
        'R6 only-added',
        { workId: 'work1', logId: 'log1', minutes: 5, runningMinutes: 0, note: '', stepDone: false, shelf: null },
        [put('log', aLog())],
      ],
      [
        'O more-than-bench',
        { workId: 'work1', logId: 'l9', minutes: 5, runningMinutes: 6, note: '', stepDone: false, shelf: null },
      ],
      [
        'O piece-tied',
        { workId: 'work1', logId: 'l9', minutes: 5, runningMinutes: 0, note: '', stepDone: false, shelf: 'rack' },
        [tied],
      ],
    ],
  },
  correctLog: {
    who: 'ana',
    isOwn: true,
    lab: [put('log', aLog())],
    good: { logId: 'l9', corrects: 'log1', pieceId: 'skull', minutes: 30, runningMinutes: 0, note: 'lunch' },
    bad: [
      [
        'R6 corrected',
        { logId: 'l9', corrects: 'log1', pieceId: 'skull', minutes: 30, runningMinutes: 0, note: '' },
        [put('log', aLog({ id: 'log2', corrects: 'log1' }))],
      ],
      [
        'R6 only-added',
        { logId: 'log1', corrects: 'log1', pieceId: 'skull', minutes: 30, runningMinutes: 0, note: '' },
      ],
      ['O unknown-log', { logId: 'l9', corrects: 'log1', pieceId: 'rib', minutes: 30, runningMinutes: 0, note: '' }],
      [
        'O not-yours',
        { logId: 'l9', corrects: 'log1', pieceId: 'skull', minutes: 30, runningMinutes: 0, note: '' },
        [put('log', aLog({ personId: 'ben' }))],
      ],
    ],
  },
  write: {
    who: 'ana',
    isOwn: true,
    lab: [seated],
    good: { entryId: 'e9', pieceId: 'skull', entryKind: 'note', techniqueId: null, text: 'a crack' },
    bad: [
      ['O not-yours', { entryId: 'e9', pieceId: 'rib', entryKind: 'note', techniqueId: null, text: 'a crack' }],
      [
        'R6 only-added',
        { entryId: 'entry1', pieceId: 'skull', entryKind: 'note', techniqueId: null, text: 'x' },
        [put('entry', anEntry())],
      ],
    ],
  },
  correctEntry: {
    who: 'ana',
    isOwn: true,
    lab: [seated, put('entry', anEntry())],
    good: { entryId: 'e9', corrects: 'entry1', pieceId: 'skull', text: 'no crack' },
    bad: [
      [
        'R6 corrected',
        { entryId: 'e9', corrects: 'entry1', pieceId: 'skull', text: 'x' },
        [put('entry', anEntry({ id: 'entry2', corrects: 'entry1' }))],
      ],
      [
        'O not-yours',
        { entryId: 'e9', corrects: 'entry1', pieceId: 'skull', text: 'x' },
        [put('entry', anEntry({ by: 'ben' }))],
      ],
      ['O unknown-entry', { entryId: 'e9', corrects: 'none', pieceId: 'skull', text: 'x' }],
    ],
  },
} satisfies Record<string, Case>
