// Materials, batches and clocks for tests, with only what matters said.
import type * as z from 'zod/mini'
import { Batch, Clock, Material } from '#lib/words'
import { NOW, TODAY } from './makers.ts'

type In<T extends z.ZodMiniType> = Partial<z.input<T>>

/** A resin that goes into acetone and may stay on a piece. */
export function aMaterial(over: In<typeof Material> = {}) {
  return Material.parse({
    ...{ id: 'resin', name: 'Resin', what: 'resin', allowedFor: ['contact'], testedOn: '2025-11-03', testedLot: '' },
    ...{ testNote: '', densityGMl: 1.15, solventIds: ['acetone'], isActive: true, note: '', ...over },
  })
}

export const aSolvent = (over: In<typeof Material> = {}) =>
  aMaterial({
    ...{ id: 'acetone', name: 'Acetone', what: 'solvent', allowedFor: [], testedOn: null, densityGMl: 0.786 },
    ...{ solventIds: [], ...over },
  })

/** Five per cent in acetone, made today. */
export function aBatch(over: In<typeof Batch> = {}) {
  return Batch.parse({
    ...{ id: 'batch1', number: 1, materialId: 'resin', lot: '', solventId: 'acetone', solventLot: '' },
    ...{ strength: { amount: 5, convention: 'wv' }, thinnedFrom: null, madeOn: TODAY, expiresOn: null },
    ...{ weighed: { resinG: 25, solventG: null, solventMl: null, volumeMl: 500 }, note: '', despite: '' },
    ...{ by: 'pia', at: NOW, ended: null, ...over },
  })
}

/** A batch as whoever makes it says it: without what the gate stamps. */
export function madeUp(over: In<typeof Batch> = {}) {
  const { number: _number, by: _by, at: _at, ended: _ended, ...batch } = aBatch({ id: 'batch9', ...over })
  return batch
}

/** A rinse of the skull from nine to eleven, as whoever begins it says it. */
export function aClock(over: In<typeof Clock> = {}) {
  const {
    by: _by,
    at: _at,
    ...clock
  } = Clock.parse({
    ...{ id: 'clock1', pieceId: 'skull', stepId: 'skull-1', techniqueId: 'needle', what: 'rinsing', about: '' },
    ...{ begun: { date: TODAY, time: '09:00' }, ends: { date: TODAY, time: '11:00' }, despite: '', next: [] },
    ...{ by: 'pia', at: NOW, ...over },
  })
  return clock
}
