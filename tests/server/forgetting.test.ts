// Private data that was taken out is nowhere any more: not in the records, not in the log as stored, not in the bytes of
// the data folder. On each store there is.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { isPrivateOf } from '#lib/ops'
import { kindNames, kinds, noRecords, put } from '#lib/words'
import { forgetful } from '../../server/forgetting.ts'
import { wholeHomes } from '../../server/held-records.ts'
import { labOps } from '../../server/lab-ops.ts'
import { sealed, verifyLog } from '../../server/sealing.ts'
import type { Store } from '../../server/store/contract.ts'
import { openLibsql } from '../../server/store/libsql.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { systemChance } from '../../server/system-world.ts'
import { openFake, seed, seedChanges } from '../kit/fake-lab.ts'
import { aForbid, aHold, aPerson } from '../kit/makers.ts'
import { dataFolder, storeWorker } from '../kit/store-worker.ts'

const LAB = 'fake'
const PATIENCE_MS = 20_000

async function everything(store: Store): Promise<string> {
  const homes = [...wholeHomes, 'archive'] as const
  const kept = await Promise.all(homes.map((home) => store.snapshot(LAB, home)))
  return JSON.stringify([await store.read(LAB, 0, 1000), kept])
}

/** How a forbid names her as the second. */
const WITH_HER = '"withPersonId":"vera"'

/** Everything private of vera, with words that stand nowhere else. */
const PLANTS = ['PLANT-phone', 'PLANT-older', 'PLANT-aunt', 'PLANT-note', 'PLANT-family', 'plant-lately', WITH_HER]

const stores: readonly [string, () => Promise<{ inner: Store; bytes: () => string }>][] = [
  ['memory', async () => ({ inner: memoryStore(), bytes: () => '' })],
  [
    'libsql',
    async () => {
      const folder = dataFolder()
      const inner = await openLibsql({ folder, worker: await storeWorker() })
      const bytes = () =>
        readdirSync(folder)
          .map((file) => readFileSync(join(folder, file), 'latin1'))
          .join('\n')
      return { inner, bytes }
    },
  ],
]

describe('taking private data out', () => {
  it.each(stores)(
    'leaves nothing of it in records and log of the %s store, and keeps the attribution',
    async (_name, open) => {
      const { inner, bytes } = await open()
      const store = sealed(inner, systemChance)
      await seed(store, seedChanges())
      // As a day's beginning leaves it, with the lists of others beside hers; and a forbid that names her second.
      const lately = (id: string, pieceId: string) =>
        put('lately', {
          id: aPerson({ id }).id,
          turns: [{ date: '2026-03-01', shiftId: aHold().shiftId, pieceId: aHold({ pieceId }).pieceId, appealPct: 50 }],
        })
      const wishes = [
        put('hold', aHold({ personId: 'vera' })),
        put('forbid', aForbid({ id: 'f1', personId: 'viktor', withPersonId: 'vera' })),
      ]
      const daily = [lately('vera', 'plant-lately'), lately('viktor', 'other-lately'), ...wishes]
      await store.append(LAB, 1, [
        {
          ...{ opId: 'begin-day', kind: 'beginDay', op: {}, personId: null, at: '2026-03-02T06:00:00.000Z' },
          ...{ changes: daily, subjects: labOps.subjects(noRecords(), {} as never, daily) },
        },
      ])
      const house = await openFake({ store: forgetful(store), ops: labOps, dayOp: null })
      const { clock } = house
      const mara = house.client('mara', 'board')
      // A store in a thread answers in real time, which a busy machine stretches; the house waits in its own.
      const pass = async (isOver: () => boolean) => {
        for (const until = Date.now() + PATIENCE_MS; !isOver() && Date.now() < until; ) {
          await clock.pass(20)
          await new Promise((resolve) => setTimeout(resolve, 2))
        }
      }
      await pass(() => mara.records().person.size > 0)
      const act = async (kind: string, body: Record<string, unknown>) => {
        const op = house.op(kind, body)
        mara.act(op)
        await pass(() => JSON.stringify(mara.heard).includes(op.id))
      }
      await act('setContact', { contact: { id: 'vera', phone: 'PLANT-older', email: '', emergency: '' } })
      await act('setContact', { contact: { id: 'vera', phone: 'PLANT-phone', email: '', emergency: 'PLANT-aunt' } })
      await act('writePrivateNote', {
        note: { id: 'n1', aboutPersonId: 'vera', aboutPieceId: null, text: 'PLANT-note' },
      })
      await act('editPerson', { personId: 'vera', patch: { familyName: 'PLANT-family' } })
      // Somebody else's stays.
      await act('setContact', { contact: { id: 'viktor', phone: 'PLANT-other', email: '', emergency: '' } })
      const before = await everything(inner)
      for (const text of PLANTS) expect(before).toContain(text)
      const length = await inner.head(LAB)

      await act('erasePerson', { personId: 'vera', as: 'volunteer' })
      const after = await everything(inner)
      for (const text of [...PLANTS, 'Family of vera']) expect([text, after.includes(text)]).toEqual([text, false])
      for (const text of ['PLANT-other', 'other-lately']) expect(after).toContain(text)
      expect(house.lab.records.person.get('vera')).toMatchObject({
        name: 'a volunteer',
        familyName: '',
        isActive: false,
      })
      // The log keeps its length, its ids and its order.
      expect(await inner.head(LAB)).toBe(length + 1)
      expect((await inner.read(LAB, 0, 1000)).map(({ seq }) => seq)).toEqual(
        Array.from({ length: length + 1 }, (_, n) => n + 1),
      )
      // Its chain still holds, and says how many entries were given other words.
      const { rewritten, broken } = await verifyLog(inner, LAB)
      expect(broken).toEqual([])
      expect(rewritten).toBeGreaterThan(3)
      // Not in free pages or the write-ahead log either, while it still runs.
      for (const text of PLANTS) expect([text, bytes().includes(text)]).toEqual([text, false])
      await house.close()
      await inner.close()
    },
  )

  it('takes each kind that names a person as the one it is about, but for what is kept on purpose', () => {
    // Who did what is the scientific record's, hours given are the lab's, health records are kept for decades.
    const kept = ['tally', 'assignment', 'work', 'log', 'incident', 'airSample', 'exposureMonth', 'fragment', 'pairTry']
    const named = kindNames.flatMap((kind) => {
      const fields = Object.keys(kinds[kind].shape).filter((field) => /personId$/i.test(field))
      return fields.map((field) => ({ kind, field }))
    })
    const goes = named.filter(({ kind, field }) => isPrivateOf(kind, { id: 'x', [field]: 'vera' } as never, 'vera'))
    const stays = named.filter((one) => !goes.includes(one)).map(({ kind }) => kind)
    expect(stays.filter((kind) => !kept.includes(kind))).toEqual([])
    expect(goes.filter(({ kind }) => kept.includes(kind))).toEqual([])
    expect(goes.length).toBeGreaterThan(8)
  })
})
