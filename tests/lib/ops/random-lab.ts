// A small lab with little room, and histories of moves on it. A move is a handful of numbers, read against the records
// of its moment, so that fast-check can shrink a failed history to its core.
import fc from 'fast-check'
import type { OpKind } from '#lib/ops'
import { PersonId, put, type Records } from '#lib/words'
import {
  aDue,
  aLab,
  aLog,
  anAirTool,
  anEntry,
  aPerson,
  aSmallLab,
  aSpecimen,
  aStep,
  aTechnique,
  aTurn,
  NOW,
  skilled,
  TODAY,
  TOMORROW,
} from '../../kit/makers.ts'
import { aBatch, aMaterial, aSolvent } from '../../kit/makers-materials.ts'

export type Move = { readonly kind: OpKind | 'clock'; readonly who: number; readonly picks: readonly number[] }

/** A lab with little room, little air and few mentors, so that rules are met often. */
export function tightLab(): Records {
  const techniques = [
    aTechnique({ id: 'brush', force: 1, hazards: ['dust'] }),
    aTechnique(),
    anAirTool({ airLpm: 60, vibrationMs2: 5 }),
    anAirTool({ id: 'heavy', force: 8, airLpm: 90, vibrationMs2: 8, noiseDba: 92 }),
    aTechnique({ id: 'joining', force: null, group: 'joining', hazards: ['solvent'] }),
  ]
  return aSmallLab(
    put('lab', aLab({ techniques, compressor: { deliveryLpm: 150, dutyPct: 60 } })),
    put('person', aPerson({ id: 'ana', skills: skilled({ brush: 2, needle: 2, scribe: 1 }) })),
    put('person', aPerson({ id: 'ben', skills: skilled({ needle: 3, scribe: 2, heavy: 2, joining: 2 }) })),
    put('person', aPerson({ id: 'cleo', skills: skilled({ needle: 1, brush: 1 }) })),
    put('specimen', aSpecimen({ id: 'rib', forceCeiling: 'scribe' })),
    put('specimen', aSpecimen({ id: 'jaw', isPriority: true, forceCeiling: 'heavy' })),
    put('step', aStep({ peopleMax: 2, state: 'begun', doneMinutes: 90, by: [{ personId: 'ana', minutes: 90 }] })),
    put('step', aStep({ id: 'rib-2', pieceId: 'rib', techniqueId: 'heavy', rank: 2 })),
    put('step', aStep({ id: 'jaw-1', pieceId: 'jaw', techniqueId: 'scribe', peopleMax: 2 })),
    put('step', aStep({ id: 'jaw-2', pieceId: 'jaw', techniqueId: 'needle' })),
    put('due', aDue()),
    put('material', aSolvent()),
    put('material', aMaterial()),
    put('batch', aBatch()),
    put('assignment', aTurn()),
    put('assignment', aTurn({ personId: 'ben', pieceId: 'rib', shiftId: 'afternoon' })),
    put('assignment', aTurn({ personId: 'leo', stepId: 'skull-1', placeId: 'b2', shiftId: 'afternoon' })),
    put(
      'assignment',
      aTurn({ personId: 'pia', pieceId: 'jacket1', placeId: 'b2', shiftId: 'afternoon', how: 'claimed' }),
    ),
    put('log', aLog({ id: 'log0', minutes: 90 })),
    put('entry', anEntry({ id: 'entry0' })),
    ...[TODAY, TOMORROW].map((id) =>
      put('day', { id, postedAt: NOW, postedBy: PersonId.parse('mira'), times: 1, note: '' }),
    ),
  )
}

const often: readonly OpKind[] = ['claim', 'seat', 'post', 'start', 'finish', 'unclaim', 'unseat', 'pause', 'resume']
const doctored: readonly OpKind[] = ['attend', 'signOff', 'setCeiling', 'escalate', 'correctLog', 'hold', 'shelve']

/** A history: `kinds` are the acts to draw from, those of the bench more often. */
export function histories(kinds: readonly OpKind[], maxLength = 40) {
  const kind = fc.oneof(
    { weight: 8, arbitrary: fc.constantFrom(...often) },
    { weight: 3, arbitrary: fc.constantFrom(...doctored) },
    { weight: 6, arbitrary: fc.constantFrom(...kinds) },
    { weight: 1, arbitrary: fc.constant('clock' as const) },
  )
  const move = fc.record({ kind, who: fc.nat(19), picks: fc.array(fc.nat(999), { minLength: 10, maxLength: 10 }) })
  // Without bias towards small numbers and short histories, which would hardly leave the first morning.
  return fc.noBias(fc.array(move, { minLength: 10, maxLength, size: 'max' }))
}
