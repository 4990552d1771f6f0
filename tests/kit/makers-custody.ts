// Assessments, housings and hand-overs for tests, with only what matters said.
import type * as z from 'zod/mini'
import { Assessment, Custody, Housing, Lift, Rack, Relation } from '#lib/words'
import { NOW, TODAY } from './makers.ts'

type In<T extends z.ZodMiniType> = Partial<z.input<T>>

/** The first judgement of the skull. */
export function anAssessment(over: In<typeof Assessment> = {}) {
  return Assessment.parse({
    ...{ id: 'a1', pieceId: 'skull', by: 'pia', at: NOW, on: TODAY, former: null, why: 'first look' },
    ...{ rockHardness: 3, contrast: 3, soundness: 3, breakage: 2, exposedCm2: 10, toExposeCm2: 100 },
    ...{ taxon: '', element: '', purpose: 'research', side: '', stopLine: '', forceCeiling: 'needle' },
    ...{ note: '', meant: [], ...over },
  })
}

/** A cradle that bears twice what lies in it. */
export function aHousing(over: In<typeof Housing> = {}) {
  return Housing.parse({
    ...{ id: 'h1', pieceId: 'skull', by: 'pia', at: NOW, form: 'cradle', materials: ['plaster', 'felt'] },
    ...{ liftPoints: 'two, at the ends', side: 'left', massKg: 60, isWeighed: false, bearsKg: 120 },
    ...{ shelf: '', note: '', ...over },
  })
}

export const aRack = (over: In<typeof Rack> = {}) => Rack.parse({ id: 'r1', name: 'rack 1', ratedKg: 100, ...over })

export const aRelation = (over: In<typeof Relation> = {}) =>
  Relation.parse({
    ...{ id: 'rel1', what: 'one animal', pieceIds: ['skull', 'jacket1'], note: '', by: 'pia', at: NOW, ends: null },
    ...over,
  })

/** Example 4 of the manual (94-110 rev. 9/2021) at its origin, in centimetres and kilograms. */
export function aLift(over: In<typeof Lift> = {}) {
  return Lift.parse({
    ...{ id: 'lift1', pieceId: 'skull', formula: 1, loadKg: 11.8, hCm: 25.4, vCm: 55.9, dCm: 94, angleDeg: 0 },
    ...{ perMinute: 3, durationH: 1, coupling: 'fair', persons: 1, manner: [], note: '', by: 'pia', at: NOW, ...over },
  })
}

/** Into the collection, with all that is asked for. */
export function aCustody(over: In<typeof Custody> = {}) {
  return Custody.parse({
    ...{ id: 'c1', pieceId: 'skull', by: 'pia', at: NOW, on: TODAY, to: 'collection', holder: 'type store' },
    ...{ receivedBy: 'the registrar', until: null, condition: 'stable', isPurposeMet: true, isLabelled: true },
    ...{ photographs: 'twelve, on its Sheet', missing: [], reason: '', ...over },
  })
}

/** A record as its author says it: without what the gate stamps. */
export function said<T extends object>(record: T, over: object = {}) {
  const stamped = ['by', 'at', 'on', 'former', 'ends', 'formula']
  return { ...Object.fromEntries(Object.entries(record).filter(([key]) => !stamped.includes(key))), ...over }
}
