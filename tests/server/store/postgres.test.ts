// The store on PostgreSQL keeps the store's promises on a real server, lets one Talus write at a time, and gets over a
// database that crashes and comes back.
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { put } from '#lib/words'
import { SCHEMA } from '../../../server/store/postgres/layout.ts'
import { openLine } from '../../../server/store/postgres/line.ts'
import { openPostgres } from '../../../server/store/postgres.ts'
import { aJacketRecord } from '../../kit/fake-lab.ts'
import { type Postgres, startPostgres } from '../../kit/postgres.ts'
import { anEntry, storeSuite } from '../../suites/store.ts'

let postgres: Postgres
beforeAll(async () => {
  postgres = await startPostgres()
})
afterAll(() => postgres.stop('immediate'))

storeSuite('postgres', async () => {
  const url = await postgres.database()
  let store = await openPostgres({ url })
  return {
    store,
    reopen: async () => {
      await store.close()
      store = await openPostgres({ url })
      return store
    },
    end: () => store.close(),
  }
})

/** Of 50 ms each: a database on a busy machine takes its time to come back. */
const TRIES = 1000

/** Waits until a call succeeds, as whoever keeps edits does. */
async function until<T>(work: () => Promise<T> | T, isGood: (value: T) => boolean = () => true): Promise<T> {
  for (let tries = 0; ; tries++) {
    try {
      const value = await work()
      if (isGood(value)) return value
    } catch (error) {
      if (tries > TRIES) throw error
    }
    if (tries > TRIES) throw new Error('It never came to be.')
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

describe('postgres', () => {
  it('lets one Talus write at a time, and the next when that one ends', async () => {
    const url = await postgres.database()
    const first = await openPostgres({ url, address: 'http://one:3000' })
    await expect(openPostgres({ url })).rejects.toMatchObject({ code: 'in-use', address: 'http://one:3000' })
    await first.append('a', 0, [anEntry()])
    await first.close()
    await expect(first.append('a', 1, [anEntry()])).rejects.toMatchObject({ code: 'closed' })
    const second = await openPostgres({ url })
    expect(await second.head('a')).toBe(1)
    await second.close()
  })

  it('R8 has the database let go of a Talus that falls silent, from its first statement on', async () => {
    const line = await openLine({
      ...{ url: await postgres.database(), schema: SCHEMA, address: null, onLost: () => {} },
    })
    // Frozen now, before it has given a sign of life, it must not keep the lock.
    const [said] = await line.query<{ idle_session_timeout: string }>('SHOW idle_session_timeout')
    expect(said?.idle_session_timeout).toMatch(/^\d+s$/)
    await line.close()
  })

  it('R8 keeps nothing more for a Talus that another took over from', async () => {
    const url = await postgres.database()
    let lost = 0
    const first = await openPostgres({ url, onLost: () => lost++ })
    await first.append('a', 0, [anEntry()])
    // The first one's connection is cut, and the second is there before it comes back.
    await postgres.query(
      url,
      `SELECT pg_terminate_backend(pid) FROM pg_locks WHERE locktype = 'advisory' AND pid <> pg_backend_pid()`,
    )
    const second = await until(() => openPostgres({ url, address: 'http://two:3000' }))
    expect(await second.append('a', 1, [anEntry()])).toEqual({ ok: true, seq: 2 })
    await until(
      () => lost,
      (n) => n === 1,
    )
    expect(first.isWell()).toBe(false)
    await expect(first.append('a', 2, [anEntry()])).rejects.toMatchObject({ code: 'in-use' })
    await expect(first.door.put('s', { key: 'k', value: 1, expiresAt: null })).rejects.toMatchObject({ code: 'in-use' })
    await expect(first.appendText('a', 'text/x', [])).rejects.toMatchObject({ code: 'in-use' })
    expect(await second.head('a')).toBe(2)
    await first.close()
    await second.close()
  })

  it('R8 goes on by itself after its database crashed, with all that it acknowledged', async () => {
    const url = await postgres.database()
    const store = await openPostgres({ url })
    await store.append('a', 0, [anEntry({ changes: [put('jacket', aJacketRecord('j1'))] })])
    await postgres.stop('immediate')
    await expect(store.append('a', 1, [anEntry()])).rejects.toMatchObject({ name: 'StoreTrouble', code: 'io' })
    await until(
      () => store.isWell(),
      (isWell) => !isWell,
    )
    await expect(store.read('a', 0, 10)).rejects.toMatchObject({ name: 'StoreTrouble', code: 'io' })
    await postgres.start()
    await until(
      () => store.isWell(),
      (isWell) => isWell,
    )
    expect(await store.head('a')).toBe(1)
    expect((await store.snapshot('a', 'board')).records).toHaveLength(1)
    expect(await store.append('a', 1, [anEntry()])).toEqual({ ok: true, seq: 2 })
    await store.close()
  })

  it('refuses data of a newer Talus, and a database that says kept before it is', async () => {
    const url = await postgres.database()
    await (await openPostgres({ url })).close()
    await postgres.query(url, `UPDATE talus.about SET value = '99' WHERE key = 'layout'`)
    await expect(openPostgres({ url })).rejects.toMatchObject({ code: 'newer' })
    await expect(openPostgres({ url: url.replace(/lab\d+$/, 'none') })).rejects.toMatchObject({ code: 'io' })
  })
})
