// What is asked about before something is put on a piece, and what the record keeps of it.
import { expect, test } from 'vitest'
import { type Change, put } from '#lib/words'
import { aFragment, aLab, aSmallLab, aSpecimen, aStep, aTechnique, aTurn, aWork, NOW, TODAY } from '../../kit/makers.ts'
import { aBatch, aMaterial, aSolvent, madeUp } from '../../kit/makers-materials.ts'
import { act } from '../../kit/makers-ops.ts'

const bottles = [put('material', aSolvent()), put('material', aMaterial()), put('batch', aBatch())]
const labWith = (...more: readonly Change[]) => aSmallLab(...bottles, ...more)
const soaked = {
  kind: 'write',
  entryId: 'e9',
  pieceId: 'skull',
  entryKind: 'consolidant',
  techniqueId: null,
  text: 'two coats',
} as const
const sampled = (sampling: 'wanted' | 'taken' | 'not wanted') => put('specimen', aSpecimen({ sampling }))

test('O a consolidant is asked about until samples are taken, not wanted, or a reason is given', () => {
  const write = { ...soaked, batchId: 'batch1' }
  expect(act(labWith(), 'pia', write).codes).toEqual(['O samples-unsaid'])
  expect(act(labWith(sampled('wanted')), 'pia', write).codes).toEqual(['O samples-first'])
  // A jar that is no batch of the lab goes into the bone all the same.
  expect(act(labWith(sampled('wanted')), 'pia', soaked).codes).toEqual(['O samples-first'])
  expect(act(labWith(sampled('taken')), 'pia', write).codes).toEqual([])
  expect(act(labWith(sampled('not wanted')), 'pia', write).codes).toEqual([])
  const sample = { ...soaked, entryId: 'e8', entryKind: 'sample' } as const
  expect(act(act(labWith(), 'pia', sample).records, 'pia', write).codes).toEqual([])
  // One was taken; whether more are wanted is for whoever wanted them to say.
  const one = act(labWith(sampled('wanted')), 'pia', sample).records
  expect(act(one, 'pia', write).codes).toEqual(['O samples-first'])
  const done = act(labWith(sampled('wanted')), 'pia', { ...write, despite: ' it crumbles in the hand ' })
  expect(done.records.entry.get('e9')?.detail).toEqual({
    jar: {
      ...{ batchId: 'batch1', number: 1, material: 'Resin', lot: '', solvent: 'Acetone' },
      strength: { amount: 5, convention: 'wv' },
    },
    despite: 'it crumbles in the hand',
  })
  // Whatever else goes on is not soaked in.
  expect(act(labWith(sampled('wanted')), 'pia', { ...write, entryKind: 'adhesive' }).codes).toEqual([])
})

test('O a batch is asked about from the day after its last on, and what may not stay on a piece always', () => {
  const glued = { ...soaked, entryKind: 'adhesive', batchId: 'batch1' } as const
  const until = (expiresOn: string) => put('batch', aBatch({ madeOn: '2026-01-01', expiresOn }))
  expect(act(labWith(until(TODAY)), 'pia', glued).codes).toEqual([])
  expect(act(labWith(until('2026-01-02')), 'pia', glued).codes).toEqual(['O batch-expired'])
  expect(act(labWith(until('2026-01-02')), 'pia', { ...glued, despite: 'still runs' }).codes).toEqual([])
  const inBox = put('material', aMaterial({ allowedFor: ['enclosure', 'temporary'] }))
  expect(act(labWith(inBox), 'pia', glued).codes).toEqual(['O not-for-contact'])
  expect(act(labWith(), 'pia', { ...glued, batchId: 'none', despite: 'why not' }).codes).toEqual(['O unknown-batch'])
})

test('O finishing a step and gluing a join name their batch and are asked the same', () => {
  const soaking = aTechnique({ id: 'soak', force: null, group: 'consolidating' })
  const at = labWith(
    put('lab', aLab({ techniques: [aTechnique(), soaking] })),
    put('step', aStep({ techniqueId: 'soak' })),
    put('assignment', aTurn()),
    put('work', aWork({ techniqueId: 'soak' })),
  )
  const finish = {
    kind: 'finish',
    ...{ workId: 'work1', logId: 'l9', minutes: 5, runningMinutes: 0, note: '', stepDone: false },
    ...{ shelf: null, batchId: 'batch1' },
  } as const
  expect(act(at, 'ana', finish).codes).toEqual(['O samples-unsaid'])
  const done = act(at, 'ana', { ...finish, despite: 'none are wanted' })
  expect(done.records.log.get('l9')).toMatchObject({ jar: { number: 1 }, despite: 'none are wanted' })

  const { pieceId, personId: by } = aTurn()
  const tray = labWith(
    put('fragment', aFragment({ number: 1 })),
    put('fragment', aFragment({ number: 2 })),
    put('pairTry', { id: 't1', pieceId, pair: [1, 2], result: 'fit', by, at: NOW }),
    put('batch', aBatch({ madeOn: '2026-01-01', expiresOn: '2026-01-02' })),
  )
  const glue = {
    kind: 'joinPair',
    ...{ joinId: 'j9', pieceId: 'skull', pair: [1, 2], state: 'glued', adhesive: '' },
    ...{ batchId: 'batch1', curedAt: null },
  } as const
  expect(act(tray, 'pia', glue).codes).toEqual(['O batch-expired'])
  const joined = act(tray, 'pia', { ...glue, despite: 'tried on a scrap' }).records.join.get('j9')
  expect(joined).toMatchObject({
    adhesive: 'Resin',
    batchId: 'batch1',
    jar: { number: 1 },
    despite: 'tried on a scrap',
  })
})

test('O batches are counted, and what is unusual in making one is answered by a reason that stays', () => {
  const water = put('material', aSolvent({ id: 'water', name: 'Water' }))
  const made = act(labWith(water, put('batch', aBatch({ id: 'old', number: 41 }))), 'ana', {
    kind: 'makeBatch',
    batch: madeUp({ solventId: 'water', despite: 'a trial' }),
  })
  expect(made.records.batch.get('batch9')).toMatchObject({ number: 42, by: 'ana', ended: null, despite: 'a trial' })
})
