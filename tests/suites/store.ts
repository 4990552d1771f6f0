// What every store promises, as tests: run by tests/server/store on each implementation there is. `open` gives a store
// over data of its own; `reopen` closes it and opens the same data again, or null where nothing outlives the process.
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { put, type RecordOf, remove, WORDS_VERSION } from '#lib/words'
import type { Entry, Store } from '../../server/store/contract.ts'
import { aJacketRecord, aRestingRecord } from '../kit/fake-lab.ts'

export interface StoreUnderTest {
  readonly store: Store
  readonly reopen: (() => Promise<Store>) | null
  readonly end: () => Promise<void>
}

let count = 0
/** An entry with an id of its own. */
export function anEntry(fields: Partial<Entry> = {}): Entry {
  count++
  return {
    opId: `op-${count}`,
    kind: 'mark',
    op: { kind: 'mark' },
    personId: 'vera',
    at: '2026-03-12T08:00:00.000Z',
    changes: [],
    subjects: [],
    ...fields,
  }
}

export function storeSuite(name: string, open: () => Promise<StoreUnderTest>): void {
  describe(`${name} store`, () => {
    let under: StoreUnderTest
    let store: Store
    let labs = 0
    const lab = () => `lab-${++labs}`
    beforeAll(async () => {
      under = await open()
      store = under.store
    })
    afterAll(() => under.end())

    it('lays other words into a kept entry and leaves its number, id and time', async () => {
      const name = lab()
      const [one, two] = [anEntry({ op: { text: 'SECRET' }, subjects: ['vera'] }), anEntry({ subjects: ['vera'] })]
      await store.append(name, 0, [one, two])
      const [kept] = await store.read(name, 0, 1)
      if (!kept) throw new Error('nothing was kept')
      const rewritten = [{ ...kept, op: null }]
      // All or nothing: what is not appended rewrites nothing either.
      expect(await store.append(name, 1, [anEntry()], rewritten)).toMatchObject({ ok: false })
      expect(JSON.stringify(await store.read(name, 0, 10))).toContain('SECRET')
      const three = anEntry()
      await store.append(name, 2, [three], rewritten)
      const all = await store.read(name, 0, 10)
      expect(all.map(({ seq, opId, at, op }) => [seq, opId, at, op])).toEqual([
        [1, one.opId, one.at, null],
        [2, two.opId, two.at, two.op],
        [3, three.opId, three.at, three.op],
      ])
      expect(JSON.stringify(await store.history(name, 'vera', null, 10))).not.toContain('SECRET')
    })

    it('S1 appends at the expected position only, and reads what was appended', async () => {
      const a = lab()
      expect(await store.head(a)).toBe(0)
      const [one, two, three] = [anEntry(), anEntry({ subjects: ['j1'] }), anEntry({ personId: null })]
      expect(await store.append(a, 0, [one, two])).toEqual({ ok: true, seq: 2 })
      expect(await store.append(a, 1, [three])).toEqual({ ok: false, why: 'position', seq: 2 })
      expect(await store.append(a, 2, [three])).toEqual({ ok: true, seq: 3 })
      expect(await store.head(a)).toBe(3)
      const kept = (entry: Entry, seq: number) => ({ ...entry, seq, words: WORDS_VERSION })
      expect(await store.read(a, 0, 100)).toEqual([kept(one, 1), kept(two, 2), kept(three, 3)])
      expect(await store.read(a, 1, 1)).toEqual([kept(two, 2)])
      expect(await store.read(a, 3, 100)).toEqual([])
      expect(await store.labs()).toContain(a)
    })

    it('S2 of two who append at one position exactly one succeeds', async () => {
      const a = lab()
      const results = await Promise.all(Array.from({ length: 8 }, () => store.append(a, 0, [anEntry()])))
      expect(results.filter(({ ok }) => ok)).toHaveLength(1)
      expect(await store.head(a)).toBe(1)
    })

    it('S3 takes no op twice, and then nothing of the batch', async () => {
      const a = lab()
      const [one, two] = [anEntry(), anEntry({ changes: [put('jacket', aJacketRecord('j1'))] })]
      await store.append(a, 0, [one])
      expect(await store.append(a, 1, [two, one])).toEqual({ ok: false, why: 'op-twice', opIds: [one.opId] })
      expect(await store.head(a)).toBe(1)
      expect((await store.snapshot(a, 'board')).records).toEqual([])
      // Another lab may have an op of the same id.
      expect(await store.append(lab(), 0, [one])).toMatchObject({ ok: true })
    })

    it('S4 lays the changes over the records of their homes', async () => {
      const a = lab()
      const entry: RecordOf<'entry'> = {
        id: 'e1',
        pieceId: aJacketRecord('j1').id,
        by: 'vera',
        at: '2026-03-12T08:00:00.000Z',
        kind: 'note',
        techniqueId: null,
        text: 'it’s “Évaux” \u{1F9B4} \' " \\',
        corrects: null,
      } as RecordOf<'entry'>
      const note = { id: 'n1', aboutPersonId: null, aboutPieceId: null, text: 'x', by: 'mara', at: entry.at }
      await store.append(a, 0, [
        anEntry({ changes: [put('jacket', aJacketRecord('j1')), put('jacket', aJacketRecord('j2'))] }),
        anEntry({ changes: [put('entry', entry), put('privateNote', note as RecordOf<'privateNote'>)] }),
        anEntry({ changes: [put('jacket', aJacketRecord('j2', { shelf: 'new' })), remove('jacket', 'j1')] }),
      ])
      const board = await store.snapshot(a, 'board')
      expect(board).toEqual({
        seq: 3,
        records: [{ kind: 'jacket', id: 'j2', words: WORDS_VERSION, record: aJacketRecord('j2', { shelf: 'new' }) }],
      })
      expect((await store.snapshot(a, 'sheet/j1')).records.map(({ record }) => record)).toEqual([entry])
      expect((await store.snapshot(a, 'sheet/j2')).records).toEqual([])
      expect((await store.snapshot(a, 'office')).records.map(({ id }) => id)).toEqual(['n1'])
      expect((await store.snapshot(a, 'board', 'j1')).records).toEqual([])
      expect((await store.snapshot(a, 'board', 'j2')).records).toHaveLength(1)
      expect(await store.snapshot(lab(), 'board')).toEqual({ seq: 0, records: [] })
    })

    it('gives all records of all homes page by page, each once, and the names of texts', async () => {
      const a = lab()
      const jackets = ['j1', 'j10', 'j2', 'j3'].map((id) => aJacketRecord(id))
      const note = {
        id: 'n1',
        aboutPersonId: null,
        aboutPieceId: null,
        text: 'x',
        by: 'mara',
        at: '2026-03-12T08:00:00.000Z',
      }
      await store.append(a, 0, [
        anEntry({
          changes: [
            ...jackets.map((one) => put('jacket', one)),
            put('privateNote', note as RecordOf<'privateNote'>),
            ...['r2', 'r1'].map((id) => put('resting', aRestingRecord(aJacketRecord(id)))),
          ],
        }),
      ])
      for (const limit of [1, 2, 3, 100]) {
        const found: string[] = []
        for (let page = await store.records(a, null, limit); page.length > 0; ) {
          found.push(...page.map(({ home, kind, id }) => `${home} ${kind} ${id}`))
          page = await store.records(a, page.at(-1) ?? null, limit)
        }
        expect(found).toEqual([
          ...['j1', 'j10', 'j2', 'j3'].map((id) => `board jacket ${id}`),
          ...['office privateNote n1', 'archive resting r1', 'archive resting r2'],
        ])
      }
      expect((await store.records(a, null, 1))[0]?.record).toEqual(jackets[0])
      expect(await store.records(lab(), null, 10)).toEqual([])
      expect(await store.texts(a)).toEqual([])
      await store.appendText(a, 'text/j2', [{ bytes: Uint8Array.of(1), client: 1, personId: 'vera' }])
      await store.compactText(a, 'text/j1', 0, { epoch: 'e', bytes: Uint8Array.of(2), holders: [] })
      expect(await store.texts(a)).toEqual(['text/j1', 'text/j2'])
    })

    it('S5 finds receipts by op, the latest ones, and history by subject', async () => {
      const a = lab()
      const entries = Array.from({ length: 10 }, (_, i) => anEntry({ subjects: i % 2 ? ['odd', 'all'] : ['all'] }))
      await store.append(a, 0, entries)
      const ids = entries.map(({ opId }) => opId)
      expect((await store.findOps(a, [ids[3] ?? '', 'unknown', ids[1] ?? ''])).map(({ seq }) => seq)).toEqual([4, 2])
      expect((await store.recentOps(a, 3)).map(({ opId }) => opId)).toEqual(ids.slice(-3))
      expect((await store.history(a, 'odd', null, 3)).map(({ seq }) => seq)).toEqual([10, 8, 6])
      expect((await store.history(a, 'odd', 6, 3)).map(({ seq }) => seq)).toEqual([4, 2])
      expect(await store.history(a, 'none', null, 3)).toEqual([])
    })

    it('S6 searches the archive by words, beginnings, numbers and kind, newest at rest first', async () => {
      const a = lab()
      const other = lab()
      const resting = ['2019/17', '2019/18', '2021/17', '2019/170'].map((number, i) =>
        aRestingRecord(
          aJacketRecord(`r${i}`, {
            fieldNumber: `TL-${number}`,
            contents: i === 1 ? 'Évaux skull' : 'ribs',
            locality: 'Upper quarry',
          }),
        ),
      )
      await store.append(
        a,
        0,
        resting.map((one) => anEntry({ changes: [put('resting', one)] })),
      )
      await store.append(other, 0, [anEntry({ changes: [put('resting', resting[0] as RecordOf<'resting'>)] })])
      const ask = async (text: string, more: object = {}, of = a) => {
        const { found, hasMore } = await store.search(of, { text, kind: null, limit: 10, offset: 0, ...more })
        return [...found.map(({ id }) => id), ...(hasMore ? ['more'] : [])]
      }
      expect(await ask('')).toEqual(['r3', 'r2', 'r1', 'r0'])
      expect(await ask('quarry')).toEqual(['r3', 'r2', 'r1', 'r0'])
      expect(await ask('qua upp')).toEqual(['r3', 'r2', 'r1', 'r0'])
      expect(await ask('evau')).toEqual(['r1'])
      expect(await ask('ÉVAUX SKULL')).toEqual(['r1'])
      expect(await ask('TL-2019/17')).toEqual(['r0', 'r3'])
      expect(await ask('tl 2019/17')).toEqual(['r3', 'r0'])
      expect(await ask('ribs', { kind: 'jacket' })).toEqual(['r3', 'r2', 'r0'])
      expect(await ask('ribs', { kind: 'specimen' })).toEqual([])
      expect(await ask('', { limit: 2 })).toEqual(['r3', 'r2', 'more'])
      expect(await ask('quarry', { limit: 2, offset: 2 })).toEqual(['r1', 'r0'])
      for (const hostile of ['"', 'a" OR "b', '* NEAR(', 'words:x', "'; DROP TABLE resting;--", '\u0000', '-'])
        await expect(ask(hostile)).resolves.toBeInstanceOf(Array)
      expect(await ask('skull', {}, other)).toEqual([])
      await store.append(a, 4, [
        anEntry({ changes: [remove('resting', 'r1')] }),
        anEntry({ changes: [put('resting', { ...(resting[0] as RecordOf<'resting'>), since: '2026-02-02' })] }),
      ])
      expect(await ask('evaux')).toEqual([])
      expect(await ask('2019')).toEqual(['r0', 'r3'])
      expect((await store.snapshot(a, 'archive', 'r0')).records).toMatchObject([{ record: { since: '2026-02-02' } }])
    })

    it('S7 keeps texts: updates in their order, folded into a base', async () => {
      const a = lab()
      const update = (n: number) => ({
        bytes: Uint8Array.of(n, n),
        client: n === 2 ? null : 4_000_000_000 + n,
        personId: 'vera',
      })
      expect(await store.loadText(a, 'text/j1')).toEqual({ base: null, updates: [], upTo: 0 })
      await store.appendText(a, 'text/j1', [update(1), update(2)])
      await store.appendText(a, 'text/j1', [update(3)])
      const plain = async () => {
        const { base, updates, upTo } = await store.loadText(a, 'text/j1')
        return {
          base: base && { ...base, bytes: [...base.bytes] },
          updates: updates.map((one) => ({ ...one, bytes: Uint8Array.from(one.bytes) })),
          upTo,
        }
      }
      expect(await plain()).toEqual({ base: null, updates: [update(1), update(2), update(3)], upTo: 3 })
      const holders = [[4_000_000_001, 'vera']] as const
      await store.compactText(a, 'text/j1', 2, { epoch: 'e', bytes: Uint8Array.of(9), holders })
      expect(await plain()).toEqual({ base: { epoch: 'e', bytes: [9], holders }, updates: [update(3)], upTo: 3 })
      await store.compactText(a, 'text/j1', 3, { epoch: 'e', bytes: Uint8Array.of(8), holders })
      await store.appendText(a, 'text/j1', [update(4)])
      expect(await plain()).toEqual({ base: { epoch: 'e', bytes: [8], holders }, updates: [update(4)], upTo: 4 })
      expect((await store.loadText(a, 'text/j2')).updates).toEqual([])
    })

    it('S8 keeps the door’s items until they expire, and lets one of two take one', async () => {
      const { door } = store
      await door.put('s', { key: 'b', value: { n: 1 }, expiresAt: 1000 })
      await door.put('s', { key: 'a', value: 'x', expiresAt: null })
      expect(await door.get('s', 'b', 999)).toEqual({ key: 'b', value: { n: 1 }, expiresAt: 1000 })
      expect(await door.get('s', 'b', 1000)).toBeNull()
      expect(await door.get('other', 'b', 0)).toBeNull()
      expect((await door.list('s', 999)).map(({ key }) => key)).toEqual(['a', 'b'])
      await door.put('s', { key: 'b', value: { n: 2 }, expiresAt: 2000 })
      const taken = await Promise.all([door.take('s', 'b', 5), door.take('s', 'b', 5)])
      expect(taken.filter((one) => one !== null)).toEqual([{ key: 'b', value: { n: 2 }, expiresAt: 2000 }])
      await door.put('s', { key: 'c', value: 0, expiresAt: 10 })
      await door.sweep(11)
      await door.remove('s', 'a')
      expect(await door.list('s', 0)).toEqual([])
    })

    it('S9 tells whoever listens of new positions, until they stop', async () => {
      const a = lab()
      const heard: number[] = []
      const stop = store.subscribe(a, (seq) => heard.push(seq))
      await store.append(a, 0, [anEntry(), anEntry()])
      await store.append(a, 0, [anEntry()])
      await new Promise((resolve) => setTimeout(resolve, 20))
      stop()
      await store.append(a, 2, [anEntry()])
      await new Promise((resolve) => setTimeout(resolve, 20))
      expect(heard).toEqual([2])
    })

    it('S10 has everything again after it was closed and opened', async () => {
      const a = lab()
      await store.append(a, 0, [
        anEntry({ opId: 'stays', subjects: ['j1'], changes: [put('jacket', aJacketRecord('j1'))] }),
      ])
      await store.appendText(a, 'text/j1', [{ bytes: Uint8Array.of(1), client: 1, personId: 'vera' }])
      await store.door.put('stay', { key: 'k', value: 1, expiresAt: null })
      if (!under.reopen) return
      store = await under.reopen()
      expect(await store.head(a)).toBe(1)
      expect((await store.snapshot(a, 'board')).records).toHaveLength(1)
      expect(await store.findOps(a, ['stays'])).toHaveLength(1)
      expect(await store.history(a, 'j1', null, 9)).toHaveLength(1)
      expect((await store.loadText(a, 'text/j1')).updates).toHaveLength(1)
      expect(await store.door.get('stay', 'k', 0)).toMatchObject({ value: 1 })
    })
  })
}
