// One case for each act on what is known of a piece beside the work on it.
import { put } from '#lib/words'
import { aJacket, anEntry, aSpecimen, aStep } from '../../kit/makers.ts'
import { aCustody, aHousing, aLift, anAssessment, aRack, aRelation, said } from '../../kit/makers-custody.ts'
import { aMaterial } from '../../kit/makers-materials.ts'
import { type Case, seated, working } from './case-parts.ts'

const housed = (over: object = {}) => said(aHousing(), over)
const judged = (over: object = {}) => said(anAssessment(), over)
const related = (over: object = {}) => said(aRelation(), over)
const { id: _id, pieceId: _pieceId, missing: _missing, reason: _reason, ...wholeCustody } = aCustody()
const told = said(wholeCustody)
const ready = [
  put('specimen', aSpecimen({ catalogueNumber: 'C 1' })),
  put('step', aStep({ state: 'done' })),
  put('step', aStep({ id: 'skull-2', rank: 2, techniqueId: 'joining', after: ['skull-1'], state: 'dropped' })),
  put('entry', anEntry()),
  put('assessment', anAssessment()),
  put('housing', aHousing()),
] as const
const over = { custodyId: 'c1', pieceId: 'skull', said: told, reason: '' }

export const custodyCases = {
  assess: {
    who: 'pia',
    good: { assessment: judged({ soundness: 1, forceCeiling: 'brush' }) },
    bad: [
      ['O unknown-piece', { assessment: judged({ pieceId: 'none' }) }],
      ['R6 only-added', { assessment: judged() }, [put('assessment', anAssessment())]],
      ['O not-on-ladder', { assessment: judged({ forceCeiling: 'joining' }) }],
      ['O assess-at-work', { assessment: judged({ forceCeiling: 'brush' }) }, [seated, working]],
    ],
  },
  relate: {
    who: 'pia',
    good: { relation: related() },
    bad: [
      ['O unknown-piece', { relation: related({ pieceIds: ['skull', 'none'] }) }],
      ['O related-to-itself', { relation: related({ pieceIds: ['skull', 'skull'] }) }],
      ['O counterpart-of-two', { relation: related({ what: 'counterpart', pieceIds: ['skull', 'rib', 'jacket1'] }) }],
      ['O related-already', { relation: related({ id: 'rel2' }) }, [put('relation', aRelation())]],
    ],
  },
  endRelation: {
    who: 'pia',
    lab: [put('relation', aRelation())],
    good: { relationId: 'rel2', ends: 'rel1', note: 'two animals after all' },
    bad: [
      ['O unknown-relation', { relationId: 'rel2', ends: 'none', note: '' }],
      [
        'O relation-ended',
        { relationId: 'rel3', ends: 'rel1', note: '' },
        [put('relation', aRelation({ id: 'rel2', ends: 'rel1' }))],
      ],
    ],
  },
  house: {
    who: 'pia',
    good: { housing: housed(), despite: '' },
    bad: [
      ['O hand-field-jacket', { housing: housed({ pieceId: 'jacket1' }), despite: '' }],
      ['O housed-lighter', { housing: housed({ massKg: 1 }), despite: '' }, [put('specimen', weighed(5))]],
      ['O hand-housing-weak', { housing: housed({ bearsKg: 59 }), despite: '' }],
      [
        'O not-for-housing',
        { housing: housed({ materials: ['plaster', ' FELT '] }), despite: '' },
        [put('material', aMaterial({ name: 'Felt', allowedFor: ['temporary'] }))],
      ],
      [
        'O rack-over',
        { housing: housed({ massKg: 101, shelf: 'Rack 1, shelf b' }), despite: '' },
        [put('rack', aRack())],
      ],
    ],
  },
  measureLift: {
    who: 'pia',
    good: { lift: said(aLift({ id: 'lift9' })) },
    bad: [
      ['O unknown-piece', { lift: said(aLift({ id: 'lift9', pieceId: 'nothing' })) }],
      ['R6 only-added', { lift: said(aLift()) }, [put('lift', aLift())]],
    ],
  },
  setRack: {
    who: 'pia',
    good: { rackId: 'r1', name: 'rack 1', ratedKg: 400 },
    bad: [
      ['O rack-name-taken', { rackId: 'r2', name: 'Rack 1', ratedKg: 400 }, [put('rack', aRack())]],
      ['O unknown-rack', { rackId: 'r2', name: 'x', ratedKg: null }],
    ],
  },
  handOver: {
    who: 'mira',
    lab: ready,
    good: over,
    bad: [
      ['O hand-field-jacket', { ...over, pieceId: 'jacket1' }, [put('jacket', aJacket())]],
      ['O unknown-piece', { ...over, pieceId: 'none' }],
      ['O hand-step-open', over, [put('step', aStep())]],
      ['O piece-in-use', { ...over, reason: 'it is fetched' }, [seated]],
      ['O hand-labels', { ...over, said: { ...told, isLabelled: false } }],
      ['O hand-until', { ...over, said: { ...told, to: 'loan' } }],
    ],
  },
} satisfies Readonly<Record<string, Case>>

function weighed(weighedKg: number) {
  return aSpecimen({ mass: { lowKg: 1, highKg: 9, weighedKg } })
}
