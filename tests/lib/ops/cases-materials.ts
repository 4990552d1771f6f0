// One case for each act on the list of materials and on batches.
import { put } from '#lib/words'
import { TODAY, TOMORROW } from '../../kit/makers.ts'
import { aBatch, aMaterial, aSolvent, madeUp } from '../../kit/makers-materials.ts'
import type { Case } from './case-parts.ts'

const lab = [put('material', aSolvent()), put('material', aMaterial()), put('batch', aBatch())]
const ended = put('batch', aBatch({ ended: { why: 'used up', on: TODAY, by: 'pia' } }))
const water = put('material', aSolvent({ id: 'water', name: 'Water' }))
const thinned = { thinnedFrom: { batchId: 'batch1', stockMl: 100, stockG: null } }
const percent = (amount: number, convention: 'wv' | 'ww' = 'wv') => ({ strength: { amount, convention } })

export const materialCases = {
  setMaterial: {
    who: 'pia',
    lab,
    good: { material: aMaterial({ allowedFor: ['contact', 'enclosure'] }) },
    bad: [
      ['O material-name-taken', { material: aMaterial({ id: 'resin2' }) }],
      ['O unknown-solvent', { material: aMaterial({ solventIds: ['resin'] }) }],
      ['O material-changed', { material: aMaterial({ what: 'adhesive' }) }],
    ],
  },
  makeBatch: {
    who: 'ana',
    lab,
    good: { batch: madeUp({ ...thinned, ...percent(2) }) },
    bad: [
      ['R6 only-added', { batch: madeUp({ id: 'batch1' }) }],
      ['O unknown-material', { batch: madeUp({ materialId: 'none' }) }],
      ['O unknown-material', { batch: madeUp() }, [put('material', aMaterial({ isActive: false }))]],
      ['O unknown-solvent', { batch: madeUp({ solventId: 'resin' }) }],
      ['O not-yet', { batch: madeUp({ madeOn: TOMORROW }) }],
      ['O expires-before', { batch: madeUp({ expiresOn: '2026-01-01' }) }],
      ['O too-strong', { batch: madeUp(percent(101, 'ww')) }],
      ['O unknown-batch', { batch: madeUp({ thinnedFrom: { batchId: 'none', stockMl: 1, stockG: null } }) }],
      ['O thinned-other', { batch: madeUp({ ...thinned, ...percent(2, 'ww') }) }],
      ['O not-thinner', { batch: madeUp({ ...thinned, ...percent(5) }) }],
      ['O solvent-unsuited', { batch: madeUp({ solventId: 'water' }) }, [water]],
      ['O lot-untested', { batch: madeUp({ lot: '7' }) }, [put('material', aMaterial({ testedLot: '6' }))]],
      [
        'O batch-expired',
        { batch: madeUp({ ...thinned, ...percent(2) }) },
        [put('batch', aBatch({ madeOn: '2025-01-01', expiresOn: '2026-01-01' }))],
      ],
    ],
  },
  endBatch: {
    who: 'ana',
    lab,
    good: { batchId: 'batch1', why: 'used up' },
    bad: [
      ['O unknown-batch', { batchId: 'none', why: 'used up' }],
      ['O as-it-is', { batchId: 'batch1', why: null }],
      ['O as-it-is', { batchId: 'batch1', why: 'thrown away' }, [ended]],
    ],
  },
} satisfies Readonly<Record<string, Case>>
