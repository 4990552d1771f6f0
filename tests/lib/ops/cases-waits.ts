// One case for each act on dates, questions and the archive: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aDue, aJacket, aSpecimen, TOMORROW } from '../../kit/makers.ts'
import { atRest, type Case, due, finished, question, restingOld, seated, tied, watching } from './case-parts.ts'

export const waitingCases = {
  askDue: {
    who: 'rex',
    good: { dueId: 'd9', pieceId: 'skull', date: TOMORROW, dueKind: 'visit', isHard: false, note: '' },
    bad: [
      ['O past', { dueId: 'd9', pieceId: 'skull', date: '2026-03-10', dueKind: 'visit', isHard: false, note: '' }],
      ['O unknown-piece', { dueId: 'd9', pieceId: 'none', date: TOMORROW, dueKind: 'visit', isHard: false, note: '' }],
    ],
  },
  answerDue: {
    who: 'mira',
    lab: [put('due', aDue({ state: 'asked' }))],
    good: { dueId: 'due1', accept: true },
    bad: [['O due-accepted', { dueId: 'due1', accept: true }, [due]]],
  },
  moveDue: {
    who: 'mira',
    lab: [due],
    good: { dueId: 'due1', date: '2026-06-01', isHard: false },
    bad: [['O due-met', { dueId: 'due1', date: '2026-06-01', isHard: false }, [put('due', aDue({ state: 'met' }))]]],
  },
  endDue: {
    who: 'mira',
    lab: [due],
    good: { dueId: 'due1', state: 'met' },
    bad: [['O due-dropped', { dueId: 'due1', state: 'met' }, [put('due', aDue({ state: 'dropped' }))]]],
  },
  watch: { who: 'rex', good: { pieceId: 'skull' }, bad: [['O unknown-piece', { pieceId: 'none' }]] },
  unwatch: {
    who: 'ana',
    isOwn: true,
    lab: [watching],
    good: { pieceId: 'skull' },
    bad: [['O as-it-is', { pieceId: 'rib' }]],
  },
  askQuestion: {
    who: 'rex',
    good: { questionId: 'q9', pieceId: 'skull', text: 'which side?' },
    bad: [['O id-taken', { questionId: 'q1', pieceId: 'skull', text: 'again?' }, [question(false)]]],
  },
  answerQuestion: {
    who: 'pia',
    lab: [question(false)],
    good: { questionId: 'q1', text: 'left' },
    bad: [['R7 answered', { questionId: 'q1', text: 'right' }, [question(true)]]],
  },
  rest: {
    who: 'pia',
    good: { pieceId: 'skull' },
    bad: [
      ['O piece-in-use', { pieceId: 'skull' }, [seated]],
      ['O piece-in-use', { pieceId: 'skull' }, [seated, finished]],
      ['O has-due', { pieceId: 'skull' }, [due]],
      ['O piece-tied', { pieceId: 'skull' }, [tied]],
    ],
  },
  bringBack: {
    who: 'pia',
    lab: [atRest],
    good: { pieceId: 'old' },
    bad: [
      ['O unknown-piece', { pieceId: 'none' }],
      ['O number-taken', { pieceId: 'old' }, [put('specimen', aSpecimen({ id: 'young', number: 'N-old' }))]],
    ],
  },
  importRows: {
    who: 'pia',
    good: { importId: 'import-1', jackets: [aJacket({ id: 'row1', fieldNumber: 'N-1', state: 'sealed' })] },
    bad: [
      [
        'O malformed',
        { importId: 'import-1', jackets: [aJacket({ id: 'row1', fieldNumber: 'N-1', state: 'opened' })] },
      ],
    ],
  },
  undoImport: {
    who: 'pia',
    lab: [put('resting', { ...restingOld, importId: 'import-1' })],
    good: { importId: 'import-1', pieceIds: ['old'] },
    // What is not of this import stays; there is nothing to refuse.
    bad: [],
  },
} satisfies Record<string, Case>
