// What stands in the demo lab's solvent cupboard: a short list with what each is allowed for, and the bottles in use. Names
// are those of the stuff, not of makers; tests, lots and dates are invented.
import { addDays } from '#lib/base'
import type { Change } from '#lib/words'
import { type Draft, instant, record } from './dice.ts'

const plain = { testedOn: null, testedLot: '', testNote: '', isActive: true, note: '', solventIds: [] as string[] }
const solvent = (id: string, name: string, densityGMl: number) =>
  record('material', { ...plain, id, name, what: 'solvent', allowedFor: [], densityGMl })

/** The list and five batches: one of them past its day, one thinned from another. */
export function demoMaterials(zone: string, today: string): readonly Change[] {
  const tested = { testedOn: addDays(today, -210), testNote: 'metal coupons, 28 days at 60 °C: no change' }
  const at = (daysAgo: number) => ({
    madeOn: addDays(today, -daysAgo),
    at: instant(zone, addDays(today, -daysAgo), 600),
    by: 'zosia',
    note: '',
    despite: '',
    ended: null,
  })
  const none = { resinG: null, solventG: null, solventMl: null, volumeMl: null }
  const bottle = (batch: Draft<'batch'>) => record('batch', batch)
  return [
    solvent('acetone', 'Acetone', 0.786),
    solvent('ethanol', 'Ethanol', 0.789),
    solvent('water', 'Water, deionised', 0.998),
    record('material', {
      ...{ ...plain, ...tested, id: 'acrylic', name: 'Acrylic resin', what: 'resin' },
      ...{ allowedFor: ['contact', 'enclosure'], testedLot: '24-118', densityGMl: 1.15 },
      solventIds: ['acetone', 'ethanol'],
    }),
    record('material', {
      ...{ ...plain, ...tested, id: 'butyral', name: 'Polyvinyl butyral', what: 'resin' },
      ...{ allowedFor: ['contact', 'enclosure'], testedLot: '7731', densityGMl: 1.1, solventIds: ['ethanol'] },
    }),
    record('material', {
      ...{ ...plain, id: 'cyclododecane', name: 'Cyclododecane', what: 'resin', allowedFor: ['temporary'] },
      ...{ densityGMl: null, note: 'Goes away by itself in weeks; hold it off the microscope.' },
    }),
    record('material', {
      ...{ ...plain, ...tested, id: 'bulked', name: 'Acrylic putty, glass bubbles', what: 'gap filler' },
      ...{ allowedFor: ['contact'], densityGMl: null },
    }),
    record('material', {
      ...{ ...plain, id: 'acetic', name: 'Acetic acid', what: 'acid', allowedFor: [], densityGMl: 1.049 },
      solventIds: ['water'],
    }),
    bottle({
      ...{ id: 'batch-31', number: 31, materialId: 'acrylic', lot: '24-118', solventId: 'acetone', solventLot: '' },
      ...{ strength: { amount: 20, convention: 'wv' }, thinnedFrom: null, expiresOn: addDays(today, 130), ...at(50) },
      weighed: { ...none, resinG: 100.2, volumeMl: 500 },
    }),
    bottle({
      ...{ id: 'batch-32', number: 32, materialId: 'butyral', lot: '7731', solventId: 'ethanol', solventLot: '' },
      ...{ strength: { amount: 5, convention: 'ww' }, thinnedFrom: null, expiresOn: addDays(today, -6), ...at(190) },
      weighed: { ...none, resinG: 20.1, solventG: 380 },
    }),
    bottle({
      ...{ id: 'batch-34', number: 34, materialId: 'acrylic', lot: '24-118', solventId: 'acetone', solventLot: '' },
      ...{ strength: { amount: 5, convention: 'wv' }, expiresOn: addDays(today, 170), ...at(9) },
      ...{ thinnedFrom: { batchId: 'batch-31', stockMl: 125, stockG: null }, weighed: { ...none, solventMl: 375 } },
    }),
    bottle({
      ...{ id: 'batch-35', number: 35, materialId: 'acrylic', lot: '24-118', solventId: 'acetone', solventLot: '' },
      ...{ strength: { amount: 72, convention: 'per100ml' }, thinnedFrom: null, expiresOn: addDays(today, 80) },
      ...{ ...at(6), weighed: { ...none, resinG: 72, solventMl: 100 } },
    }),
    bottle({
      ...{ id: 'batch-36', number: 36, materialId: 'acetic', lot: '', solventId: 'water', solventLot: '' },
      ...{ strength: { amount: 5, convention: 'wv' }, thinnedFrom: null, expiresOn: null, ...at(2) },
      weighed: { ...none, resinG: 1000, volumeMl: 20000 },
    }),
  ]
}

/** Something that dries since this morning until noon: on the first specimen that is being joined or stable. */
export function demoClocks(changes: readonly Change[], zone: string, today: string): readonly Change[] {
  const drying = changes.find(
    (one) => one.kind === 'specimen' && (one.record?.stage === 'stabilised' || one.record?.stage === 'joining'),
  )
  if (!drying) return []
  return [
    record('clock', {
      ...{ id: 'demo-drying', pieceId: drying.id, stepId: null, techniqueId: null, what: 'drying' },
      ...{ about: 'second coat', begun: { date: today, time: '08:40' }, ends: { date: today, time: '12:00' } },
      ...{ despite: '', next: [], by: 'zosia', at: instant(zone, today, 520) },
    }),
  ]
}
