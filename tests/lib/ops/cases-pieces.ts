// One case for each act on pieces, their care and their steps: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aJacket, anEntry, anEscalation, aPlace, aSpecimen, aStep, aTurn, NOW } from '../../kit/makers.ts'
import { type Case, doneStep, lying, seated, tied, working } from './case-parts.ts'

export const pieceCases = {
  addJacket: {
    who: 'pia',
    good: { jacket: aJacket({ id: 'j9' }), steps: [aStep({ id: 'j9-1', pieceId: 'j9' })] },
    bad: [
      ['O number-taken', { jacket: aJacket({ id: 'j9', fieldNumber: 'f-jacket1' }), steps: [] }],
      ['O id-taken', { jacket: aJacket({ id: 'skull' }), steps: [] }],
      [
        'O step-not-new',
        { jacket: aJacket({ id: 'j9' }), steps: [aStep({ id: 'j9-1', pieceId: 'j9', doneMinutes: 5 })] },
      ],
      ['O step-of-other', { jacket: aJacket({ id: 'j9' }), steps: [aStep({ id: 'j9-1', pieceId: 'skull' })] }],
      [
        'O place-load',
        { jacket: aJacket({ id: 'j9', placeId: 'b1', mass: { lowKg: 1, highKg: 900, weighedKg: null } }), steps: [] },
      ],
    ],
  },
  editJacket: {
    who: 'pia',
    good: { pieceId: 'jacket1', patch: { note: 'wet' } },
    bad: [
      ['O unknown-piece', { pieceId: 'skull', patch: {} }],
      ['O mass-order', { pieceId: 'jacket1', patch: { mass: { lowKg: 9, highKg: 1, weighedKg: null } } }],
    ],
  },
  addSpecimen: {
    who: 'pia',
    good: { specimen: aSpecimen({ id: 's9', jacketId: 'jacket1' }), steps: [] },
    bad: [
      ['O number-taken', { specimen: aSpecimen({ id: 's9', number: 'N-SKULL' }), steps: [] }],
      ['O unknown-jacket', { specimen: aSpecimen({ id: 's9', jacketId: 'none' }), steps: [] }],
      ['O not-on-ladder', { specimen: aSpecimen({ id: 's9', forceCeiling: 'joining' }), steps: [] }],
    ],
  },
  editSpecimen: {
    who: 'pia',
    good: { pieceId: 'skull', patch: { stopLine: 'at the brow' } },
    bad: [
      ['O unknown-piece', { pieceId: 'jacket1', patch: {} }],
      ['R2 needs-level-3', { pieceId: 'skull', patch: { isPriority: true } }, [seated]],
      ['O tied-nowhere', { pieceId: 'skull', patch: { isTied: true } }],
    ],
  },
  setCeiling: {
    who: 'pia',
    good: { pieceId: 'skull', techniqueId: 'brush', reason: 'soft', entryId: 'e9' },
    bad: [
      ['R3 above-ceiling', { pieceId: 'skull', techniqueId: 'brush', reason: 'soft', entryId: 'e9' }, [seated]],
      [
        'R6 only-added',
        { pieceId: 'skull', techniqueId: 'brush', reason: 'soft', entryId: 'entry1' },
        [put('entry', anEntry())],
      ],
      ['O not-on-ladder', { pieceId: 'skull', techniqueId: 'joining', reason: 'soft', entryId: 'e9' }],
    ],
  },
  escalate: {
    who: 'pia',
    good: {
      escalationId: 'x1',
      pieceId: 'skull',
      techniqueId: 'scribe',
      testPatch: 'left',
      reason: 'hard',
      entryId: 'e9',
    },
    bad: [
      [
        'O not-above',
        {
          escalationId: 'x1',
          pieceId: 'skull',
          techniqueId: 'needle',
          testPatch: 'left',
          reason: 'hard',
          entryId: 'e9',
        },
      ],
      [
        'O unknown-piece',
        {
          escalationId: 'x1',
          pieceId: 'jacket1',
          techniqueId: 'scribe',
          testPatch: 'left',
          reason: 'hard',
          entryId: 'e9',
        },
      ],
    ],
  },
  endEscalation: {
    who: 'pia',
    lab: [put('escalation', anEscalation())],
    good: { escalationId: 'esc1' },
    bad: [
      ['O ended', { escalationId: 'esc1' }, [put('escalation', anEscalation({ endedAt: NOW }))]],
      [
        'R3 above-ceiling',
        { escalationId: 'esc1' },
        [
          put('step', aStep({ id: 'skull-3', techniqueId: 'scribe' })),
          put('assignment', aTurn({ personId: 'ben', stepId: 'skull-3' })),
        ],
      ],
    ],
  },
  openJacket: {
    who: 'pia',
    good: { pieceId: 'jacket1' },
    bad: [['O jacket-opened', { pieceId: 'jacket1' }, [put('jacket', aJacket({ state: 'opened' }))]]],
  },
  emptyJacket: {
    who: 'pia',
    lab: [put('jacket', aJacket({ state: 'opened' }))],
    good: { pieceId: 'jacket1' },
    bad: [['O piece-in-use', { pieceId: 'jacket1' }, [put('assignment', aTurn({ pieceId: 'jacket1' }))]]],
  },
  moveStage: {
    who: 'pia',
    good: { pieceId: 'skull', stage: 'joining', note: 'clean', entryId: 'e9' },
    bad: [
      ['O as-it-is', { pieceId: 'skull', stage: 'exposing', note: '', entryId: 'e9' }],
      ['O piece-in-use', { pieceId: 'skull', stage: 'released', note: '', entryId: 'e9' }, [seated]],
    ],
  },
  shelve: {
    who: 'pia',
    lab: [seated],
    good: { pieceId: 'skull', shelf: 'rack 2', placeId: 'b1' },
    bad: [
      ['O piece-tied', { pieceId: 'skull', shelf: 'rack 2', placeId: null }, [tied]],
      ['O still-worked', { pieceId: 'skull', shelf: 'rack 2', placeId: null }, [lying, working]],
      ['O place-load', { pieceId: 'skull', shelf: '', placeId: 'b1' }, [put('place', aPlace({ loadKgMax: 10 }))]],
      [
        'R1 exclusive-taken',
        { pieceId: 'skull', shelf: '', placeId: 'm1' },
        [put('specimen', aSpecimen({ id: 'rib', placeId: 'm1' }))],
      ],
    ],
  },
  addStep: {
    who: 'pia',
    good: { step: aStep({ id: 'skull-9', after: ['skull-1'] }) },
    bad: [
      ['O id-taken', { step: aStep() }],
      ['O unknown-step', { step: aStep({ id: 'skull-9', after: ['rib-1'] }) }],
      ['O steps-circle', { step: aStep({ id: 'skull-9', after: ['skull-9'] }) }],
      ['O hours-order', { step: aStep({ id: 'skull-9', hours: { lowH: 9, likelyH: 1, highH: 2 } }) }],
    ],
  },
  editStep: {
    who: 'pia',
    good: { stepId: 'skull-1', patch: { title: 'Go on' } },
    bad: [
      ['O steps-circle', { stepId: 'skull-1', patch: { after: ['skull-2'] } }],
      [
        'O step-begun',
        { stepId: 'skull-1', patch: { techniqueId: 'brush' } },
        [put('step', aStep({ state: 'begun' }))],
      ],
      ['O people-order', { stepId: 'skull-1', patch: { peopleMin: 3 } }],
    ],
  },
  dropStep: {
    who: 'pia',
    good: { stepId: 'skull-1' },
    bad: [
      ['O step-assigned', { stepId: 'skull-1' }, [seated]],
      ['O step-done', { stepId: 'skull-1' }, [doneStep]],
    ],
  },
  finishStep: {
    who: 'pia',
    good: { stepId: 'skull-1' },
    bad: [
      ['O still-worked', { stepId: 'skull-1' }, [working]],
      ['O step-done', { stepId: 'skull-1' }, [doneStep]],
    ],
  },
  reopenStep: {
    who: 'pia',
    lab: [doneStep],
    good: { stepId: 'skull-1' },
    bad: [['O step-open', { stepId: 'rib-1' }]],
  },
} satisfies Record<string, Case>
