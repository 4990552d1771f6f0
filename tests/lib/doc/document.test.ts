// Records in a Yjs document, and records of older versions.
import { describe, expect, it } from 'vitest'
import * as Y from 'yjs'
import { migrate, observe, readAll, readMeta, weigh, writeChanges } from '#lib/doc'
import { type Change, noRecords, put, remove, WORDS_VERSION, withChanges } from '#lib/words'
import { aJacket, aPerson } from '../../kit/makers.ts'

const meta = { epoch: 'e', seq: 1, words: WORDS_VERSION }

describe('a document', () => {
  it('reads as the records that were written, with what it says about itself', () => {
    const doc = new Y.Doc()
    const changes = [put('jacket', aJacket({ id: 'j1' })), put('person', aPerson({ id: 'ana' }))]
    expect(readMeta(doc)).toBeNull()
    writeChanges(doc, changes, meta)
    expect(readAll(doc)).toEqual(withChanges(noRecords(), changes))
    expect(readMeta(doc)).toEqual(meta)
    writeChanges(doc, [remove('jacket', 'j1'), remove('jacket', 'never-there')], { seq: 2 })
    expect(readAll(doc).jacket.size).toBe(0)
    expect(readMeta(doc)?.seq).toBe(2)
  })

  it('leaves as one update a batch, and reads the same elsewhere', () => {
    const [doc, copy] = [new Y.Doc(), new Y.Doc()]
    const updates: Uint8Array[] = []
    doc.on('update', (update: Uint8Array) => updates.push(update))
    writeChanges(doc, [put('jacket', aJacket({ id: 'j1' })), put('jacket', aJacket({ id: 'j2' }))], meta)
    writeChanges(doc, [], { seq: 1 })
    expect(updates).toHaveLength(1)
    for (const update of updates) Y.applyUpdate(copy, update)
    expect(readAll(copy)).toEqual(readAll(doc))
  })

  it('calls back once a batch with the records it touched, until told to stop', () => {
    const doc = new Y.Doc()
    const seen: (readonly Change[])[] = []
    const stop = observe(doc, (changes) => seen.push(changes))
    const jacket = put('jacket', aJacket({ id: 'j1' }))
    writeChanges(doc, [jacket, put('person', aPerson({ id: 'ana' }))], meta)
    writeChanges(doc, [], { seq: 5 })
    writeChanges(doc, [remove('jacket', 'j1')], { seq: 6 })
    stop()
    writeChanges(doc, [jacket], { seq: 7 })
    expect(seen).toHaveLength(2)
    expect(seen[0]).toHaveLength(2)
    expect(seen[0]).toContainEqual(jacket)
    expect(seen[1]).toEqual([remove('jacket', 'j1')])
  })

  it('weighs its past against what lives', () => {
    const doc = new Y.Doc()
    for (let i = 0; i < 100; i++)
      writeChanges(doc, [put('jacket', aJacket({ id: 'j1', shelf: `${i}` })), put('jacket', aJacket({ id: 'j2' }))], {
        seq: i,
      })
    expect(weigh(doc).live).toBe(3)
    expect(weigh(doc).structs).toBeGreaterThan(200)
  })
})

describe('a record of an older version', () => {
  const steps = [
    {
      from: 1,
      step: (kind: string, record: object) => (kind === 'jacket' ? { ...record, colour: 'grey' } : { ...record }),
    },
    { from: 2, step: (_: string, record: object) => ({ ...record, again: true }) },
  ]

  it('becomes one of today, step by step', () => {
    expect(migrate('jacket', { id: 'a' }, 1, { steps, to: 3 })).toEqual({ id: 'a', colour: 'grey', again: true })
    expect(migrate('jacket', { id: 'a' }, 2, { steps, to: 3 })).toEqual({ id: 'a', again: true })
    expect(migrate('jacket', { id: 'a' }, 3, { steps, to: 3 })).toEqual({ id: 'a' })
    const today = aJacket({ id: 'j1' })
    expect(migrate('jacket', today, WORDS_VERSION)).toBe(today)
  })

  it('is refused when it is newer than this program, or when no way leads from it', () => {
    expect(() => migrate('jacket', {}, 4, { steps, to: 3 })).toThrow('newer')
    expect(() => migrate('jacket', {}, 0, { steps, to: 3 })).toThrow('No way from words 0')
  })
})
