// The log is a chain: whatever is changed in what was kept shows, and what may change (private words taken out, another
// server's entries between) does not. And the reads of private data, which are a chain beside it.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { put } from '#lib/words'
import { writeLog } from '../../server/audit.ts'
import { labsIn, readsLog, readsOf } from '../../server/reads.ts'
import { sealed, verifyLog } from '../../server/sealing.ts'
import { type KeptEntry, type Seal, type Store, StoreTrouble } from '../../server/store/contract.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { systemChance } from '../../server/system-world.ts'
import { fakeClock } from '../kit/fake-clock.ts'
import { aJacketRecord } from '../kit/fake-lab.ts'
import { dataFolder, storeWorker } from '../kit/store-worker.ts'
import { anEntry } from '../suites/store.ts'

const LAB = 'lab-a'
const marked = (shelf: string) =>
  anEntry({ op: { kind: 'mark', shelf }, changes: [put('jacket', aJacketRecord('j1', { shelf }))], subjects: ['j1'] })

/** Twelve entries in batches of three. */
async function filled(inner: Store): Promise<readonly KeptEntry[]> {
  const store = sealed(inner, systemChance)
  for (let n = 0; n < 4; n++) await store.append(LAB, n * 3, [marked(`a${n}`), marked(`b${n}`), marked(`c${n}`)])
  return inner.read(LAB, 0, 100)
}

function sealOf({ seal }: KeptEntry): Seal {
  if (!seal) throw new Error('not sealed')
  return seal
}

/** A store whose log reads as these entries. */
const reading = (entries: readonly KeptEntry[]): Store => ({
  ...memoryStore(),
  read: async (_lab, after, limit) => entries.filter(({ seq }) => seq > after).slice(0, limit),
})

type Harm = (entries: KeptEntry[], at: number) => KeptEntry[]
const at =
  (n: number, change: (entry: KeptEntry) => KeptEntry): Harm =>
  (entries) =>
    entries.map((entry, i) => (i === n ? change(entry) : entry))
const harms: Readonly<Record<string, (n: number) => Harm>> = {
  author: (n) => at(n, (entry) => ({ ...entry, personId: 'mallory' })),
  time: (n) => at(n, (entry) => ({ ...entry, at: '2020-01-01T00:00:00.000Z' })),
  kind: (n) => at(n, (entry) => ({ ...entry, kind: 'take' })),
  id: (n) => at(n, (entry) => ({ ...entry, opId: 'another' })),
  subjects: (n) => at(n, (entry) => ({ ...entry, subjects: [] })),
  words: (n) => at(n, (entry) => ({ ...entry, op: { kind: 'mark', shelf: 'elsewhere' } })),
  changes: (n) => at(n, (entry) => ({ ...entry, changes: [] })),
  'words taken out by hand': (n) => at(n, (entry) => ({ ...entry, op: null, seal: { ...sealOf(entry), salt: null } })),
  'words laid anew by hand': (n) =>
    at(n, (entry) => {
      const { salt, digest, link } = sealOf(entry)
      return { ...entry, seal: { salt: null, digest, link, now: { salt: salt ?? '', digest } } }
    }),
  'left out': (n) => (entries) => entries.filter((_, i) => i !== n),
  'left out, numbers closed up': (n) => (entries) =>
    entries.filter((_, i) => i !== n).map((entry, i) => ({ ...entry, seq: i + 1 })),
  'places changed': (n) => (entries) => {
    const [one, two] = [entries[n - 1], entries[n]]
    if (!one || !two) throw new Error('no such entries')
    return [...entries.slice(0, n - 1), { ...two, seq: one.seq }, { ...one, seq: two.seq }, ...entries.slice(n + 1)]
  },
}

describe('a sealed log', () => {
  it('shows each way in which what was kept is changed, wherever it is', async () => {
    const entries = await filled(memoryStore())
    expect((await verifyLog(reading(entries), LAB)).broken).toEqual([])
    await fc.assert(
      // Not the last: who cuts off the end leaves a chain that is whole, only shorter (see the exported copy).
      fc.asyncProperty(fc.constantFrom(...Object.keys(harms)), fc.integer({ min: 1, max: 10 }), async (how, n) => {
        const harmed = harms[how]?.(n)([...entries], n) ?? []
        const { broken } = await verifyLog(reading(harmed), LAB)
        expect(broken.length, how).toBeGreaterThan(0)
      }),
      { numRuns: 300 },
    )
  })

  it.each([
    ['memory', async () => memoryStore()],
    ['libsql', async () => openLibsql({ folder: dataFolder(), worker: await storeWorker() })],
  ] as const)('is whole in the %s store after two servers wrote into it by turns', async (_name, open) => {
    const inner = await open()
    const [one, two] = [sealed(inner, systemChance), sealed(inner, systemChance)]
    expect(await one.append(LAB, 0, [marked('x')])).toMatchObject({ ok: true })
    expect(await two.append(LAB, 0, [marked('late')])).toMatchObject({ ok: false })
    expect(await two.append(LAB, 1, [marked('y'), marked('z')])).toMatchObject({ ok: true })
    expect(await one.append(LAB, 3, [marked('é שלום 𐌰 "\\')])).toMatchObject({ ok: true })
    expect(await verifyLog(inner, LAB)).toMatchObject({ entries: 4, from: 1, broken: [] })
    await inner.close()
  })

  it('begins behind what was kept before there were links', async () => {
    const inner = memoryStore()
    await inner.append(LAB, 0, [marked('old'), marked('older')])
    await sealed(inner, systemChance).append(LAB, 2, [marked('new')])
    expect(await verifyLog(inner, LAB)).toMatchObject({ entries: 3, from: 3, broken: [] })
  })

  it('is exported without its words; an older file shows a history written anew or cut short', async () => {
    const inner = memoryStore()
    const kept = await filled(inner)
    const folder = mkdtempSync(join(tmpdir(), 'talus-log-'))
    try {
      const file = join(folder, 'log.jsonl')
      expect(await writeLog(inner, LAB, file)).toContain('12 changes')
      const lines = readFileSync(file, 'utf8').trim().split('\n')
      expect(lines).toHaveLength(12)
      expect(JSON.parse(lines[0] ?? '')).toMatchObject({ log: 'changes', seq: 1, personId: 'vera', kind: 'mark' })
      expect(lines.join()).not.toContain('"shelf"')
      expect(await writeLog(inner, LAB, file)).toContain('still stands')
      // Whole chains, both of them, but not this lab's.
      const anew = memoryStore()
      for (const [n, { seal: _, seq: __, words: ___, ...entry }] of kept.entries())
        await sealed(anew, systemChance).append(LAB, n, [n === 3 ? { ...entry, personId: 'mallory' } : entry])
      expect((await verifyLog(anew, LAB)).broken).toEqual([])
      await expect(writeLog(anew, LAB, file)).rejects.toThrow('is another or gone')
      await expect(writeLog(reading(kept.slice(0, 9)), LAB, file)).rejects.toThrow('entry 10 is another or gone')
      writeFileSync(file, 'something else')
      await expect(writeLog(inner, LAB, file)).rejects.toThrow('is no log of Talus (line 1)')
      expect(readFileSync(file, 'utf8')).toBe('something else')
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})

describe('the log of reads', () => {
  it('notes who saw what once in ten minutes, and once the store can again', async () => {
    let isFull = false
    const inner = memoryStore({
      before: (call) => {
        if (isFull && call === 'append') throw new StoreTrouble('full', 'by hand')
      },
    })
    const clock = fakeClock()
    const reads = readsLog(sealed(inner, systemChance), LAB, { clock, chance: systemChance, log: () => {} })
    reads.note('mara', 'safety', 'vera')
    reads.note('mara', 'safety', 'vera')
    isFull = true
    await clock.pass(0)
    reads.note('mara', 'office', null)
    await clock.pass(5000)
    isFull = false
    await clock.pass(5000)
    reads.note('mara', 'safety', 'vera')
    await clock.pass(11 * 60_000)
    reads.note('mara', 'safety', 'vera')
    await clock.pass(10)
    await reads.close()
    const kept = await inner.read(readsOf(LAB), 0, 100)
    expect(kept.map(({ personId, op }) => [personId, op])).toEqual([
      ['mara', { what: 'safety', about: 'vera' }],
      ['mara', { what: 'office', about: null }],
      ['mara', { what: 'safety', about: 'vera' }],
    ])
    expect((await verifyLog(inner, readsOf(LAB))).broken).toEqual([])
    // It is no lab of its own.
    expect(await labsIn(inner)).toEqual([])
  })
})
