// A lab goes from the embedded store into PostgreSQL, from there into a copy's file, and is the same lab everywhere.
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { put } from '#lib/words'
import { forgetful } from '../../../server/forgetting.ts'
import { foundDemo } from '../../../server/found.ts'
import { logsOf } from '../../../server/reads.ts'
import { sealed, verifyLog } from '../../../server/sealing.ts'
import { carry } from '../../../server/store/carry.ts'
import type { Store } from '../../../server/store/contract.ts'
import { openLibsql } from '../../../server/store/libsql.ts'
import { openPostgres } from '../../../server/store/postgres.ts'
import { systemChance, systemClock } from '../../../server/system-world.ts'
import { aJacketRecord, aRestingRecord } from '../../kit/fake-lab.ts'
import { type Postgres, startPostgres } from '../../kit/postgres.ts'
import { dataFolder, storeWorker } from '../../kit/store-worker.ts'
import { anEntry } from '../../suites/store.ts'

let postgres: Postgres
beforeAll(async () => {
  postgres = await startPostgres()
})
afterAll(() => postgres.stop('immediate'))

/** Everything that the contract gives out of a lab and its door. */
async function wholeOf(store: Store, lab: string) {
  const entries = (await Promise.all(logsOf(lab).map(([, name]) => store.read(name, 0, 100_000)))).flat()
  const homes = ['board', 'office', 'safety', 'forecasts', 'archive', 'sheet/j1'] as const
  const records = []
  for (const home of homes)
    records.push(
      (await store.snapshot(lab, home)).records.toSorted((a, b) =>
        `${a.kind} ${a.id}` < `${b.kind} ${b.id}` ? -1 : 1,
      ),
    )
  const ids = async (text: string) =>
    (await store.search(lab, { text, kind: null, limit: 50, offset: 0 })).found.map(({ id }) => id)
  return {
    labs: await store.labs(),
    entries,
    records,
    receipts: await store.recentOps(lab, 1000),
    history: (await store.history(lab, 'vera', null, 100)).map(({ opId }) => opId),
    found: [await ids(''), await ids('evaux'), await ids('TL-9'), await ids('skull rib')],
    text: await store.loadText(lab, 'text/j1'),
    door: await store.door.list('session', 0),
    chains: await Promise.all(logsOf(lab).map(([, name]) => verifyLog(store, name))),
  }
}

it('R8 a lab moved into PostgreSQL and out of it again is the same lab, word for word', async () => {
  const worker = await storeWorker()
  const plain = await openLibsql({ folder: dataFolder(), worker })
  const store = forgetful(sealed(plain, systemChance))
  const lab = await foundDemo(store, { clock: systemClock, chance: systemChance }, 'Europe/Lisbon', 1)
  const [, reads] = logsOf(lab)
  const found = await store.head(lab)
  const resting = (id: string, contents: string) =>
    aRestingRecord(aJacketRecord(id, { fieldNumber: `TL-${id}`, contents }))
  await store.append(lab, found, [
    anEntry({
      changes: [put('resting', resting('8', 'Évaux skull')), put('resting', resting('9', 'skull, ribs'))],
      subjects: ['vera', 'vera'],
    }),
    anEntry({ op: { text: 'it’s “Évaux” \u{1F9B4} \u0000 \ud800' }, subjects: ['vera'] }),
  ])
  // Resting again, so that the order is not that of the ids.
  await store.append(lab, found + 2, [anEntry({ changes: [put('resting', resting('8', 'Évaux skull again'))] })])
  await store.append(reads[1], 0, [anEntry({ kind: 'saw', op: { what: 'office', about: null } })])
  const update = (n: number) => ({
    bytes: Uint8Array.of(0, n, 255),
    client: n === 2 ? null : 4_000_000_000 + n,
    personId: 'vera',
  })
  await store.appendText(lab, 'text/j1', [1, 2, 3, 4].map(update))
  await store.compactText(lab, 'text/j1', 2, {
    epoch: 'e',
    bytes: Uint8Array.of(7, 0),
    holders: [[4_000_000_001, 'vera']],
  })
  await store.door.put('session', { key: 'k', value: { a: 'ü' }, expiresAt: Date.now() + 1e6 })
  await store.door.put('session', { key: 'l', value: null, expiresAt: null })
  const before = await wholeOf(store, lab)
  expect(before.found).toEqual([['8', '9', ...(before.found[0] ?? []).slice(2)], ['8'], ['9'], ['9']])
  expect(before.chains.map(({ broken }) => broken)).toEqual([[], []])

  const url = await postgres.database()
  const database = await openPostgres({ url, worker })
  const rows = await carry(plain.portable, database.portable)
  expect(rows).toBeGreaterThan(before.entries.length)
  expect(await wholeOf(database, lab)).toEqual(before)
  // A second time there is something there already.
  await expect(carry(plain.portable, database.portable)).rejects.toMatchObject({ name: 'StoreTrouble' })
  await plain.close()

  // It goes on there, and a copy of it is a data file of the embedded store.
  expect(
    await database.append(lab, found + 3, [
      anEntry({ changes: [put('resting', resting('7', 'one more'))], subjects: ['vera'] }),
    ]),
  ).toMatchObject({ ok: true })
  const now = await wholeOf(database, lab)
  const folder = dataFolder()
  await database.backup(join(folder, 'talus.db'))
  const copy = await openLibsql({ folder, worker })
  expect(await wholeOf(copy, lab)).toEqual(now)
  expect(
    await copy.append(lab, found + 4, [anEntry({ changes: [put('resting', resting('6', 'and one'))] })]),
  ).toMatchObject({ ok: true })
  expect((await copy.search(lab, { text: '', kind: null, limit: 2, offset: 0 })).found.map(({ id }) => id)).toEqual([
    '6',
    '7',
  ])
  await copy.close()
  await database.close()
})

it('R8 a move that arrives changed keeps nothing', async () => {
  const worker = await storeWorker()
  const from = await openLibsql({ folder: dataFolder(), worker })
  await from.append('a', 0, [anEntry(), anEntry({ changes: [put('jacket', aJacketRecord('j1'))] })])
  const url = await postgres.database()
  const to = await openPostgres({ url, worker })
  const lossy = {
    ...to.portable,
    add: (...[table, lab, rows]: Parameters<typeof to.portable.add>) =>
      to.portable.add(table, lab, rows.slice(table === 'record' ? 1 : 0)),
  }
  await expect(carry(from.portable, lossy)).rejects.toThrow('The source is untouched')
  expect(await to.labs()).toEqual([])
  expect(await carry(from.portable, to.portable)).toBe(4)
  await to.close()
  await from.close()
})
